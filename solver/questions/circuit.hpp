#pragma once

#include "networks/network.hpp"
#include "solver/questions/drive.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// The way of the water from the source's flow connection through an emitter and back, following
/// the larger flow wherever it divides or joins, with the loss of each piece.
std::vector<CircuitStep> circuit_steps(const networks::House &house,
                                       const networks::Network &network, const Solution &solution,
                                       const networks::EmitterLinks &emitter);

std::string regime_name(models::Regime regime);

} // namespace headroom::solver
