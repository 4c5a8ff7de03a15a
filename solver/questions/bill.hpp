// What a house is made of, counted and priced.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct BillLine {
    std::string group; ///< "pipe", "fittings", ..., "work"
    std::string what;
    std::string unit; ///< "m", "l" or empty for pieces
    double quantity = 0.0;
    double there = 0.0;         ///< of it, what stands in the house already
    std::optional<double> each; ///< nothing where the list has no such figure
    bool invented = true;       ///< the figure is not the file's
    double hours_each = 0.0;    ///< of work alone; a fitted part's are in its price
    bool redone = false;        ///< by every change: setting to work

    double to_buy() const;
    double cost() const;
    double hours() const;
};

struct Bill {
    std::string name; ///< "as found" or the proposal's
    std::vector<BillLine> lines;
    double cost = 0.0;       ///< of what is not there yet, with work and removals
    double hours = 0.0;      ///< of work, where it is known
    double whole_cost = 0.0; ///< were nothing there
    std::vector<std::string> unpriced;
};

/// Counts a laid house: metres of each pipe, fittings, valves, loop ports, pumps, mixers, header,
/// radiators by their output at 75/65/20, glycol, and the work. What the file calls existing, with
/// the parts and fittings of an existing run, the header at such a run, the source and its
/// circulator, counts as there. Prices are House::prices; its hour turns work into hours.
Bill bill_of(const networks::House &house);

/// The bill of a proposal: what stands in the base's house is there, what of it the proposal does
/// not use is taken out (a pump, mixer, header, valve or radiator, at the price of removal), and
/// balancing and setting to work are done anew.
Bill bill_of_proposal(const Bill &base, const networks::Proposal &proposal);

} // namespace headroom::solver
