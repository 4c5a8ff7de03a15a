// `headroom man`: the manual page headroom(1), made from the table of commands.
#pragma once

#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

namespace headroom::solver {

ExitCode run_man(const Arguments &arguments);

} // namespace headroom::solver
