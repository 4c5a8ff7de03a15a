#include "tests/support/frozen_flow.hpp"

#include "solver/flow/branches.hpp"
#include "solver/flow/flow_equations.hpp"
#include "tests/support/random_network.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::tests {

double FrozenFlow::largest() const {
    double most = 0.0;
    for (double flow : flow_kg_s)
        most = std::max(most, std::abs(flow));
    return most;
}

FrozenFlow frozen_flow(const networks::Network &network,
                       const std::vector<models::FluidState> &fluid) {
    const solver::BranchSystem system = solver::contract(network);
    solver::FlowEquations equations(network, system);
    equations.set_fluid(fluid);
    FrozenFlow result;
    result.outcome = equations.solve();
    for (std::size_t e = 0; e < network.links.size(); ++e)
        result.flow_kg_s.push_back(system.sign_of[e] == 0
                                       ? 0.0
                                       : system.sign_of[e] *
                                             equations.branch_flows()[system.branch_of[e]]);
    return result;
}

FrozenFlow frozen_flow(const networks::Network &network) {
    return frozen_flow(network, expected_states(network));
}

} // namespace headroom::tests
