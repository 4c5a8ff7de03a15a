#include "solver/program/man_page.hpp"

#include "solver/program/command_facts.hpp"
#include "solver/program/output.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

/// Text that roff takes as it is.
std::string roff(const std::string &text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else if (c == '\'')
            out += "\\(aq";
        else if (c == '`')
            out += "\\(ga";
        else
            out += c;
    }
    if (out.starts_with('.'))
        out.insert(0, "\\&");
    return out;
}

std::string sentence(const std::string &text) {
    return roff(text) + (text.ends_with('?') ? "\n" : ".\n");
}

std::string section(const std::string &title) {
    return fmt::format(".SH {}\n", title);
}

std::string bold(const std::string &text) {
    return fmt::format("\\fB{}\\fR", roff(text));
}

std::string italic(const std::string &text) {
    return fmt::format("\\fI{}\\fR", roff(text));
}

std::string value_of(const OptionFacts &option) {
    return option.choices.empty() ? italic(option.value) : roff(option.value);
}

// "-o, --output FILE"
std::string option_head(const OptionFacts &option) {
    std::string out;
    for (const std::string &name : option.names)
        out += fmt::format("{}{}", out.empty() ? "" : ", ", bold(name));
    return option.value.empty() ? out : out + " " + value_of(option);
}

std::string options_text(const std::vector<OptionFacts> &options) {
    std::string out;
    for (const OptionFacts &option : options)
        out += fmt::format(".TP\n{}\n{}\n", option_head(option), roff(option.what));
    return out;
}

std::string positional_text(const OptionFacts &positional) {
    const std::string value =
        positional.choices.empty() ? italic(positional.value) : roff(positional.value);
    return positional.required ? value : fmt::format("[{}]", value);
}

bool same(const OptionFacts &a, const OptionFacts &b) {
    return a.names == b.names && a.what == b.what && a.value == b.value;
}

// Options that the greater part of the commands take alike are told once.
std::vector<OptionFacts> shared_options(const std::vector<CommandFacts> &commands) {
    std::vector<OptionFacts> out;
    const auto holders = [&](const OptionFacts &wanted) {
        return std::count_if(commands.begin(), commands.end(), [&](const CommandFacts &command) {
            return std::any_of(command.options.begin(), command.options.end(),
                               [&](const OptionFacts &option) { return same(option, wanted); });
        });
    };
    for (const CommandFacts &command : commands)
        for (const OptionFacts &option : command.options)
            if (2 * holders(option) > static_cast<long>(commands.size()) &&
                std::none_of(out.begin(), out.end(),
                             [&](const OptionFacts &known) { return same(known, option); }))
                out.push_back(option);
    return out;
}

std::string command_text(const CommandFacts &command, const std::vector<OptionFacts> &shared) {
    std::string out = fmt::format(".SS \"headroom {}\"\n{}", command.name, sentence(command.what));
    std::vector<OptionFacts> own;
    std::string also;
    for (const OptionFacts &option : command.options)
        if (std::any_of(shared.begin(), shared.end(),
                        [&](const OptionFacts &known) { return same(known, option); }))
            also += fmt::format("{}{}", also.empty() ? "" : ", ", bold(option.names.back()));
        else
            own.push_back(option);
    std::string line = fmt::format("{} {}", bold("headroom"), bold(command.name));
    for (const OptionFacts &positional : command.positionals)
        line += " " + positional_text(positional);
    out += fmt::format(".PP\n{} [options]\n", line);
    for (const OptionFacts &positional : command.positionals)
        out += fmt::format(".TP\n{}\n{}\n", positional_text(positional), roff(positional.what));
    out += options_text(own);
    return out + fmt::format(".PP\nAlso {}.\n", also);
}

std::string exit_text() {
    std::string out = section("EXIT STATUS");
    for (const ExitMeaning &exit : exit_meanings)
        out += fmt::format(".TP\n{}\n{}\n", bold(std::to_string(static_cast<int>(exit.code))),
                           roff(exit.meaning));
    return out;
}

std::string man_page() {
    const std::vector<CommandFacts> commands = command_facts();
    const std::vector<OptionFacts> shared = shared_options(commands);
    std::string out =
        fmt::format(".\\\" Made by `headroom man` from the program's own table of commands.\n"
                    ".TH HEADROOM 1 \"\" \"headroom {}\" \"User commands\"\n",
                    HEADROOM_VERSION);
    out += section("NAME") + "headroom \\- can one circulator drive every loop and radiator of a "
                             "house?\n";
    out += section("SYNOPSIS") + fmt::format("{} {} [{}] [options]\n", bold("headroom"),
                                             italic("COMMAND"), italic("FILE"));
    out += section("DESCRIPTION") +
           roff("Reads a house on low-temperature heat from one YAML file, solves it as a network "
                "of pipes, valves and pumps, and answers one question a command. Every value in "
                "the file carries its unit; its faults are shown where they stand, with the fix.") +
           "\n.PP\n" + bold("headroom new") + roff(" writes a first file, ") +
           bold("headroom explain") + roff(" tells what a word, a key or a fault's code means.") +
           "\n";
    out += section("COMMANDS");
    for (const CommandFacts &command : commands)
        out += command_text(command, shared);
    out += section("OPTIONS") + options_text(shared);
    for (const OptionFacts &option : general_options())
        if (std::none_of(shared.begin(), shared.end(),
                         [&](const OptionFacts &known) { return known.names == option.names; }))
            out += options_text({option});
    out += exit_text();
    out += section("EXAMPLES");
    for (const CommandFacts &command : commands)
        out += fmt::format(".TP\n{}\n{}", bold(command.example), sentence(command.what));
    out += section("CAUTIONS") +
           roff("Results support a decision by a competent person. Gas, unvented hot water, "
                "electrical and refrigerant work belongs to licensed people; local codes stand "
                "above the program.") +
           "\n";
    return out;
}

} // namespace

ExitCode run_man(const Arguments &arguments) {
    return write_output(man_page(), arguments.output, arguments.text.colour)
               ? ExitCode::answered
               : ExitCode::cannot_write;
}

} // namespace headroom::solver
