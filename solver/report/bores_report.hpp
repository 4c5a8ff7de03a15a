// The answer of bores in two files. For those files alone.
#pragma once

#include "solver/questions/bores.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json bores_json(const BoresAnswer &answer);
std::string bores_csv(const BoresAnswer &answer);

} // namespace headroom::solver
