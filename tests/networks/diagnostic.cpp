#include "networks/diagnostic.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::networks;

namespace {

std::string shown(const std::string &line, Place place) {
    return render({Severity::Error, "code", "message", place, ""}, {"house.yaml", line});
}

} // namespace

TEST_CASE("A diagnostic shows message, place, line, carets and help") {
    const SourceText source{"house.yaml", "house: A\nruns:\n  - {lenght: 9 m}\n"};
    CHECK(render({Severity::Error,
                  "unknown-key",
                  "run has no key `lenght`",
                  {3, 6, 6},
                  "did you mean `length`?"},
                 source) == "error[unknown-key]: run has no key `lenght`\n"
                            "  --> house.yaml:3:6\n"
                            " 3 |   - {lenght: 9 m}\n"
                            "   |      ^^^^^^\n"
                            "help: did you mean `length`?\n");
}

TEST_CASE("A warning says so, and a diagnostic without help shows none") {
    CHECK(render({Severity::Warning, "curve-droops", "this rises", {1, 1, 4}, ""},
                 {"house.yaml", "pump: 1"}) == "warning[curve-droops]: this rises\n"
                                               "  --> house.yaml:1:1\n"
                                               " 1 | pump: 1\n"
                                               "   | ^^^^\n");
}

TEST_CASE("A fault of the file as a whole shows no line") {
    CHECK(shown("a: 1", {}) == "error[code]: message\n  --> house.yaml\n");
}

TEST_CASE("Carets stand below characters, not bytes") {
    CHECK(shown("küche: größe", {1, 8, 5}) == "error[code]: message\n"
                                              "  --> house.yaml:1:8\n"
                                              " 1 | küche: größe\n"
                                              "   |        ^^^^^\n");
}

TEST_CASE("Carets end where the line ends") {
    CHECK(shown("a: 12", {1, 4, 40}) == "error[code]: message\n"
                                        "  --> house.yaml:1:4\n"
                                        " 1 | a: 12\n"
                                        "   |    ^^\n");
}

TEST_CASE("A place beyond its line or its file is shown at the line's end") {
    CHECK(shown("a: 1", {1, 90, 1}) == "error[code]: message\n"
                                       "  --> house.yaml:1:90\n"
                                       " 1 | a: 1\n"
                                       "   |     ^\n");
    CHECK(shown("a: 1", {7, 1, 1}) == "error[code]: message\n"
                                      "  --> house.yaml:7:1\n"
                                      " 7 | \n"
                                      "   | ^\n");
}

TEST_CASE("Tabs, carriage returns and stray bytes do not move the carets") {
    CHECK(shown("\ta:\t12\r\nb: 2\r\n", {1, 5, 2}) == "error[code]: message\n"
                                                      "  --> house.yaml:1:5\n"
                                                      " 1 |  a: 12\n"
                                                      "   |     ^^\n");
    CHECK(shown("a\xE4: 12", {1, 5, 2}) == "error[code]: message\n"
                                           "  --> house.yaml:1:5\n"
                                           " 1 | a?: 12\n"
                                           "   |     ^^\n");
}

TEST_CASE("A byte order mark takes no column") {
    CHECK(shown("\xEF\xBB\xBFhause: A", {1, 1, 5}) == "error[code]: message\n"
                                                      "  --> house.yaml:1:1\n"
                                                      " 1 | hause: A\n"
                                                      "   | ^^^^^\n");
}

TEST_CASE("A long line is cut to the part around the fault") {
    const std::string line = std::string(300, 'a') + "FAULT" + std::string(300, 'b');
    const std::string before = "..." + std::string(40, 'a');
    CHECK(shown(line, {1, 301, 5}) == "error[code]: message\n"
                                      "  --> house.yaml:1:301\n"
                                      " 1 | " +
                                          before + "FAULT" + std::string(72, 'b') + "...\n" +
                                          "   | " + std::string(before.size(), ' ') + "^^^^^\n");
    CHECK(shown(line, {1, 3, 2}) == "error[code]: message\n"
                                    "  --> house.yaml:1:3\n"
                                    " 1 | " +
                                        std::string(120, 'a') + "...\n   |   ^^\n");
}

TEST_CASE("Control characters in a message cannot steer the terminal") {
    const std::string text =
        render({Severity::Error, "code", "bad \x1b[31m\nname", {}, "\x07"}, {"house.yaml", ""});
    CHECK(text == "error[code]: bad  [31m name\n  --> house.yaml\nhelp:  \n");
}

TEST_CASE("A message that quotes a whole file is cut after a thousand characters") {
    const std::string long_word(5000, 'x');
    const std::string text = render({Severity::Error, "code", long_word, {}, long_word}, {"h", ""});
    const std::string cut = std::string(1000, 'x') + "...";
    CHECK(text == "error[code]: " + cut + "\n  --> h\nhelp: " + cut + "\n");
    const std::string whole(1000, 'x');
    CHECK(render({Severity::Error, "code", whole, {}, ""}, {"h", ""}) ==
          "error[code]: " + whole + "\n  --> h\n");
}

TEST_CASE("Diagnostics come in the order of their places, equal places in the order found") {
    Diagnostics diagnostics;
    diagnostics.error("third", {4, 2, 1}, "m");
    diagnostics.warning("second", {4, 1, 1}, "m");
    diagnostics.error("fourth", {4, 2, 1}, "m");
    diagnostics.error("first", {}, "m");
    std::vector<std::string> codes;
    for (const Diagnostic &d : diagnostics.sorted())
        codes.push_back(d.code);
    CHECK(codes == std::vector<std::string>{"first", "second", "third", "fourth"});
}

TEST_CASE("Warnings alone are no errors") {
    Diagnostics diagnostics;
    CHECK_FALSE(diagnostics.has_errors());
    diagnostics.warning("w", {1, 1, 1}, "m");
    CHECK_FALSE(diagnostics.has_errors());
    diagnostics.error("e", {1, 1, 1}, "m");
    CHECK(diagnostics.has_errors());
}

TEST_CASE("More faults than anyone reads end the collection and say so") {
    Diagnostics diagnostics;
    for (std::size_t i = 0; i < Diagnostics::most_faults; ++i)
        diagnostics.error("e", {static_cast<int>(i) + 1, 1, 1}, "m");
    CHECK_THROWS_AS(diagnostics.error("e", {1, 1, 1}, "m"), TooManyFaults);
    const auto all = diagnostics.sorted();
    CHECK(all.size() == Diagnostics::most_faults + 1);
    CHECK(all.front().code == "too-many-faults");
}

TEST_CASE("The nearest known word is the one with the fewest letters to change") {
    const std::vector<std::string> known{"length", "fittings", "from", "to", "pipe"};
    CHECK(nearest("lenght", known) == "length");
    CHECK(nearest("lengths", known) == "length");
    CHECK(nearest("Length", known) == "length");
    CHECK(nearest("fitings", known) == "fittings");
    CHECK(nearest("form", known) == ""); // two letters of four
    CHECK(nearest("frm", known) == "from");
    CHECK(nearest("pipes", known) == "pipe");
}

TEST_CASE("No word is suggested that shares too little") {
    const std::vector<std::string> known{"length", "to"};
    CHECK(nearest("colour", known) == "");
    CHECK(nearest("at", known) == "");
    CHECK(nearest("", known) == "");
    CHECK(nearest("length", {}) == "");
    CHECK(nearest(std::string(100, 'a'), {std::string(100, 'a')}) == "");
}

TEST_CASE("Of two words equally near the one listed first is suggested") {
    CHECK(nearest("flaw", {"flow", "slaw"}) == "flow");
}
