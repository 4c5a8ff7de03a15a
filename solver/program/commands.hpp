// The commands the command line knows: one entry a command, and nowhere else.
#pragma once

#include "networks/house.hpp"
#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"

#include <span>
#include <string_view>
#include <variant>

namespace CLI {
class App;
}

namespace headroom::solver {

struct Command {
    using ForHouse = ExitCode (*)(const networks::House &house, const Arguments &arguments);
    using Alone = ExitCode (*)(const Arguments &arguments); ///< reads no house file

    const char *name;
    const char *what;    ///< one line for --help
    const char *example; ///< a line that runs
    std::variant<ForHouse, Alone> run;
    /// Adds options of its own to those all have; may be null.
    void (*options)(CLI::App &app, Arguments &arguments) = nullptr;
    /// Answers for the base with its proposals beside it, whichever is named.
    bool takes_base = false;
    bool has_formats = true; ///< text, JSON and CSV; else one form only

    constexpr bool reads_house() const { return std::holds_alternative<ForHouse>(run); }
    /// Of a house, in text, in the units and for the terminal asked for.
    constexpr bool states_figures() const {
        return reads_house() && std::string_view(name) != "sheet";
    }
};

std::span<const Command> commands();

} // namespace headroom::solver
