// What goes to the standard error: faults, warnings and their help.
#pragma once

#include "solver/program/text_options.hpp"

#include <string>

namespace headroom::solver {

/// Prints complaints, in colour where text_options.hpp says so of the standard error.
void complain(const std::string &text, Colour asked);

/// `error[CODE]: message` with its help, one line each.
void complain(const std::string &code, const std::string &message, const std::string &help,
              Colour asked);

} // namespace headroom::solver
