// Commands and their options as data, read off the command line that the table makes: for
// completion and the manual.
#pragma once

#include <string>
#include <vector>

namespace headroom::solver {

struct OptionFacts {
    std::vector<std::string> names; ///< "-o", "--output"; of a positional its word
    std::string what;
    std::string value; ///< kind of value it takes; empty for a flag
    std::vector<std::string> choices;
    bool required = false;

    bool takes_file() const { return value == "FILE"; }
};

struct CommandFacts {
    std::string name;
    std::string what;
    std::string example;
    std::vector<OptionFacts> positionals;
    std::vector<OptionFacts> options;
};

std::vector<CommandFacts> command_facts();

/// Options that stand without a command.
std::vector<OptionFacts> general_options();

} // namespace headroom::solver
