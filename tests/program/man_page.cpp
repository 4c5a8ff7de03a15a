// The manual has every command and option, and roff takes it without a warning.
#include "tests/support/commands.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <fmt/format.h>
#include <regex>
#include <string>

using namespace headroom::tests;
using Catch::Contains;

namespace {

std::string man_page() {
    const ProgramRun run = run_program({"man"});
    CHECK(run.exit_code == 0);
    CHECK(run.errors == "");
    return run.output;
}

/// The page as roff text, without its fonts and escapes.
std::string plain(std::string text) {
    text = std::regex_replace(text, std::regex(R"(\\f[BIR])"), "");
    text = std::regex_replace(text, std::regex(R"(\\-)"), "-");
    text = std::regex_replace(text, std::regex(R"(\\\(ga)"), "`");
    return std::regex_replace(text, std::regex(R"(\\\(aq)"), "'");
}

} // namespace

TEST_CASE("The manual has its sections in the usual order, every command, option and exit code") {
    const std::string text = plain(man_page());
    std::size_t at = 0;
    for (const std::string section : {".TH HEADROOM 1 ", ".SH NAME\nheadroom - ", ".SH SYNOPSIS\n",
                                      ".SH DESCRIPTION\n", ".SH COMMANDS\n", ".SH OPTIONS\n",
                                      ".SH EXIT STATUS\n", ".SH EXAMPLES\n", ".SH CAUTIONS\n"}) {
        INFO(section);
        const std::size_t next = text.find(section, at);
        REQUIRE(next != std::string::npos);
        at = next;
    }
    for (const std::string &command : program_commands()) {
        INFO(command);
        CHECK_THAT(text, Contains(".SS \"headroom " + command + "\"\n"));
        CHECK_THAT(text, Contains(".TP\n" + help_example(command) + "\n"));
    }
    for (const std::string option :
         {"--format text|json|csv", "-o, --output FILE", "--proposal NAME", "--solves N",
          "--single-circulator", "--with FILE", "--source heat_pump|boiler", "--version"})
        CHECK_THAT(text, Contains(".TP\n" + option + "\n"));
    for (int code = 0; code <= 5; ++code)
        CHECK_THAT(text.substr(text.find(".SH EXIT STATUS")),
                   Contains(fmt::format(".TP\n{}\n", code)));
}

TEST_CASE("No line of the manual begins with a quote or a dot that roff would take for a request") {
    std::istringstream lines(man_page());
    const std::regex request(R"re(\.(TH|SH|SS|TP|PP|\\")( .*)?)re");
    for (std::string line; std::getline(lines, line);) {
        INFO(line);
        CHECK_FALSE(line.starts_with("'"));
        CHECK((!line.starts_with(".") || std::regex_match(line, request)));
        CHECK_FALSE(line.empty());
        for (const char c : line)
            CHECK(static_cast<unsigned char>(c) < 0x80);
    }
}

TEST_CASE("groff sets the manual without a warning") {
    if (std::system("command -v groff >/dev/null 2>&1") != 0)
        return; // its structure is checked above
    const TemporaryFolder folder;
    write_file(folder / "headroom.1", man_page());
    const int status =
        std::system(fmt::format("cd '{}' && groff -man -Tascii -ww headroom.1 >out 2>errors",
                                folder.path().string())
                        .c_str());
    if (status != 0 && file_text(folder / "errors").find("macro file") != std::string::npos)
        return; // a groff without its manual macros
    CHECK(status == 0);
    CHECK(file_text(folder / "errors") == "");
    CHECK_THAT(file_text(folder / "out"), Contains("headroom"));
}
