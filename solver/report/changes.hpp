// The least changes that turn a verdict, as shared by several answers.
#pragma once

#include "solver/questions/drive.hpp"
#include "solver/report/json.hpp"

namespace headroom::solver {

std::string changes_text(networks::TextForm form, const LeastChanges &changes);
Json changes_json(const LeastChanges &changes);

} // namespace headroom::solver
