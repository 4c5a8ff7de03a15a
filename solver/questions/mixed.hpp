// Which mixer stands before each emitter.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <vector>

namespace headroom::solver {

/// Into House::runs; empty for none.
using MixerRun = std::optional<std::size_t>;

/// For each of House::emitters the last mixer on the way from the source to it, along the runs.
std::vector<MixerRun> mixers_before_emitters(const networks::House &house);

/// For each of House::emitters the temperature that mixer holds, where the file sets one.
std::vector<std::optional<double>> temperatures_held_c(const networks::House &house);

} // namespace headroom::solver
