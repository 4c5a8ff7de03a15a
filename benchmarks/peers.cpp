#include "benchmarks/peers.hpp"

namespace headroom::benchmarks {

std::vector<Peer> peers() {
    return {
#ifdef HEADROOM_KINSOL
        {"KINSOL", solve_with_kinsol},
        {"on p", solve_with_kinsol_on_pressures},
#endif
#ifdef HEADROOM_PETSC
        {"SNES", solve_with_petsc},
#endif
    };
}

} // namespace headroom::benchmarks
