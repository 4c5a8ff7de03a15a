#pragma once

#include "solver/program/text_options.hpp"
#include "solver/report/report.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct Command; // commands.hpp

struct Arguments {
    const Command *command = nullptr;
    std::string file;
    std::string output;   ///< empty: standard output
    std::string proposal; ///< the one to answer for; empty: the base
    std::string with;     ///< a second house file to compare with; empty: none
    Format format = Format::Text;
    TextOptions text;                 ///< as asked for
    TextLook look{};                  ///< of text; as designed for other forms
    bool watch = false;               ///< answer again whenever the file is saved
    std::vector<std::string> pipes{}; ///< to compare
    int solves = 400;                 ///< most houses to solve in a search
    std::string shard;                ///< of batch: `i/n`, every n-th file from the i-th on
    bool tolerance = false;           ///< of drive: repeated within the tolerances
    int samples = 10000;              ///< that often
    bool single_circulator = false;   ///< of balance: its pumps taken out, as drive judges
    std::vector<std::string> words{}; ///< of explain: the term asked for
    std::string shell;                ///< of completion
    /// Of new: answers by question, and whether a file that is there may be written over.
    std::map<std::string, std::string> answers{};
    bool overwrite = false;
};

/// What the command line asks for. Where there is nothing to run, `exit_code` says how to end: help
/// or version was printed, or the arguments are wrong and a message says why.
struct Parsed {
    std::optional<Arguments> arguments;
    int exit_code = 0;
};

Parsed parse_arguments(int argc, char **argv);

} // namespace headroom::solver
