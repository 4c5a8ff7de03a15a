// `headroom new`: what it writes is read and answered, and says what has to be checked.
#include "tests/support/run_program.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <map>
#include <pty.h>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::tests;
using Catch::Contains;
using Catch::StartsWith;
using nlohmann::json;

namespace {

using Answers = std::map<std::string, std::string>;

const Answers usual{{"--name", "Quayside Cottage"},
                    {"--source", "heat_pump"},
                    {"--circuits", "direct"},
                    {"--outdoor", "-3 degC"},
                    {"--rooms", "kitchen=22 m2, hall=9 m2"},
                    {"--loop-pipe", "pex 16x2"}};

Answers with(Answers answers, const std::string &option, const std::string &answer) {
    answers[option] = answer;
    return answers;
}

ProgramRun run_new(const Answers &answers, const std::vector<std::string> &more = {}) {
    std::vector<std::string> arguments{"new"};
    for (const auto &[option, answer] : answers) {
        arguments.push_back(option);
        arguments.push_back(answer);
    }
    arguments.insert(arguments.end(), more.begin(), more.end());
    return run_program(arguments);
}

std::string new_house(const Answers &answers) {
    const ProgramRun run = run_new(answers);
    CHECK(run.exit_code == 0);
    CHECK(run.errors == "");
    return run.output;
}

/// Solved without a search for changes; its JSON.
json driven(const std::string &house) {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, house);
    const ProgramRun run = run_program({"drive", file, "--solves", "0", "--format", "json"});
    CHECK((run.exit_code == 0 || run.exit_code == 1));
    CHECK(run.errors == "");
    return json::parse(run.output);
}

std::vector<std::string> lines_of(const std::string &text) {
    std::vector<std::string> out;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);)
        out.push_back(line);
    return out;
}

std::vector<Answers> all_combinations() {
    std::vector<Answers> out{{{"--name", "Any"}, {"--outdoor", "-8 degC"}}};
    const auto each = [&](const std::string &option, const std::vector<std::string> &answers) {
        std::vector<Answers> more;
        for (const Answers &so_far : out)
            for (const std::string &answer : answers)
                more.push_back(with(so_far, option, answer));
        out = std::move(more);
    };
    each("--source", {"heat_pump", "boiler"});
    each("--circuits", {"direct", "header"});
    each("--rooms", {"130 m2", "kitchen=22 m2, hall=9 m2"});
    each("--loop-pipe", {"pex 10x1.3", "pert 12x1.4", "multilayer 16x2", "pex 20x2"});
    each("--radiators", {"0", "3"});
    each("--glycol", {"none", "30 %"});
    each("--hot-water", {"no", "yes"});
    return out;
}

/// Types what is given on a terminal of its own; what the program showed there, and how it ended.
ProgramRun run_on_terminal(const std::vector<std::string> &arguments, const std::string &typed) {
    std::string program = PROGRAM;
    std::vector<std::string> words = arguments;
    std::vector<char *> argv{program.data()};
    for (std::string &word : words)
        argv.push_back(word.data());
    argv.push_back(nullptr);
    int terminal = -1;
    const pid_t child = ::forkpty(&terminal, nullptr, nullptr, nullptr);
    REQUIRE(child >= 0);
    if (child == 0) {
        ::execv(program.c_str(), argv.data());
        ::_exit(127);
    }
    REQUIRE(::write(terminal, typed.data(), typed.size()) == static_cast<ssize_t>(typed.size()));
    ProgramRun run;
    char buffer[4096];
    for (ssize_t n = 0; (n = ::read(terminal, buffer, sizeof buffer)) > 0;)
        run.errors.append(buffer, static_cast<std::size_t>(n));
    ::close(terminal);
    int status = 0;
    ::waitpid(child, &status, 0);
    run.exit_code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return run;
}

} // namespace

TEST_CASE("Every combination of answers gives a house that is read and driven without a fault") {
    const std::vector<Answers> all = all_combinations();
    CHECK(all.size() == 256);
    for (const Answers &answers : all) {
        std::string words;
        for (const auto &[option, answer] : answers)
            words += option + " " + answer + " ";
        INFO(words);
        const std::string house = new_house(answers);
        const json answer = driven(house);
        CHECK(answer.at("house") == "Any");
        CHECK((house.find("hot_water:\n") != std::string::npos) ==
              (answers.at("--hot-water") == "yes"));
        CHECK((house.find("\nheader:") != std::string::npos) ==
              (answers.at("--circuits") == "header"));
        const auto states = answer.at("states").dump();
        CHECK((states.find("hot water") != std::string::npos) ==
              (answers.at("--hot-water") == "yes"));
        std::size_t radiators = 0;
        for (const json &emitter : answer.at("emitters"))
            radiators += std::string(emitter.at("name")).starts_with("upstairs");
        CHECK(std::to_string(radiators) == answers.at("--radiators"));
    }
}

