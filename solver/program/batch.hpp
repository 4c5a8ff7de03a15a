// The verdict of every house file under a folder, a row each.
#pragma once

#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

namespace headroom::solver {

/// Judges the house files (`.yaml`, `.yml`) under a folder in the order of their names, on all
/// cores, and writes a row for each in that order; a file that cannot be read or solved spoils its
/// own row alone. With an output file rows are gathered beside it, in `FILE.part`, which is renamed
/// when all are there; where one was left by a run that was stopped, its rows are kept and the rest
/// follows. Ends with 0 if every row is an answer, else with the highest code of a row.
ExitCode batch(const Arguments &arguments);

} // namespace headroom::solver
