#include "solver/program/arguments.hpp"

#include "networks/diagnostic.hpp"
#include "solver/program/command_line.hpp"
#include "solver/program/commands.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/exit_code.hpp"
#include "solver/program/output.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

constexpr std::array formats{std::pair{"text", Format::Text}, std::pair{"json", Format::Json},
                             std::pair{"csv", Format::Csv}};

Parsed refused(const std::string &message, const std::string &help, Colour colour) {
    complain("arguments", message, help, colour);
    return {std::nullopt, ExitCode::bad_input};
}

Parsed printed(const std::string &text) {
    return {std::nullopt,
            write_output(text, "", Colour::Auto) ? ExitCode::answered : ExitCode::cannot_write};
}

// A first word that is no command deserves a better answer than "a subcommand is required".
std::optional<Parsed> unknown_command(int argc, char **argv) {
    if (argc < 2 || argv[1][0] == '-')
        return std::nullopt;
    std::vector<std::string> names;
    std::string listed;
    for (const Command &command : commands()) {
        names.emplace_back(command.name);
        listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", command.name);
        if (names.back() == argv[1])
            return std::nullopt;
    }
    const std::string near = networks::nearest(argv[1], names);
    return refused(fmt::format("there is no command `{}`", argv[1]),
                   near.empty()
                       ? fmt::format("`headroom --help` says what each of these does: {}", listed)
                       : fmt::format("did you mean `{}`?", near),
                   Colour::Auto);
}

} // namespace

Parsed parse_arguments(int argc, char **argv) {
    if (auto fault = unknown_command(argc, argv))
        return *fault;
    CommandLine line;
    try {
        line.app().parse(argc, argv);
    } catch (const CLI::CallForHelp &) {
        return printed(line.app().help());
    } catch (const CLI::CallForAllHelp &) {
        return printed(line.app().help());
    } catch (const CLI::CallForVersion &call) {
        return printed(fmt::format("{}\n", call.what()));
    } catch (const CLI::ParseError &fault) {
        return refused(fault.what(), "`headroom --help` or `headroom COMMAND --help` shows usage",
                       line.arguments.text.colour);
    }
    Arguments &arguments = line.arguments;
    arguments.command = line.chosen();
    const auto known = std::find_if(formats.begin(), formats.end(),
                                    [&](const auto &entry) { return line.format == entry.first; });
    if (known == formats.end())
        return refused(fmt::format("`{}` is no output format", line.format),
                       "`--format text`, `json` or `csv`", arguments.text.colour);
    arguments.format = known->second;
    if (arguments.watch && arguments.format != Format::Text)
        return refused("`--watch` shows text", "leave out `--watch` or `--format`",
                       arguments.text.colour);
    if (arguments.format == Format::Text && arguments.command->states_figures())
        arguments.look = text_look(arguments.text, !arguments.output.empty());
    std::error_code code;
    const auto overwritten = [&](const std::string &file) {
        return !arguments.output.empty() && !file.empty() &&
               std::filesystem::equivalent(arguments.output, file, code);
    };
    if (overwritten(arguments.file) || overwritten(arguments.with))
        return refused("the output would overwrite the house file", "name another file with `-o`",
                       arguments.text.colour);
    return {std::move(arguments), ExitCode::answered};
}

} // namespace headroom::solver
