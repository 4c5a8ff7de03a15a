// `headroom completion`: what a shell needs to complete commands, options, their values and files.
#pragma once

#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

namespace CLI {
class App;
}

namespace headroom::solver {

void completion_options(CLI::App &app, Arguments &arguments);
ExitCode run_completion(const Arguments &arguments);

} // namespace headroom::solver
