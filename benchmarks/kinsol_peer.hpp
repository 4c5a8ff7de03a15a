// KINSOL with KLU on the flows and pressures of every link and node: the same laws, evaluated by
// the same banks, without contraction.
#pragma once

#include "networks/network.hpp"

#include <vector>

namespace headroom::benchmarks {

struct PeerResult {
    bool converged = false;
    long steps = 0;
    double seconds = 0.0;  ///< of the solve alone, its pattern analysed before
    double worst_pa = 0.0; ///< residuals at its answer
    double worst_kg_s = 0.0;
    std::vector<double> flow_kg_s; ///< a link
};

/// Absent where the benchmark is built without SUNDIALS.
bool has_kinsol();

PeerResult solve_with_kinsol(const networks::Network &network,
                             const std::vector<models::FluidState> &fluid);

} // namespace headroom::benchmarks
