#include "solver/program/completion.hpp"

#include "solver/program/command_facts.hpp"
#include "solver/program/complaint.hpp"
#include "solver/program/output.hpp"

#include <CLI/CLI.hpp>
#include <array>
#include <fmt/format.h>
#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

/// In single quotes for a POSIX shell.
std::string in_quotes(const std::string &text) {
    std::string out = "'";
    for (const char c : text)
        out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return out + "'";
}

std::string option_words(const std::vector<OptionFacts> &options) {
    std::string out;
    for (const OptionFacts &option : options)
        for (const std::string &name : option.names)
            out += (out.empty() ? "" : " ") + name;
    return out;
}

// The value of an option, or what stands without one: words, files, or nothing known.
std::string bash_values(const OptionFacts &option) {
    if (!option.choices.empty())
        return fmt::format("words={}",
                           in_quotes(fmt::format("{}", fmt::join(option.choices, " "))));
    return option.takes_file() ? "files=1" : ":";
}

std::string bash() {
    std::string commands, cases, values;
    for (const CommandFacts &command : command_facts()) {
        commands += (commands.empty() ? "" : " ") + command.name;
        std::string otherwise = ":";
        if (!command.positionals.empty())
            otherwise = bash_values(command.positionals.front());
        cases += fmt::format("        {}) options={} ; {} ;;\n", command.name,
                             in_quotes(option_words(command.options)), otherwise);
        for (const OptionFacts &option : command.options) {
            if (option.value.empty())
                continue;
            std::string patterns;
            for (const std::string &name : option.names)
                patterns += fmt::format("{}{}:{}", patterns.empty() ? "" : "|", command.name, name);
            values += fmt::format("        {}) options= words= files= ; {} ;;\n", patterns,
                                  bash_values(option));
        }
    }
    return fmt::format(R"(# Completion of headroom for bash, made by `headroom completion bash`.
_headroom() {{
    local word=${{COMP_WORDS[COMP_CWORD]}} before= command= options= words= files= i
    COMPREPLY=()
    ((COMP_CWORD > 0)) && before=${{COMP_WORDS[COMP_CWORD - 1]}}
    if [[ $word == = ]]; then
        word=
    elif [[ $before == = ]] && ((COMP_CWORD > 1)); then
        before=${{COMP_WORDS[COMP_CWORD - 2]}}
    fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        [[ ${{COMP_WORDS[i]}} == -* ]] && continue
        command=${{COMP_WORDS[i]}}
        break
    done
    case $command in
        '') options={} words={} ;;
{}    esac
    case $command:$before in
{}    esac
    if [[ $word == -* ]]; then
        words=$options files=
    fi
    if [[ -n $words ]]; then
        COMPREPLY=($(compgen -W "$words" -- "$word"))
    elif [[ -n $files ]]; then
        compopt -o filenames 2>/dev/null
        while IFS= read -r i; do COMPREPLY+=("$i"); done < <(compgen -f -- "$word")
    fi
}}
complete -F _headroom headroom
)",
                       in_quotes(option_words(general_options())), in_quotes(commands), cases,
                       values);
}

/// Text inside a zsh specification.
std::string zsh_text(const std::string &text) {
    std::string out;
    for (const char c : text) {
        if (c == '[' || c == ']' || c == ':' || c == '\\')
            out += '\\';
        out += c;
    }
    return out;
}

std::string zsh_values(const OptionFacts &option) {
    std::string kind = option.choices.empty() ? option.value : "one of";
    return fmt::format(":{}:{}", zsh_text(kind),
                       !option.choices.empty() ? fmt::format("({})", fmt::join(option.choices, " "))
                       : option.takes_file()   ? "_files"
                                               : " ");
}

