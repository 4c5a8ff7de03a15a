#pragma once

#include "solver/questions/season.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json season_json(const SeasonAnswer &answer);
/// One record an outdoor temperature and way of running.
std::string season_csv(const SeasonAnswer &answer);

} // namespace headroom::solver
