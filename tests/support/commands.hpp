// The commands the program says it has.
#pragma once

#include "tests/support/run_program.hpp"

#include <sstream>
#include <string>
#include <vector>

namespace headroom::tests {

inline std::vector<std::string> program_commands() {
    std::istringstream lines(run_program({"--help"}).output);
    std::vector<std::string> out;
    bool within = false;
    for (std::string line; std::getline(lines, line);) {
        if (within && line.starts_with("  ") && line.size() > 2 && line[2] != ' ')
            out.push_back(line.substr(2, line.find(' ', 2) - 2));
        else if (within && line.empty())
            break;
        within = within || line == "Subcommands:";
    }
    return out;
}

/// The line a command's help ends with, without the word before it.
inline std::string help_example(const std::string &command) {
    const std::string help = run_program({command, "--help"}).output;
    const std::string mark = "Example: ";
    const std::size_t at = help.rfind(mark);
    if (at == std::string::npos)
        return "";
    const std::size_t start = at + mark.size();
    return help.substr(start, help.find('\n', start) - start);
}

} // namespace headroom::tests