TEST_CASE("A name comes back as it was given, whatever is in it") {
    for (const std::string name :
         {"a: b # c \"x\"", "it's {here}, [there]", "- x", "yes", "007", "back\\slash\\n", "~",
          "*a &b !c %d @e `f`", "Zoë's Häuschen — 家 ☀", "? key", "'quoted'", "a #b"}) {
        INFO(name);
        CHECK(driven(new_house(with(usual, "--name", name))).at("house") == name);
        if (name.find_first_of("=,") != std::string::npos)
            continue;
        const json answer = driven(new_house(with(usual, "--rooms", name + "=12 m2, hall=9 m2")));
        CHECK(answer.at("emitters")[0].at("name") == name + " 1");
    }
}

TEST_CASE("Every line with a figure nobody gave is marked to be checked") {
    for (const Answers &answers :
         {usual, with(with(usual, "--source", "boiler"), "--circuits", "header"),
          with(with(with(usual, "--hot-water", "yes"), "--radiators", "2"), "--glycol", "25 %"),
          with(usual, "--rooms", "80 m2")}) {
        int marked = 0;
        for (const std::string &line : lines_of(new_house(answers))) {
            INFO(line);
            const bool marks = line.find("check:") != std::string::npos;
            marked += marks;
            const std::size_t text = line.find_first_not_of(' ');
            if (text == std::string::npos || line[text] == '#' || line.starts_with("design_day"))
                continue;
            CHECK((marks || line.find_first_of("0123456789") == std::string::npos));
        }
        CHECK(marked >= 15);
    }
    CHECK_THAT(new_house(with(usual, "--flow-temperature", "38 degC")),
               Contains("flow_temperature: 38 degC # on the design day"));
}

TEST_CASE("What nobody said of glycol, radiators and hot water is asked again in the file") {
    const std::string silent = new_house(usual);
    const std::string told = new_house(
        with(with(with(usual, "--glycol", "none"), "--radiators", "0"), "--hot-water", "no"));
    for (const std::string remark :
         {"check: no glycol", "check: no radiators", "heat a cylinder"}) {
        CHECK_THAT(silent, Contains(remark));
        CHECK_THAT(told, !Contains(remark));
    }
}

TEST_CASE("In a pipe what decides must be given, and all that is missing is listed at once") {
    const ProgramRun none = run_new({});
    CHECK(none.exit_code == 2);
    CHECK(none.output.empty());
    CHECK_THAT(none.errors, StartsWith("error[missing-answers]: "));
    for (const auto &[option, answer] : usual) {
        CHECK_THAT(none.errors, Contains("\n  " + option + " "));
        Answers rest = usual;
        rest.erase(option);
        const ProgramRun one = run_new(rest);
        CHECK(one.exit_code == 2);
        CHECK(one.output.empty());
        CHECK_THAT(one.errors, Contains("\n  " + option + " "));
        for (const auto &[other, value] : rest)
            CHECK_THAT(one.errors, !Contains("\n  " + other + " "));
    }
}

TEST_CASE("An answer that cannot be taken ends with 2 and says which and why") {
    for (const auto &[option, answer] : std::vector<std::pair<std::string, std::string>>{
             {"--name", ""},
             {"--name", " "},
             {"--name", "two\nlines"},
             {"--name", "\xff\xfe"},
             {"--source", "gas"},
             {"--circuits", "both"},
             {"--outdoor", "-3"},
             {"--outdoor", "40 degC"},
             {"--outdoor", "3 m"},
             {"--rooms", ""},
             {"--rooms", "0 m2"},
             {"--rooms", "kitchen=22"},
             {"--rooms", "kitchen=22 m2, hall"},
             {"--rooms", "kitchen=22 m2, kitchen=9 m2"},
             {"--rooms", "=22 m2"},
             {"--loop-pipe", "pex 16"},
             {"--loop-pipe", "straw 12"},
             {"--radiators", "two"},
             {"--radiators", "-1"},
             {"--radiators", "2.5"},
             {"--radiators", "99999999999"},
             {"--glycol", "25"},
             {"--glycol", "90 %"},
             {"--hot-water", "maybe"},
             {"--flow-temperature", "400 degC"}}) {
        INFO(option << " " << answer);
        const ProgramRun run = run_new(with(usual, option, answer));
        CHECK(run.exit_code == 2);
        CHECK(run.output.empty());
        CHECK_THAT(run.errors,
                   StartsWith("error[arguments]: " + option + ": ") && Contains("\nhelp: "));
    }
}

