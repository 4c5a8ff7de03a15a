#include "networks/reader.hpp"
#include "solver/program/arguments.hpp"
#include "solver/program/exit_code.hpp"
#include "solver/program/output.hpp"

#include <csignal>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

namespace {

using namespace headroom;
using solver::Arguments;
using solver::ExitCode;

// The house of a file; its faults go to standard error.
std::optional<networks::House> load(const std::string &file) {
    std::error_code code;
    std::ifstream stream(file, std::ios::binary);
    if (!stream || std::filesystem::is_directory(file, code)) {
        fmt::print(stderr,
                   "error[no-file]: cannot read `{}`\nhelp: check the name and the permissions\n",
                   file);
        return std::nullopt;
    }
    std::ostringstream text;
    text << stream.rdbuf();
    const networks::SourceText source{file, text.str()};
    networks::Diagnostics diagnostics;
    std::optional<networks::House> house = networks::read_house(source.text, diagnostics);
    for (const networks::Diagnostic &diagnostic : diagnostics.sorted())
        fmt::print(stderr, "{}\n", networks::render(diagnostic, source));
    return house;
}

ExitCode written(const std::string &text, const Arguments &arguments, ExitCode code) {
    return solver::write_output(text, arguments.output) ? code : ExitCode::cannot_write;
}

ExitCode not_solved(const solver::Outcome &outcome) {
    fmt::print(stderr, "{}", solver::failure_text(outcome));
    return ExitCode::could_not_solve;
}

ExitCode not_asked(const std::string &why, const Arguments &arguments, std::string_view help) {
    fmt::print(stderr, "error[nothing-to-judge]: {}\n  --> {}\nhelp: {}\n", why, arguments.file,
               help);
    return ExitCode::bad_input;
}

ExitCode run(const Arguments &arguments) {
    const auto house = load(arguments.file);
    if (!house)
        return ExitCode::bad_input;
    switch (arguments.command) {
    case solver::Command::Drive: {
        if (const std::string why = solver::why_not_driven(*house); !why.empty())
            return not_asked(why, arguments,
                             "use `headroom flows` for a network without a verdict");
        const solver::DriveAnswer answer = solver::drive(*house);
        if (answer.verdict == solver::Verdict::NotSolved)
            return not_solved(answer.outcome);
        return written(solver::report(answer, arguments.format), arguments,
                       answer.verdict == solver::Verdict::Yes ? ExitCode::answered
                                                              : ExitCode::verdict_no);
    }
    case solver::Command::Flows: {
        const solver::FlowsAnswer answer = solver::flows(*house);
        if (!answer.outcome.converged())
            return not_solved(answer.outcome);
        return written(solver::report(answer, arguments.format), arguments, ExitCode::answered);
    }
    case solver::Command::Losses: {
        if (house->rooms.empty())
            return not_asked(
                "the file has no `rooms`, so there is no loss to work out", arguments,
                "list the rooms with their fabric and air changes, or surveyed losses");
        return written(solver::report(solver::losses(*house), arguments.format), arguments,
                       ExitCode::answered);
    }
    }
    return ExitCode::program_fault;
}

} // namespace

int main(int argc, char **argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe is a failed write, not a silent death
    try {
        const solver::Parsed parsed = solver::parse_arguments(argc, argv);
        return parsed.arguments ? run(*parsed.arguments) : parsed.exit_code;
    } catch (const std::exception &fault) {
        fmt::print(stderr,
                   "error[program-fault]: {}\nhelp: this is a fault of headroom; please report it "
                   "with the house file\n",
                   fault.what());
        return solver::ExitCode::program_fault;
    }
}
