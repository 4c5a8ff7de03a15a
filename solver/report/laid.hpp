// Rooms laid by the program, as a table shared by several answers.
#pragma once

#include "solver/questions/lay.hpp"
#include "solver/report/json.hpp"

namespace headroom::solver {

/// Heading and table, or nothing where no room was laid.
std::string laid_text(networks::TextForm form, const std::vector<LaidRoom> &rooms);
Json laid_json(const std::vector<LaidRoom> &rooms);

} // namespace headroom::solver
