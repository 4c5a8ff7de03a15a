#include "solver/program/new_house.hpp"

#include "networks/reader.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/output.hpp"
#include "solver/program/starter_answers.hpp"

#include <CLI/CLI.hpp>
#include <filesystem>
#include <fmt/format.h>
#include <iostream>
#include <stdexcept>
#include <unistd.h>

namespace headroom::solver {
namespace {

ExitCode refused(const Arguments &arguments, const char *code, const std::string &message,
                 const std::string &help) {
    complain(code, message, help, arguments.text.colour);
    return ExitCode::bad_input;
}

std::string example_of(const StarterQuestion &question) {
    return fmt::format("--{} \"{}\"", question.option, question.example);
}

// "heat_pump|boiler", or "such as 40 degC".
std::string answers_like(const StarterQuestion &question) {
    const std::string type = question.type;
    return type.find('|') == std::string::npos ? fmt::format("such as {}", question.example) : type;
}

// True if what nobody answers can be taken so.
bool take_default(const StarterQuestion &question, Starter &house) {
    house.assumed.insert(question.option);
    return !question.take(question.otherwise, house);
}

// Asks until an answer can be taken; false at the end of the input.
bool ask(const StarterQuestion &question, Starter &house) {
    for (std::string line;;) {
        fmt::print(stderr, "{} ({}{}): ", question.what, answers_like(question),
                   question.otherwise ? fmt::format("; Enter for {}", question.otherwise) : "");
        if (!std::getline(std::cin, line)) {
            fmt::print(stderr, "\n");
            return false;
        }
        if (line.empty() && question.otherwise != nullptr && take_default(question, house))
            return true;
        const auto fault = question.take(line, house);
        if (!fault)
            return true;
        fmt::print(stderr, "  {}: {}\n", fault->message, fault->help);
    }
}

// What the options leave open is asked where somebody can answer, as long as somebody does.
bool take_answers(const Arguments &arguments, Starter &house, ExitCode &code) {
    bool terminal = ::isatty(STDIN_FILENO) == 1;
    std::string missing;
    for (const StarterQuestion &question : starter_questions()) {
        if (const auto given = arguments.answers.find(question.option);
            given != arguments.answers.end()) {
            if (const auto fault = question.take(given->second, house)) {
                code =
                    refused(arguments, "arguments",
                            fmt::format("--{}: {}", question.option, fault->message), fault->help);
                return false;
            }
            continue;
        }
        if (question.of_floors && !house.floors)
            continue;
        if (terminal && ask(question, house))
            continue;
        terminal = false;
        if (question.otherwise == nullptr || !take_default(question, house))
            missing += fmt::format("\n  {:<40} {}", example_of(question), question.what);
    }
    if (!missing.empty())
        code = refused(arguments, "missing-answers", "a new house needs what is listed here",
                       "give" + missing);
    return missing.empty();
}

// Answers may each be right and yet make no house together. True if the reader takes the file.
bool readable(const std::string &text, const Starter &house, Colour colour) {
    networks::Diagnostics diagnostics;
    const auto read = networks::read_house(text, diagnostics);
    const networks::SourceText source{"new house", text};
    for (const networks::Diagnostic &diagnostic : diagnostics.sorted())
        complain(networks::render(diagnostic, source) + "\n", colour);
    if (read && read->name != house.name)
        throw std::logic_error("the new house's name does not read back");
    return read.has_value();
}

} // namespace

void new_options(CLI::App &app, Arguments &arguments) {
    for (const StarterQuestion &question : starter_questions())
        app.add_option_function<std::string>(
               fmt::format("--{}", question.option),
               [&arguments, &question](const std::string &answer) {
                   arguments.answers[question.option] = answer;
               },
               fmt::format("{} ({}){}", question.what, answers_like(question),
                           question.otherwise ? fmt::format("; {} if not given", question.otherwise)
                                              : ""))
            ->type_name(question.type);
    app.add_flag("--overwrite", arguments.overwrite, "write over a file that is already there");
}

ExitCode run_new(const Arguments &arguments) {
    std::error_code fault;
    if (!arguments.overwrite && !arguments.output.empty() &&
        std::filesystem::is_regular_file(arguments.output, fault))
        return refused(arguments, "file-exists",
                       fmt::format("`{}` is already there", arguments.output),
                       "name another file with `-o`, or add `--overwrite`");
    Starter house;
    ExitCode code = ExitCode::bad_input;
    if (!take_answers(arguments, house, code))
        return code;
    const std::string text = starter_text(house);
    if (!readable(text, house, arguments.text.colour))
        return ExitCode::bad_input;
    return write_output(text, arguments.output, arguments.text.colour) ? ExitCode::answered
                                                                       : ExitCode::cannot_write;
}

} // namespace headroom::solver
