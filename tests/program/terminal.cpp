// Text on a terminal: its width, its colours, its characters; and in a pipe none of that.
#include "solver/report/characters.hpp"
#include "tests/support/run_program.hpp"
#include "tests/support/small_house.hpp"
#include "tests/support/terminal_run.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <regex>
#include <set>
#include <sstream>

using namespace headroom::tests;
using headroom::solver::display_width;

namespace {

const std::vector<std::string> usual{"TERM=xterm", "LANG=C.UTF-8"};

std::vector<std::string> with(std::vector<std::string> environment, const std::string &setting) {
    environment.push_back(setting);
    return environment;
}

std::string example(const std::string &name) {
    return std::string(SOURCE_DIR) + "/networks/examples/" + name + ".yaml";
}

std::vector<std::string> lines_of(const std::string &text) {
    std::vector<std::string> out;
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);)
        out.push_back(line);
    return out;
}

std::string without_colour(const std::string &text) {
    return std::regex_replace(text, std::regex("\033\\[[0-9;]*m"), "");
}

bool coloured(const std::string &text) {
    return text.find("\033[") != std::string::npos;
}

bool is_ascii(const std::string &text) {
    return std::all_of(text.begin(), text.end(),
                       [](char c) { return static_cast<unsigned char>(c) < 0x80U; });
}

/// Sets a variable of this process, and takes it back.
class Setting {
public:
    Setting(std::string name, const char *value) : name_(std::move(name)) {
        if (const char *now = std::getenv(name_.c_str()))
            before_ = now;
        ::setenv(name_.c_str(), value, 1);
    }
    ~Setting() {
        if (before_.empty())
            ::unsetenv(name_.c_str());
        else
            ::setenv(name_.c_str(), before_.c_str(), 1);
    }
    Setting(const Setting &) = delete;
    Setting &operator=(const Setting &) = delete;

private:
    std::string name_;
    std::string before_;
};

} // namespace

TEST_CASE("On a terminal every line keeps to its width, and no figure is lost") {
    for (const std::string question :
         {"drive", "balance", "flows", "bores", "pump", "drill", "season", "fill"})
        for (const int columns : {80, 120}) {
            const std::string house = example("header-three-pumps");
            INFO(question << " " << columns);
            const TerminalRun run =
                run_in_terminal({question, house, "--color", "never"}, columns, usual);
            for (const std::string &line : lines_of(run.output)) {
                INFO(line);
                CHECK(display_width(line) <= columns);
            }
            // The figures of the pipe's text, in whatever order tables had to be broken.
            const auto figures = [](const std::string &text) {
                std::multiset<std::string> out;
                const std::regex figure("[0-9]+\\.[0-9]+");
                for (std::sregex_iterator it(text.begin(), text.end(), figure), end; it != end;
                     ++it)
                    out.insert(it->str());
                return out;
            };
            const auto shown = figures(run.output);
            for (const std::string &figure : figures(run_program({question, house}).output))
                CHECK(shown.contains(figure));
        }
}

TEST_CASE("A terminal that does not know its width takes COLUMNS, or else a hundred") {
    const std::string house = example("small-bore-long");
    const auto widest = [&](const std::vector<std::string> &environment) {
        int width = 0;
        for (const std::string &line :
             lines_of(without_colour(run_in_terminal({"drive", house}, 0, environment).output)))
            width = std::max(width, display_width(line));
        return width;
    };
    CHECK(widest(with(usual, "COLUMNS=64")) <= 64);
    CHECK(widest(usual) <= 100);
    CHECK(widest(usual) > 90);
}

