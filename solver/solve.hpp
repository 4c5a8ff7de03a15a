// Flows, pressures and temperatures of a network, solved together.
#pragma once

#include "solver/solution.hpp"

namespace headroom::solver {

/// Solves the network as it stands, mixers where they are. Around the flow equations at frozen
/// properties run, damped where needed: temperatures (viscosity, density, buoyancy), tee
/// coefficients, and the rising pump control laws by a bracketed root each. `house` only lends
/// names to messages and may be null. An outcome other than Converged names the equation that
/// failed.
Solution solve_as_placed(networks::Network network, const networks::House *house = nullptr);

/// The same with mixers that modulate moved to where they hold their temperature: each one's mixed
/// temperature rises with its travel, so its position is a bracketed root over solves of the whole;
/// several take turns until all hold. A mixer stays within 0.5 and 99.5 % of travel; one that
/// cannot hold its temperature stands at the nearer end, or at the nearer side of a jump in what it
/// mixes, and Solution::mixers shows by how much it misses.
Solution solve(networks::Network network, const networks::House *house = nullptr);

} // namespace headroom::solver
