// The answer of drive in two files. For those files alone.
#pragma once

#include "solver/questions/drive.hpp"
#include "solver/report/json.hpp"

#include <string>

namespace headroom::solver {

Json drive_json(const DriveAnswer &answer);
std::string drive_csv(const DriveAnswer &answer);

} // namespace headroom::solver
