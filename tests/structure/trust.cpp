// tests/TRUST.md against what the tests compared when they ran.
// HEADROOM_WRITE_TRUST=1 writes the file's tables anew in place of comparing them.
#include "tests/support/run_program.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <set>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

using namespace headroom::tests;

namespace {

/// What one test case compared: its tightest comparison stands for it.
struct Check {
    std::string title;
    std::set<std::string> sources;
    std::string first_source;
    int values = 0;
    double expected = 0.0, found = 0.0, allowed = 0.0;

    double share() const { return std::abs(found - expected) / allowed; }
};

std::vector<Check> published_checks() {
    const TemporaryFolder folder;
    const std::string record = folder / "record";
    const std::string command = fmt::format(
        "HEADROOM_RECORD='{}' '{}/test_published' >/dev/null 2>&1", record, TEST_PROGRAMS);
    REQUIRE(std::system(command.c_str()) == 0);
    std::vector<Check> checks;
    std::istringstream lines(file_text(record));
    for (std::string line; std::getline(lines, line);) {
        std::istringstream fields(line);
        std::string title, source, expected, found, allowed;
        std::getline(fields, title, '\t');
        std::getline(fields, source, '\t');
        std::getline(fields, expected, '\t');
        std::getline(fields, found, '\t');
        std::getline(fields, allowed, '\t');
        if (checks.empty() || checks.back().title != title)
            checks.push_back({title, {}, source});
        Check &check = checks.back();
        Check now{title, {}, source, 0, std::stod(expected), std::stod(found), std::stod(allowed)};
        // Equal shares keep the first, so that rounding does not choose.
        if (check.values == 0 || now.share() > check.share() * 1.001 + 1e-6) {
            check.expected = now.expected;
            check.found = now.found;
            check.allowed = now.allowed;
        }
        check.sources.insert(source);
        ++check.values;
    }
    std::sort(checks.begin(), checks.end(), [](const Check &a, const Check &b) {
        return std::pair(a.first_source, a.title) < std::pair(b.first_source, b.title);
    });
    return checks;
}

// Two digits, so that the last bits of another compiler do not show.
std::string deviation(double difference, double expected) {
    if (expected == 0.0)
        return std::abs(difference) < 1e-9 ? "< 1e-9" : fmt::format("{:.1e}", std::abs(difference));
    const double percent = 100.0 * std::abs(difference / expected);
    return percent < 1e-6 ? "< 1e-6 %" : fmt::format("{:.2g} %", percent);
}

std::string published_table() {
    std::string out =
        "| checked | against | values | deviation | allowed |\n|---|---|---|---|---|\n";
    for (const Check &check : published_checks()) {
        const std::string more =
            check.sources.size() > 1 ? fmt::format(" (and {} more)", check.sources.size() - 1) : "";
        out += fmt::format("| {} | {}{} | {} | {} | {} |\n", check.title, check.first_source, more,
                           check.values, deviation(check.found - check.expected, check.expected),
                           deviation(check.allowed, check.expected));
    }
    return out;
}

const std::string file = std::string(SOURCE_DIR) + "/tests/TRUST.md";

const std::string begin_mark = "<!-- begin of the table -->\n";
const std::string end_mark = "<!-- end of the table -->\n";

} // namespace

TEST_CASE("TRUST.md says what the tests compared, with what, and how far off it was") {
    std::string text = file_text(file);
    const std::size_t begin = text.find(begin_mark) + begin_mark.size();
    const std::size_t end = text.find(end_mark);
    REQUIRE(end != std::string::npos);
    REQUIRE(begin <= end);
    INFO("HEADROOM_WRITE_TRUST=1 build/tests/test_structure writes the table anew");
    const std::string table = published_table();
    if (std::getenv("HEADROOM_WRITE_TRUST") == nullptr)
        CHECK(text.substr(begin, end - begin) == table);
    else
        write_file(file, text.replace(begin, end - begin, table));
}
