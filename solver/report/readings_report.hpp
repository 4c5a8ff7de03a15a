// The part of a balance answer that its readings add.
#pragma once

#include "solver/report/json.hpp"

namespace headroom::solver {

/// For an answer with a diagnosis.
std::string readings_text(const BalanceAnswer &answer);
Json readings_json(const BalanceAnswer &answer);

} // namespace headroom::solver
