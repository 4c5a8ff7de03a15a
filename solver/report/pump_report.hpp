// The parts of the report on pumps, in two files. For those files alone.
#pragma once

#include "solver/questions/pump.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json pump_json(const PumpAnswer &answer);
std::string pump_csv(const PumpAnswer &answer);

} // namespace headroom::solver
