#pragma once

#include "networks/diagnostic.hpp"
#include "networks/house.hpp"

#include <optional>
#include <string>

namespace headroom::networks {

/// The house described by `text`, or nothing if it has faults; `diagnostics` then holds all of
/// them. Warnings may be there beside a house.
std::optional<House> read_house(const std::string &text, Diagnostics &diagnostics);

} // namespace headroom::networks
