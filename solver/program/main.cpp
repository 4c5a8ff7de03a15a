#include "networks/reader.hpp"
#include "solver/program/exit_code.hpp"
#include "solver/program/output.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "solver/report/report.hpp"

#include <CLI/CLI.hpp>
#include <csignal>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <sstream>

namespace {

using namespace headroom;
using solver::ExitCode;

struct Arguments {
    std::string file;
    std::string output;
    solver::Format format = solver::Format::Text;
};

// The house of a file; its faults go to standard error.
std::optional<networks::House> load(const std::string &file) {
    std::error_code code;
    std::ifstream stream(file, std::ios::binary);
    if (!stream || std::filesystem::is_directory(file, code)) {
        fmt::print(stderr,
                   "error[no-file]: cannot read `{}`\nhelp: check the name and the "
                   "permissions\n",
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

ExitCode run_drive(const Arguments &arguments) {
    const auto house = load(arguments.file);
    if (!house)
        return ExitCode::bad_input;
    if (const std::string why = solver::why_not_driven(*house); !why.empty()) {
        fmt::print(stderr,
                   "error[nothing-to-judge]: {}\n  --> {}\nhelp: use `headroom flows` for a "
                   "network without a verdict\n",
                   why, arguments.file);
        return ExitCode::bad_input;
    }
    const solver::DriveAnswer answer = solver::drive(*house);
    if (!answer.outcome.converged() && answer.verdict == solver::Verdict::NotSolved) {
        fmt::print(stderr, "{}", solver::failure_text(answer.outcome));
        return ExitCode::could_not_solve;
    }
    if (!solver::write_output(solver::report(answer, arguments.format), arguments.output))
        return ExitCode::cannot_write;
    return answer.verdict == solver::Verdict::Yes ? ExitCode::answered : ExitCode::verdict_no;
}

ExitCode run_flows(const Arguments &arguments) {
    const auto house = load(arguments.file);
    if (!house)
        return ExitCode::bad_input;
    const solver::FlowsAnswer answer = solver::flows(*house);
    if (!answer.outcome.converged()) {
        fmt::print(stderr, "{}", solver::failure_text(answer.outcome));
        return ExitCode::could_not_solve;
    }
    if (!solver::write_output(solver::report(answer, arguments.format), arguments.output))
        return ExitCode::cannot_write;
    return ExitCode::answered;
}

CLI::App *add_question(CLI::App &app, const std::string &name, const std::string &what,
                       const std::string &example, Arguments &arguments) {
    static const std::map<std::string, solver::Format> formats{{"text", solver::Format::Text},
                                                               {"json", solver::Format::Json},
                                                               {"csv", solver::Format::Csv}};
    CLI::App *question = app.add_subcommand(name, what);
    question->add_option("file", arguments.file, "house file (YAML)")->required();
    question->add_option("--format", arguments.format, "text, json or csv")
        ->transform(CLI::CheckedTransformer(formats).description("{text,json,csv}"));
    question->add_option("-o,--output", arguments.output, "write to this file instead");
    question->footer("Example: " + example);
    return question;
}

int run(int argc, char **argv) {
    CLI::App app{"headroom: what is left of the pump's head once every loop has what it needs"};
    app.set_version_flag("--version", std::string("headroom ") + HEADROOM_VERSION);
    app.require_subcommand(1);
    app.footer("Exit codes: 0 answered (verdict yes), 1 verdict no or marginal, 2 bad input,\n"
               "3 could not solve, 4 fault of the program, 5 cannot write.");
    Arguments arguments;
    const CLI::App *drive =
        add_question(app, "drive", "Can the source's one circulator drive every loop and radiator?",
                     "headroom drive networks/examples/direct-16mm.yaml", arguments);
    add_question(app, "flows", "Flows, pressures and temperatures of the network as it stands",
                 "headroom flows networks/examples/direct-16mm.yaml --format csv", arguments);
    try {
        app.parse(argc, argv);
    } catch (const CLI::CallForHelp &fault) {
        return app.exit(fault);
    } catch (const CLI::CallForAllHelp &fault) {
        return app.exit(fault);
    } catch (const CLI::CallForVersion &fault) {
        return app.exit(fault);
    } catch (const CLI::ParseError &fault) {
        app.exit(fault);
        return ExitCode::bad_input;
    }
    return drive->parsed() ? run_drive(arguments) : run_flows(arguments);
}

} // namespace

int main(int argc, char **argv) {
    std::signal(SIGPIPE, SIG_IGN); // a closed pipe is a failed write, not a silent death
    try {
        return run(argc, argv);
    } catch (const std::exception &fault) {
        fmt::print(stderr,
                   "error[program-fault]: {}\nhelp: this is a fault of headroom; please "
                   "report it with the house file\n",
                   fault.what());
        return solver::ExitCode::program_fault;
    }
}
