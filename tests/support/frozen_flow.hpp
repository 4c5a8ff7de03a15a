// Flows of a network at given fluid states, for laws that hold at frozen temperatures.
#pragma once

#include "networks/network.hpp"
#include "solver/outcome.hpp"

#include <vector>

namespace headroom::tests {

struct FrozenFlow {
    solver::Outcome outcome;
    std::vector<double> flow_kg_s; ///< of each link

    double largest() const;
};

FrozenFlow frozen_flow(const networks::Network &network,
                       const std::vector<models::FluidState> &fluid);

/// At the temperatures links are expected to have.
FrozenFlow frozen_flow(const networks::Network &network);

} // namespace headroom::tests
