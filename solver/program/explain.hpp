// `headroom explain`: a word in, its meaning out.
#pragma once

#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

namespace CLI {
class App;
}

namespace headroom::solver {

void explain_options(CLI::App &app, Arguments &arguments);
ExitCode run_explain(const Arguments &arguments);

} // namespace headroom::solver
