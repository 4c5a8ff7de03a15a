// What the house and its proposals cost, and what zones would.
#pragma once

#include "solver/questions/bill.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// One way of controlling the floor loops.
struct ControlChoice {
    std::string what;
    std::vector<BillLine> lines;
    double cost = 0.0;
    double hours = 0.0;
};

struct CostAnswer {
    std::string house;
    networks::TextForm form;
    std::string currency;               ///< empty: relative figures
    bool stated = false;                ///< the file has a list of its own
    std::vector<Bill> bills;            ///< as found, then each proposal
    std::vector<ControlChoice> choices; ///< for the loops of the house as found; cheapest first
    std::vector<std::string> cautions;
    int loops = 0;
    int loop_rooms = 0;
};

/// Bills of the house and its proposals, and the choice for its loops between an actuator on each
/// with a thermostat in each room, and loops balanced once and left open behind one modulating
/// mixer with its pump, or on the source's own weather curve.
CostAnswer cost(const networks::House &house);

} // namespace headroom::solver
