// General solvers to compare with. They are given the same laws, evaluated by the same banks, of
// every link and node, without contraction, and the same tolerances.
#pragma once

#include "networks/network.hpp"

#include <vector>

namespace headroom::benchmarks {

struct PeerTask {
    const networks::Network &network;
    const std::vector<models::FluidState> &fluid; ///< of each link
    double law_tolerance_pa;
    double mass_tolerance_kg_s;
};

struct PeerResult {
    bool converged = false;
    long steps = 0;
    double seconds = 0.0;          ///< of the solve alone, its pattern analysed before
    std::vector<double> flow_kg_s; ///< a link
};

struct Peer {
    const char *name;
    PeerResult (*solve)(const PeerTask &);
};

/// Those that the benchmark was built with.
std::vector<Peer> peers();

/// KINSOL with KLU on flows and pressures, and on pressures alone.
PeerResult solve_with_kinsol(const PeerTask &task);
PeerResult solve_with_kinsol_on_pressures(const PeerTask &task);

/// PETSc's SNES with KLU on flows and pressures.
PeerResult solve_with_petsc(const PeerTask &task);

} // namespace headroom::benchmarks
