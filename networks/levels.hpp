#pragma once

#include "networks/house.hpp"

#include <string>

namespace headroom::networks {

/// Names of the places that the house gives no level for and that therefore stand at 0 m, the first
/// few; empty if all have one.
std::string names_without_level(const House &house);

} // namespace headroom::networks
