// The command line as CLI11 knows it, made from the table of commands. Reading arguments,
// completion and the manual all start from it. The kind of value an option takes is its type name:
// `FILE`, `TERM`, or for one of a few words `text|json|csv`.
#pragma once

#include "solver/program/arguments.hpp"

#include <CLI/CLI.hpp>
#include <string>
#include <vector>

namespace headroom::solver {

class CommandLine {
public:
    CommandLine();
    CommandLine(const CommandLine &) = delete; // options point into it
    CommandLine &operator=(const CommandLine &) = delete;

    CLI::App &app() { return app_; }
    /// The command named in what was parsed; null if none.
    const Command *chosen() const;
    /// Each command's own part, in the order of the table.
    const std::vector<CLI::App *> &questions() const { return questions_; }

    Arguments arguments;
    std::string format = "text";

private:
    CLI::App app_;
    std::vector<CLI::App *> questions_;
};

/// The words an option takes one of, by its type name; empty if it takes anything.
std::vector<std::string> choices(const CLI::Option &option);

} // namespace headroom::solver
