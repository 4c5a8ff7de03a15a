// How sure a verdict is, as a part of the answer it belongs to.
#pragma once

#include "solver/questions/how_sure.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

std::string how_sure_text(networks::TextForm form, const HowSure &sure, bool says_no);
Json how_sure_json(const HowSure &sure);

} // namespace headroom::solver
