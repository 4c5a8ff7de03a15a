#pragma once

#include "solver/solution.hpp"

namespace headroom::solver {

/// Walks node pressures from the reference over links whose law is single-valued at the solution,
/// fills the pressures and losses of `solution` and checks every law and every mass balance on the
/// whole network. `solution` holds flows and fluid states; its outcome is replaced by the check's
/// if that fails.
void recover_pressures(const networks::Network &network, const networks::House *house,
                       const FlowEquations &equations, Solution &solution);

} // namespace headroom::solver
