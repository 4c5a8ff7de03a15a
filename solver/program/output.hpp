#pragma once

#include <string>

namespace headroom::solver {

/// Writes to standard output, or to a file beside which it first writes whole and then renames.
/// False, with a message on standard error, if that fails.
bool write_output(const std::string &text, const std::string &file);

} // namespace headroom::solver
