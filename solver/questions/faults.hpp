// Single faults a house may have, each with one parameter.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/settings.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// A part of the house that may not be as drawn.
struct FaultyPart {
    enum class Kind { Emitter, Run, Pump };
    Kind kind;
    std::size_t
        index; ///< into House::emitters or House::runs; of a pump: its run + 1, the source's 0
    auto operator<=>(const FaultyPart &) const = default;
};

/// Its parameter u is the logarithm of a factor: 0 is as drawn.
struct Fault {
    enum class Way { Length, AddedLoss, ValveOpened, PumpSpeed };
    FaultyPart part;
    Way way;
    double least, most; ///< of u
    /// AddedLoss: what the part loses as drawn, so that e^u - 1 of it is added.
    double drawn_kv_m3_h = 0.0; ///< of an emitter
    double drawn_zeta = 0.0;    ///< of a run
};

/// Every single fault that could show, given the house as drawn, solved.
std::vector<Fault> possible_faults(const networks::House &house, const SolvedHouse &drawn);

networks::House with_fault(networks::House house, const Fault &fault, double u);

/// Kv of an emitter's balancing valve fully open, and where it stands (0 shut).
double open_kv_m3_h(const networks::House &house, const networks::Emitter &emitter);
double present_kv_m3_h(const networks::House &house, const networks::Emitter &emitter);

/// The part's name, "`kitchen 2`" or the run's or "source".
std::string part_name(const networks::House &house, const FaultyPart &part);
/// "loop `kitchen 2`", "pump of run `riser`".
std::string part_title(const networks::House &house, const FaultyPart &part);
/// What is the matter with it: more loss than drawn, or less.
std::string complaint_of(const networks::House &house, const FaultyPart &part, bool more);
/// The fault as fitted, in figures.
std::string fault_words(const networks::House &house, const Fault &fault, double u);

} // namespace headroom::solver
