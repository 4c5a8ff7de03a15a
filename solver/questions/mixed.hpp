// Which mixer stands before each emitter.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// Into House::runs; empty for none.
using MixerRun = std::optional<std::size_t>;

/// For each of House::emitters the last mixer on the way from the source to it, along the runs.
std::vector<MixerRun> mixers_before_emitters(const networks::House &house);

/// Runs whose mixer has emitters behind it but no running pump between: it cannot mix.
std::vector<std::size_t> mixers_without_pump(const networks::House &house);

/// What to say of them; empty without any.
std::vector<std::string> unpumped_mixer_words(const networks::House &house);

/// At which end of its run a mixer stands, where the file leaves that open; empty without any.
std::vector<std::string> assumed_mixer_ends(const networks::House &house);

/// For each of House::emitters the temperature that mixer holds, where the file sets one.
std::vector<std::optional<double>> temperatures_held_c(const networks::House &house);

} // namespace headroom::solver
