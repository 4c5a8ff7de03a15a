#include "networks/reader.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::networks;
namespace fs = std::filesystem;

// Each NAME.yaml in faulty/ is a house that must be refused; NAME.expected is, to the letter, what
// its author is told.
namespace {

const fs::path folder = fs::path(SOURCE_DIR) / "tests/networks/faulty";

std::vector<fs::path> files_ending(const std::string &extension) {
    std::vector<fs::path> found;
    for (const auto &entry : fs::directory_iterator(folder))
        if (entry.path().extension() == extension)
            found.push_back(entry.path());
    std::sort(found.begin(), found.end());
    return found;
}

std::string contents(const fs::path &path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

// The first line in which two texts differ, for a message short enough to read.
std::string first_difference(const std::string &expected, const std::string &actual) {
    std::istringstream left(expected);
    std::istringstream right(actual);
    std::string a;
    std::string b;
    for (int line = 1;; ++line) {
        const bool more_a = static_cast<bool>(std::getline(left, a));
        const bool more_b = static_cast<bool>(std::getline(right, b));
        if (!more_a && !more_b)
            return "they differ in their last line end";
        if (more_a != more_b || a != b)
            return "line " + std::to_string(line) + "\n  expected: " + (more_a ? a : "(nothing)") +
                   "\n  told:     " + (more_b ? b : "(nothing)");
    }
}

} // namespace

TEST_CASE("Every faulty house is refused with exactly the diagnostics written beside it") {
    for (const fs::path &path : files_ending(".yaml")) {
        const SourceText source{path.filename().string(), contents(path)};
        Diagnostics diagnostics;
        const auto house = read_house(source.text, diagnostics);
        std::string told;
        for (const Diagnostic &diagnostic : diagnostics.sorted())
            told += render(diagnostic, source);
        const std::string expected = contents(fs::path(path).replace_extension(".expected"));
        INFO(source.name << ", " << first_difference(expected, told));
        CHECK_FALSE(house);
        CHECK(diagnostics.has_errors());
        if (told != expected)
            FAIL_CHECK("the diagnostics are not those expected; all of them:\n" << told);
    }
}

TEST_CASE("The faulty houses are many, and each has its expected diagnostics") {
    const auto houses = files_ending(".yaml");
    const auto expected = files_ending(".expected");
    CHECK(houses.size() >= 65);
    for (const fs::path &house : houses) {
        INFO(house.filename());
        CHECK(fs::exists(fs::path(house).replace_extension(".expected")));
    }
    for (const fs::path &text : expected) {
        INFO(text.filename());
        CHECK(fs::exists(fs::path(text).replace_extension(".yaml")));
    }
}

TEST_CASE("Every diagnostic of the faulty houses stands alone and tells the fix") {
    for (const fs::path &path : files_ending(".yaml")) {
        Diagnostics diagnostics;
        read_house(contents(path), diagnostics);
        for (const Diagnostic &diagnostic : diagnostics.sorted()) {
            INFO(path.filename() << ": " << diagnostic.message);
            CHECK_FALSE(diagnostic.code.empty());
            CHECK(diagnostic.code.find_first_not_of("abcdefghijklmnopqrstuvwxyz-") ==
                  std::string::npos);
            CHECK_FALSE(diagnostic.message.empty());
            CHECK_FALSE(diagnostic.message.ends_with('.'));
            CHECK_FALSE(diagnostic.help.empty());
            CHECK_FALSE(diagnostic.help.ends_with('.'));
        }
    }
}