std::string zsh() {
    std::string listed, cases;
    for (const CommandFacts &command : command_facts()) {
        listed += fmt::format(
            "        {}\n", in_quotes(fmt::format("{}:{}", command.name, zsh_text(command.what))));
        cases += fmt::format("        {})\n            _arguments", command.name);
        for (const OptionFacts &option : command.options)
            for (const std::string &name : option.names)
                cases += fmt::format(
                    " \\\n                {}",
                    in_quotes(fmt::format("({}){}[{}]{}", fmt::join(option.names, " "), name,
                                          zsh_text(option.what),
                                          option.value.empty() ? "" : zsh_values(option))));
        for (const OptionFacts &positional : command.positionals)
            cases +=
                fmt::format(" \\\n                {}",
                            in_quotes((positional.required ? "1" : "*") + zsh_values(positional)));
        cases += " ;;\n";
    }
    return fmt::format(R"(#compdef headroom
# Completion of headroom for zsh, made by `headroom completion zsh`.
_headroom() {{
    local -a commands
    commands=(
{})
    if ((CURRENT == 2)); then
        if [[ $words[2] == -* ]]; then
            compadd -- {}
        else
            _describe command commands
        fi
        return
    fi
    shift words
    ((CURRENT--))
    case $words[1] in
{}    esac
}}
if [[ $funcstack[1] == _headroom ]]; then
    _headroom "$@"
else
    compdef _headroom headroom
fi
)",
                       listed, option_words(general_options()), cases);
}

std::string fish_quoted(const std::string &text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\')
            out += '\\';
        out += c;
    }
    return out + "'";
}

std::string fish_option(const std::string &condition, const OptionFacts &option) {
    std::string out = "complete -c headroom" + condition;
    for (const std::string &name : option.names)
        out += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
    if (!option.choices.empty())
        out += fmt::format(" -x -a {}",
                           fish_quoted(fmt::format("{}", fmt::join(option.choices, " "))));
    else if (!option.value.empty())
        out += option.takes_file() ? " -r -F" : " -x";
    return out + fmt::format(" -d {}\n", fish_quoted(option.what));
}

std::string fish() {
    std::string out = "# Completion of headroom for fish, made by `headroom completion fish`.\n"
                      "complete -c headroom -f\n";
    for (const OptionFacts &option : general_options())
        out += fish_option(" -n __fish_use_subcommand", option);
    for (const CommandFacts &command : command_facts()) {
        out += fmt::format("complete -c headroom -n __fish_use_subcommand -a {} -d {}\n",
                           command.name, fish_quoted(command.what));
        const std::string within =
            fmt::format(" -n {}", fish_quoted("__fish_seen_subcommand_from " + command.name));
        for (const OptionFacts &option : command.options)
            out += fish_option(within, option);
        for (const OptionFacts &positional : command.positionals) {
            if (!positional.choices.empty())
                out +=
                    fmt::format("complete -c headroom{} -a {}\n", within,
                                fish_quoted(fmt::format("{}", fmt::join(positional.choices, " "))));
            else if (positional.takes_file())
                out += fmt::format("complete -c headroom{} -F\n", within);
        }
    }
    return out;
}

struct Shell {
    const char *name;
    std::string (*completion)();
};
constexpr std::array shells{Shell{"bash", bash}, Shell{"zsh", zsh}, Shell{"fish", fish}};

} // namespace

void completion_options(CLI::App &app, Arguments &arguments) {
    std::string names;
    for (const Shell &shell : shells)
        names += fmt::format("{}{}", names.empty() ? "" : "|", shell.name);
    app.add_option("shell", arguments.shell, "the shell to complete in")
        ->type_name(names)
        ->required();
}

ExitCode run_completion(const Arguments &arguments) {
    for (const Shell &shell : shells)
        if (arguments.shell == shell.name)
            return write_output(shell.completion(), arguments.output, arguments.text.colour)
                       ? ExitCode::answered
                       : ExitCode::cannot_write;
    complain("arguments", fmt::format("there is no completion for `{}`", arguments.shell),
             "`bash`, `zsh` or `fish`", arguments.text.colour);
    return ExitCode::bad_input;
}

} // namespace headroom::solver
