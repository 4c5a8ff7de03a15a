#pragma once

#include "networks/network.hpp"
#include "solver/questions/drive.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// From a node along the larger flow at each join or branch, down the stream or up it, to `end`.
std::vector<networks::LinkId> follow_water(const networks::Network &network,
                                           const Solution &solution, networks::NodeId start,
                                           networks::NodeId end, bool downstream);

/// The way of the water from the source's flow connection through an emitter and back, following
/// the larger flow wherever it divides or joins, with the loss of each piece.
std::vector<CircuitStep> circuit_steps(const networks::House &house,
                                       const networks::Network &network, const Solution &solution,
                                       const networks::EmitterLinks &emitter);

std::string regime_name(models::Regime regime);

} // namespace headroom::solver
