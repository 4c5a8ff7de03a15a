// How a source meets its load, for every report that shows it.
#pragma once

#include "solver/questions/heat_balance.hpp"
#include "solver/questions/source_heat.hpp"
#include "solver/report/json.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// "4.9 kW at most, COP 3.1, ..." without a full stop.
std::string source_sentence(const SourceHeat &source);
Json source_json(const SourceHeat &source);
Json pipe_losses_json(const std::vector<PipeLoss> &pipes);

} // namespace headroom::solver
