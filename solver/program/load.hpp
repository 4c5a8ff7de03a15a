// A house from a file on the command line.
#pragma once

#include "networks/diagnostic.hpp"
#include "networks/house.hpp"
#include "solver/program/text_options.hpp"

#include <optional>
#include <string>

namespace headroom::solver {

/// A file's text, if it can be read.
std::optional<std::string> file_text(const std::string &file);

/// The house of a file; its faults go to standard error. Nothing if it cannot be read.
std::optional<networks::House> load_house(const std::string &file, Colour colour);

} // namespace headroom::solver
