#pragma once

#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// What has to be said with any answer about this house because somebody could be hurt or
/// something ruined: a sentence each, those that apply.
std::vector<std::string> cautions(const networks::House &house);

} // namespace headroom::solver
