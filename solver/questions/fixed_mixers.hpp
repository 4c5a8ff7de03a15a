// What mixers at a fixed position mix.
#pragma once

#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// A mixer at a fixed position that emitters stand behind.
struct FixedMixer {
    std::size_t run;  ///< into House::runs
    double hot_share; ///< of the water it sends, what comes in by its hot port
    double hot_c;     ///< of that water
    double drop_k;    ///< design drop of what stands behind it, mean by flow
    double mixed_c;   ///< what it sends where they have that drop
};

/// A house with such mixers.
bool has_fixed_mixers(const networks::House &house);

/// Those that water passes. A share s of it comes hot, the rest has just come back, so that with
/// the design drop d
///     mixed = hot - d (1 - s) / s ,
/// but no room cools the water to less than 1 K above itself. s and hot are those of `sized`, the
/// house sized for its source's temperature and solved as it stands: losses of ports and pipes grow
/// much alike with flow, so that s hardly depends on it. Drops are those of `given`, as the file
/// has them. None where the house has no solution.
std::vector<FixedMixer> fixed_mixers(const networks::House &given, const networks::House &sized);

/// As an assumption, for the reader.
std::string fixed_mixer_words(const networks::House &house, const FixedMixer &mixer);

} // namespace headroom::solver
