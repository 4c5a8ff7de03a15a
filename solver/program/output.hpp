#pragma once

#include "solver/program/text_options.hpp"

#include <string>

namespace headroom::solver {

/// Writes to standard output if `named` is empty, else to the file: beside it first, then renamed
/// over it, so that no half-written file is ever seen. Links are followed; what is no regular file
/// (a pipe, a device) is written to as it is. False, with a message on standard error, if it fails.
bool write_output(const std::string &text, const std::string &named, Colour complaint);

} // namespace headroom::solver
