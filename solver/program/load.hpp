// A house from a file on the command line.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>

namespace headroom::solver {

/// The house of a file; its faults go to standard error. Nothing if it cannot be read.
std::optional<networks::House> load_house(const std::string &file);

} // namespace headroom::solver