TEST_CASE("Names cut for a narrow terminal stay different from each other") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse house;
    house.loop = "the long corridor between kitchen and garden, 1";
    std::string text = house.text();
    const std::string second = "other";
    text.replace(text.find(second), second.size(),
                 yaml_quoted("the long corridor between kitchen and garden, 2"));
    write_file(file, text);
    const TerminalRun run = run_in_terminal({"flows", file, "--color", "never"}, 60, usual);
    const std::vector<std::string> lines = lines_of(run.output);
    const auto head = std::find_if(lines.begin(), lines.end(), [](const std::string &line) {
        return line.starts_with("  loop or radiator");
    });
    REQUIRE(lines.end() - head > 2);
    const std::string first_name = head[1].substr(0, head[1].find("  ", 2));
    const std::string second_name = head[2].substr(0, head[2].find("  ", 2));
    INFO(head[0] << "\n" << head[1] << "\n" << head[2]);
    CHECK(first_name != second_name);
    CHECK_THAT(first_name, Catch::Contains("\u2026"));
}

TEST_CASE("Columns of a table line up under names of any script") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse house;
    house.loop = "家の居間 é";
    write_file(file, house.text());
    const std::string text = run_program({"drive", file}).output;
    const std::vector<std::string> lines = lines_of(text.substr(text.find("\nEvery loop")));
    // Head, then the two loops: right-aligned figures end at the same column.
    REQUIRE(lines.size() > 4);
    CHECK_THAT(lines[3], Catch::Contains("家の居間 é"));
    CHECK(display_width(lines[3]) == display_width(lines[4]));
    CHECK(display_width(lines[3]) == display_width(lines[2]));
}

TEST_CASE("Widths of characters are those of Unicode: wide, plain, combining") {
    // Unicode Standard Annex 11 by Python's unicodedata, and one byte that is no UTF-8.
    CHECK(display_width("Kueche") == 6);
    CHECK(display_width("Küche") == 5);
    CHECK(display_width("Ku\u0308che") == 5);
    CHECK(display_width("家") == 2);
    CHECK(display_width("ﾊ") == 1);
    CHECK(display_width("한국") == 4);
    CHECK(display_width("\u2026") == 1);
    CHECK(display_width("\xFFz") == 2);
}

TEST_CASE("Colour stands on a terminal alone, and stresses what the words say") {
    const std::string house = example("direct-16mm");
    const TerminalRun colour = run_in_terminal({"drive", house}, 120, usual);
    CHECK(colour.exit_code == 0);
    CHECK_THAT(colour.output, Catch::Contains("\033[1;32myes:\033[0m one circulator"));
    CHECK_THAT(colour.output, Catch::Contains("\033[1;32mgood\033[0m"));
    const TerminalRun plain = run_in_terminal({"drive", house, "--color", "never"}, 120, usual);
    CHECK_FALSE(coloured(plain.output));
    CHECK(without_colour(colour.output) == plain.output);
    const TerminalRun no = run_in_terminal({"drive", example("header-three-pumps")}, 120, usual);
    CHECK(no.exit_code == 1);
    CHECK_THAT(no.output, Catch::Contains("\033[1;31mhydraulically yes, thermally no:\033[0m"));
}

TEST_CASE("NO_COLOR with any value, TERM=dumb, a file and a pipe mean no colour") {
    const TemporaryFolder folder;
    const std::string house = example("direct-16mm");
    const auto shown = [&](const std::vector<std::string> &environment,
                           std::vector<std::string> arguments = {}) {
        arguments.insert(arguments.begin(), {"losses", example("fabric-losses")});
        return coloured(run_in_terminal(arguments, 100, environment).output);
    };
    CHECK(shown(usual));
    CHECK_FALSE(shown(with(usual, "NO_COLOR=1")));
    CHECK(shown(with(usual, "NO_COLOR=")));
    CHECK_FALSE(shown({"TERM=dumb", "LANG=C.UTF-8"}));
    CHECK(shown(with(usual, "NO_COLOR=1"), {"--color", "always"}));
    CHECK(shown(usual, {"--colour", "auto"}));
    const std::string file = folder / "out.txt";
    CHECK(run_in_terminal({"losses", example("fabric-losses"), "-o", file}, 60, usual).exit_code ==
          0);
    CHECK(file_text(file) == run_program({"losses", example("fabric-losses")}).output);
    CHECK(coloured(run_program({"losses", example("fabric-losses"), "--color", "always"}).output));
    CHECK(run_program({"losses", house, "--color", "sometimes"}).exit_code == 2);
}

