// `headroom new`: a first house file from a few answers, given as options or asked on a terminal.
#pragma once

#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

namespace CLI {
class App;
}

namespace headroom::solver {

void new_options(CLI::App &app, Arguments &arguments);
ExitCode run_new(const Arguments &arguments);

} // namespace headroom::solver
