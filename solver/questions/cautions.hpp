#pragma once

#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// What is known of screed over the house's new loops: those already in place have dried.
enum class Screed {
    None,    ///< no loop that is not in place yet, or all of them in dry boards
    Unknown, ///< some loops' floors are not described, and none of the others has any
    Known,
};
Screed screed_of(const networks::House &house);

/// What has to be said with any answer about this house because somebody could be hurt or
/// something ruined: a sentence each, those that apply.
std::vector<std::string> cautions(const networks::House &house);

} // namespace headroom::solver
