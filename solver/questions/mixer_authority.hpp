// How much of the pressure a mixer steers falls over itself.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// From this authority on a mixer steers well (common practice, no source).
inline constexpr double good_authority_share = 0.3;

/// Loss of the open hot port over that and the loss of its run's pipes with the same water. Empty
/// where no such pipe or no flow is there.
std::optional<double> authority_share(const networks::Network &network, const Solution &solution,
                                      const networks::MixerNode &mixer, double travel);

/// A warning for each mixer below good_authority_share.
std::vector<std::string> low_authority_words(const networks::House &house,
                                             const networks::Network &network,
                                             const Solution &solution);

} // namespace headroom::solver
