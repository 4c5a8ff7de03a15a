// The questions the command line knows: one entry a question.
#pragma once

#include "networks/house.hpp"
#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

#include <span>

namespace CLI {
class App;
}

namespace headroom::solver {

struct Command {
    const char *name;
    const char *what;    ///< one line for --help
    const char *example; ///< a line that runs
    ExitCode (*run)(const networks::House &house, const Arguments &arguments);
    /// Adds options of its own to --file, --format and --output; may be null.
    void (*options)(CLI::App &app, Arguments &arguments) = nullptr;
    /// Answers for the base with its proposals beside it, whichever is named.
    bool takes_base = false;
};

std::span<const Command> commands();

} // namespace headroom::solver