TEST_CASE("Complaints are coloured on a terminal by the same rules, and say the same without") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    write_file(file, "house: x\nrooms: {a: {indoor: 20}}\n");
    const auto shown = [&](const std::vector<std::string> &environment,
                           std::vector<std::string> arguments = {}) {
        arguments.insert(arguments.begin(), {"drive", file});
        const TerminalRun run = run_in_terminal(arguments, 100, environment, true);
        CHECK(run.exit_code == 2);
        return run.output;
    };
    const std::string piped = run_program({"drive", file}).errors;
    CHECK_FALSE(coloured(piped));
    const std::string colour = shown(usual);
    CHECK(without_colour(colour) == piped);
    CHECK_THAT(colour, Catch::StartsWith("\033[1;31merror["));
    CHECK_THAT(colour, Catch::Contains("\033[1;32mhelp:\033[0m "));
    CHECK_THAT(colour, Catch::Contains("\033[1;31m^^\033[0m\n"));
    CHECK(shown(with(usual, "NO_COLOR=1")) == piped);
    CHECK(shown({"TERM=dumb", "LANG=C.UTF-8"}) == piped);
    CHECK(shown(usual, {"--color", "never"}) == piped);
    CHECK(coloured(shown(with(usual, "NO_COLOR=1"), {"--color", "always"})));
    CHECK(coloured(run_in_terminal({"flaws", file}, 100, usual, true).output));
    CHECK_FALSE(coloured(run_program({"flaws", file}).errors));
}

TEST_CASE("Text in a pipe is the same whatever terminal, width, locale or colour is stated") {
    const std::string house = example("small-bore-long");
    for (const std::string question : {"drive", "flows", "balance"}) {
        INFO(question);
        const std::string before = run_program({question, house}).output;
        const Setting columns("COLUMNS", "40");
        const Setting terminal("TERM", "xterm-256color");
        const Setting locale("LC_ALL", "C");
        CHECK(run_program({question, house}).output == before);
    }
}

TEST_CASE("A terminal whose locale is not UTF-8 gets ASCII, and --ascii gives it anywhere") {
    const TemporaryFolder folder;
    const std::string file = folder / "house.yaml";
    SmallHouse house;
    house.name = "Zoë's Häuschen — 家";
    house.loop = "Küche Süd";
    write_file(file, house.text());
    CHECK_FALSE(is_ascii(run_in_terminal({"drive", file}, 100, usual).output));
    CHECK_FALSE(is_ascii(run_program({"drive", file}).output));
    const std::string c = run_in_terminal({"drive", file}, 100, {"TERM=xterm", "LANG=C"}).output;
    CHECK(is_ascii(c));
    CHECK_THAT(without_colour(c), Catch::StartsWith("Zoe's Haeuschen - <U+5BB6>\n"));
    CHECK_THAT(c, Catch::Contains("Kueche Sued"));
    // LC_ALL stands above LC_CTYPE, and that above LANG.
    CHECK_FALSE(is_ascii(
        run_in_terminal({"drive", file}, 100, {"TERM=xterm", "LANG=C", "LC_ALL=de_DE.utf8"})
            .output));
    CHECK(
        is_ascii(run_in_terminal({"drive", file}, 100, {"LANG=C.UTF-8", "LC_CTYPE=POSIX"}).output));
    CHECK(is_ascii(run_program({"drive", file, "--ascii"}).output));
    CHECK_FALSE(is_ascii(run_program({"drive", file, "--ascii", "--format", "json"}).output));
}
