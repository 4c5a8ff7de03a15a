// Completion scripts are what their shells take, and complete what the program has.
#include "tests/support/commands.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <set>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;
using Words = std::set<std::string>;

namespace {

std::string script_for(const std::string &shell) {
    const ProgramRun run = run_program({"completion", shell});
    CHECK(run.exit_code == 0);
    CHECK(run.errors == "");
    return run.output;
}

bool installed(const std::string &shell) {
    return std::system(fmt::format("command -v {} >/dev/null 2>&1", shell).c_str()) == 0;
}

/// What bash offers for the last of the words, typed in a folder that holds the files named.
Words completed(const std::vector<std::string> &words,
                const std::vector<std::string> &files = {"house.yaml", "my house.yaml"}) {
    const TemporaryFolder folder;
    const TemporaryFolder scripts;
    for (const std::string &file : files)
        write_file(folder / file, "");
    write_file(scripts / "headroom.bash", script_for("bash"));
    std::string line;
    for (const std::string &word : words)
        line += fmt::format(" '{}'", word);
    write_file(scripts / "try.bash",
               fmt::format("source '{}' || exit 1\n"
                           "COMP_WORDS=({})\n"
                           "COMP_CWORD={}\n"
                           "_headroom\n"
                           "printf '%s\\n' \"${{COMPREPLY[@]}}\"\n",
                           (scripts / "headroom.bash").string(), line, words.size() - 1));
    const int status =
        std::system(fmt::format("cd '{}' && bash '{}' >'{}' 2>'{}'", folder.path().string(),
                                (scripts / "try.bash").string(), (scripts / "out").string(),
                                (scripts / "errors").string())
                        .c_str());
    CHECK(status == 0);
    CHECK(file_text(scripts / "errors") == "");
    std::istringstream lines(file_text(scripts / "out"));
    Words out;
    for (std::string word; std::getline(lines, word);)
        if (!word.empty())
            out.insert(word);
    return out;
}

/// Options that a command's help lists.
Words help_options(const std::string &command) {
    std::istringstream lines(run_program({command, "--help"}).output);
    Words out;
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with("  -"))
            continue;
        std::istringstream names(line.substr(2, line.find(' ', 2) - 2));
        for (std::string name; std::getline(names, name, ',');)
            out.insert(name);
    }
    return out;
}

} // namespace

TEST_CASE("Each shell that is installed takes its completion script") {
    const TemporaryFolder folder;
    for (const auto &[shell, check] : std::vector<std::pair<std::string, std::string>>{
             {"bash", "bash -n"}, {"zsh", "zsh -n"}, {"fish", "fish --no-execute"}}) {
        INFO(shell);
        const std::string script = script_for(shell);
        for (const std::string &command : program_commands())
            CHECK_THAT(script, Contains(command));
        write_file(folder / shell, script);
        const std::string errors = folder / "errors";
        if (installed(shell)) {
            CHECK(
                std::system(fmt::format("{} '{}' 2>'{}'", check, (folder / shell).string(), errors)
                                .c_str()) == 0);
            CHECK(file_text(errors) == "");
        }
    }
}

TEST_CASE("A command's first letters are completed to the commands that begin so") {
    CHECK(completed({"headroom", "dr"}) == Words{"drill", "drive"});
    const std::vector<std::string> commands = program_commands();
    CHECK(completed({"headroom", ""}) == Words(commands.begin(), commands.end()));
    CHECK(completed({"headroom", "zz"}) == Words{});
}

TEST_CASE("Each command's options are completed, all of them and no others") {
    for (const std::string &command : program_commands()) {
        INFO(command);
        const Words options = help_options(command);
        CHECK(options.contains("--help"));
        CHECK(completed({"headroom", command, "-"}) == options);
    }
    CHECK(completed({"headroom", "--v"}) == Words{"--version"});
}

TEST_CASE("An option's value is completed to the words it takes, to files, or not at all") {
    const Words formats{"text", "json", "csv"};
    const Words files{"house.yaml", "my house.yaml"};
    CHECK(completed({"headroom", "drive", "--format", ""}) == formats);
    CHECK(completed({"headroom", "drive", "house.yaml", "--format", "=", "j"}) == Words{"json"});
    CHECK(completed({"headroom", "drive", "--format", "="}) == formats);
    CHECK(completed({"headroom", "new", "--source", ""}) == Words{"heat_pump", "boiler"});
    CHECK(completed({"headroom", "completion", ""}) == Words{"bash", "zsh", "fish"});
    CHECK(completed({"headroom", "drive", ""}) == files);
    CHECK(completed({"headroom", "drive", "my"}) == Words{"my house.yaml"});
    CHECK(completed({"headroom", "drive", "house.yaml", "-o", "h"}) == Words{"house.yaml"});
    CHECK(completed({"headroom", "compare", "house.yaml", "--with", ""}) == files);
    CHECK(completed({"headroom", "drive", "--proposal", ""}) == Words{});
    CHECK(completed({"headroom", "new", "--name", ""}) == Words{});
}

TEST_CASE("What is completed for `dr` in fish are the same commands") {
    if (!installed("fish"))
        return;
    const TemporaryFolder folder;
    write_file(folder / "headroom.fish", script_for("fish"));
    const int status = std::system(
        fmt::format("cd '{0}' && HOME='{0}' fish --no-config -c 'source headroom.fish; complete -C "
                    "\"headroom dr\"' >'{0}/out' 2>'{0}/errors'",
                    folder.path().string())
            .c_str());
    CHECK(status == 0);
    std::istringstream lines(file_text(folder / "out"));
    Words words;
    for (std::string line; std::getline(lines, line);)
        words.insert(line.substr(0, line.find('\t')));
    CHECK(words == Words{"drill", "drive"});
}

TEST_CASE("A shell without a completion ends with 2 and names those that have one") {
    for (const std::vector<std::string> &arguments :
         std::vector<std::vector<std::string>>{{"completion", "csh"}, {"completion"}}) {
        const ProgramRun run = run_program(arguments);
        CHECK(run.exit_code == 2);
        CHECK(run.output.empty());
    }
    CHECK_THAT(run_program({"completion", "csh"}).errors, Contains("`bash`, `zsh` or `fish`"));
}