TEST_CASE("Answers that make no house together end with 2 and are shown where they clash") {
    const ProgramRun run = run_new(with(usual, "--flow-temperature", "25 degC"));
    CHECK(run.exit_code == 2); // water would come back colder than the rooms
    CHECK(run.output.empty());
    CHECK_THAT(run.errors, Contains("error[too-cold]") && Contains("new house:"));
}

TEST_CASE("A file that is already there is written over only when told so") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, "a survey");
    const ProgramRun kept = run_new(usual, {"-o", file});
    CHECK(kept.exit_code == 2);
    CHECK_THAT(kept.errors, StartsWith("error[file-exists]: ") && Contains(file));
    CHECK(file_text(file) == "a survey");
    CHECK(run_new(usual, {"-o", file, "--overwrite"}).exit_code == 0);
    CHECK(file_text(file) == new_house(usual));
    CHECK(run_new(usual, {"-o", folder / "other.yaml"}).exit_code == 0);
    CHECK(file_text(folder / "other.yaml") == new_house(usual));
    CHECK(folder.names().size() == 2);
    CHECK(run_new(usual, {"-o", folder / "none/house.yaml"}).exit_code == 5);
    CHECK(run_new(usual, {"-o", "/dev/null"}).exit_code == 0); // no regular file: nothing to lose
}

TEST_CASE("On a terminal what is not given is asked, and asked again where it cannot be taken") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    const ProgramRun run = run_on_terminal(
        {"new", "--name", "Quayside Cottage", "-o", file},
        "stove\nheat_pump\ndirect\n-3\n-3 degC\nkitchen=22 m2, hall=9 m2\npex 16x2\n2\n\n\n\n");
    INFO(run.errors);
    CHECK(run.exit_code == 0);
    CHECK_THAT(run.errors, Contains("heat_pump|boiler") && Contains("neither") &&
                               Contains("degC") && !Contains("the house's name"));
    CHECK(file_text(file) == new_house(with(usual, "--radiators", "2")));
}

TEST_CASE("A terminal closed before all that decides is answered ends with 2, else as in a pipe") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    const ProgramRun run = run_on_terminal({"new", "-o", file}, "Quayside Cottage\n\x04");
    CHECK(run.exit_code == 2);
    CHECK_THAT(run.errors, Contains("error[missing-answers]") && Contains("--source") &&
                               Contains("--loop-pipe") && !Contains("--name"));
    CHECK(folder.names().empty());
    const std::string all = "A\nboiler\ndirect\n0 degC\n30 m2\npex 16x2\n\x04";
    CHECK(run_on_terminal({"new", "-o", file}, all).exit_code == 0); // the rest as in a pipe
    CHECK_THAT(file_text(file), Contains("check: no radiators"));
}

TEST_CASE("A house of radiators alone has no manifold, asks for no loop pipe and reads back") {
    Answers answers = with(with(usual, "--rooms", "none"), "--radiators", "6");
    answers.erase("--loop-pipe");
    for (const std::string source : {"boiler", "heat_pump"})
        for (const std::string circuits : {"direct", "header"}) {
            INFO(source << " " << circuits);
            const std::string house =
                new_house(with(with(answers, "--source", source), "--circuits", circuits));
            CHECK_THAT(house, !Contains("manifold") && Contains("output: 700 W"));
            const json answer = driven(house);
            CHECK(answer.at("emitters").size() == 6);
            CHECK(answer.at("heat").size() == 6); // described: output against need is told
        }
    answers.erase("--radiators");
    const ProgramRun none = run_new(answers);
    CHECK(none.exit_code == 2);
    CHECK_THAT(none.errors, Contains("\n  --radiators ") && !Contains("--loop-pipe"));
    CHECK_THAT(run_new(with(answers, "--radiators", "0")).errors,
               Contains("needs radiators") && Contains("from 1 to"));
    CHECK_THAT(run_on_terminal({"new"}, "A\nboiler\ndirect\n0 degC\nnone\n2\n\n\n\n").errors,
               !Contains("pipe of the floor loops"));
}
