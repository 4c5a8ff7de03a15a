#pragma once

#include "solver/questions/sheet.hpp"

#include <string>
#include <string_view>

namespace headroom::solver {

/// One HTML page that needs nothing beside itself: no script, no picture or type from elsewhere.
std::string sheet_page(const SheetAnswer &answer, std::string_view version);

} // namespace headroom::solver
