// Text as a terminal shows it.
#pragma once

#include "networks/text_form.hpp"

#include <string>

namespace headroom::solver {

/// A report's text set for its form: lines of prose broken at the terminal's width, ASCII alone,
/// and, if asked for, colour that stresses what words say: the verdict, states, heads. Nothing is
/// said by colour alone. The same text where nothing is asked for.
std::string dressed(const std::string &text, networks::TextForm form, bool colour);

/// A complaint (`error[CODE]: message`, its place, the line with carets, `help:`) with what it is,
/// the carets and the help stressed.
std::string complaint_in_colour(const std::string &text);

} // namespace headroom::solver
