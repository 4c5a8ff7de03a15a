// A house balanced: each pump turned down to what its own emitters need, every valve set.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/settings.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct BalancedPump {
    Circuit circuit;
    std::optional<std::size_t> index; ///< into House::emitters, where the pump has emitters
    std::vector<std::size_t> blocked; ///< of its emitters: those that no head drives
    bool driven = true;               ///< it can drive all the others
    double flow_kg_s = 0.0;
    double flow_m3_s = 0.0;
    double needed_pa = 0.0;
    double available_pa = 0.0; ///< on its highest curve, at that flow
    double found_pa = 0.0;     ///< as the file sets it, at that flow
    double set_pa = 0.0;
    networks::Pump as_set;
};

struct Balanced {
    Outcome outcome;
    std::string state;     ///< the state that was not solved, if one was not
    networks::House house; ///< as found, of the scope asked for
    std::vector<BalancedPump> pumps;
    Settings settings;
};

/// Balances `house` as it is built. The rule: an emitter belongs to the pump nearest to it up the
/// stream; that pump is turned down, in its own mode, until the emitter that needs it most has
/// nothing to spare, and the valves of the others take their surplus. A pump without emitters of
/// its own (before a header) stays as the file has it. Pumps that feed each other are settled in
/// turn, twice round. Design flows must be known (size.hpp).
Balanced balanced(const networks::House &house);

/// Emitters in the order to set them: pump by pump, the greatest surplus first, an index last.
/// Indices into Settings::valves.
std::vector<std::size_t> setting_order(const Balanced &work);

} // namespace headroom::solver
