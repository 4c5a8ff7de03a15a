// The answer of hotwater in two files. For those files alone.
#pragma once

#include "solver/questions/hotwater.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json hotwater_json(const HotWaterAnswer &answer);
std::string hotwater_csv(const HotWaterAnswer &answer);

} // namespace headroom::solver
