#include "solver/program/explain.hpp"

#include "solver/program/commands.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/output.hpp"
#include "solver/questions/explain.hpp"

#include <CLI/CLI.hpp>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace headroom::solver {

void explain_options(CLI::App &app, Arguments &arguments) {
    app.add_option("term", arguments.words,
                   "a trade word, a key of the house file, or the code of a fault; none lists all")
        ->type_name("TERM")
        ->expected(0, 20);
}

namespace {

std::string help_for(const std::string &word, const std::vector<std::string> &near) {
    for (const Command &command : commands())
        if (word == command.name)
            return fmt::format("it is a command: `headroom {} --help`", word);
    std::string listed;
    for (const std::string &name : near)
        listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", name);
    return listed.empty() ? "`headroom explain` lists what can be explained"
                          : "nearest known: " + listed;
}

} // namespace

ExitCode run_explain(const Arguments &arguments) {
    const std::string word = fmt::format("{}", fmt::join(arguments.words, " "));
    if (!arguments.words.empty() && lookup_form(word).empty()) {
        complain("arguments", "the term is empty", "`headroom explain` lists what can be explained",
                 arguments.text.colour);
        return ExitCode::bad_input;
    }
    const ExplainAnswer answer = explain(word);
    if (answer.found.empty()) {
        complain("unknown-term", fmt::format("there is no entry for `{}`", word),
                 help_for(word, answer.near), arguments.text.colour);
        return ExitCode::bad_input;
    }
    return write_output(report(answer, arguments.format), arguments.output, arguments.text.colour)
               ? ExitCode::answered
               : ExitCode::cannot_write;
}

} // namespace headroom::solver
