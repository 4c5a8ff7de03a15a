// Flows, pressures and temperatures of a network, solved together.
#pragma once

#include "solver/solution.hpp"

namespace headroom::solver {

/// Solves the network as it stands. Around the flow equations at frozen properties run, damped
/// where needed: temperatures (viscosity, density, buoyancy), tee coefficients, and the rising pump
/// control laws by a bracketed root each. `house` only lends names to messages and may be null.
/// An outcome other than Converged names the equation that failed.
Solution solve(networks::Network network, const networks::House *house = nullptr);

} // namespace headroom::solver
