#include "networks/fields.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <string>
#include <vector>

using namespace headroom::networks;

namespace {

constexpr Range any{0.0, 1000.0};

// What reading the map leaves behind, as `code message` lines.
std::vector<std::string> faults(const std::string &text,
                                const std::function<void(Fields &)> &read) {
    Diagnostics diagnostics;
    const auto root = parse_document(text, diagnostics);
    REQUIRE(root);
    Fields fields(root.get(), {1, 1, 1}, "loop", diagnostics);
    read(fields);
    fields.finish();
    std::vector<std::string> out;
    for (const Diagnostic &d : diagnostics.sorted())
        out.push_back(d.code + " " + d.message);
    return out;
}

using Lines = std::vector<std::string>;

} // namespace

TEST_CASE("Keys that are asked for are known, present or not") {
    CHECK(faults("{length: 9 m, name: a}", [](Fields &f) {
              CHECK(f.quantity("length", Dimension::Length, any) == 9.0);
              CHECK(f.text("name")->value == "a");
              CHECK_FALSE(f.quantity("tails", Dimension::Length, any));
              CHECK(f.has("length"));
              CHECK_FALSE(f.has("spacing"));
          }).empty());
}

TEST_CASE("A key nobody asks for is unknown") {
    CHECK(faults("{colour: white}", [](Fields &f) { f.text("name"); }) ==
          Lines{"unknown-key loop has no key `colour`"});
}

TEST_CASE("A misspelt key takes the blame for the key that is missing") {
    CHECK(faults("{lenght: 9 m}", [](Fields &f) {
              CHECK(std::isnan(f.required_quantity("length", Dimension::Length, any, "help")));
          }) == Lines{"unknown-key loop has no key `lenght`"});
    CHECK(faults("{}", [](Fields &f) {
              f.required_quantity("length", Dimension::Length, any, "help");
          }) == Lines{"missing-key loop has no `length`"});
}

TEST_CASE("A misspelt key that is optional hides no other missing key") {
    CHECK(faults("{tials: 9 m}", [](Fields &f) {
              f.quantity("tails", Dimension::Length, any);
              f.required_text("name", "help");
          }) == Lines{"missing-key loop has no `name`", "unknown-key loop has no key `tials`"});
}

TEST_CASE("A faulty quantity reads as not-a-number and is reported once") {
    CHECK(faults("{length: 9}", [](Fields &f) {
              const double length = f.required_quantity("length", Dimension::Length, any, "help");
              CHECK(std::isnan(length));
          }) == Lines{"missing-unit `length`: `9` has no unit"});
}

TEST_CASE("Ranges are closed") {
    const auto read = [](Fields &f) { f.quantity("length", Dimension::Length, {1.0, 2.0}); };
    CHECK(faults("{length: 1 m}", read).empty());
    CHECK(faults("{length: 2 m}", read).empty());
    CHECK(faults("{length: 0.999 m}", read) ==
          Lines{"out-of-range `length` of 0.999 m is out of range"});
    CHECK(faults("{length: 2001 mm}", read) ==
          Lines{"out-of-range `length` of 2001 mm is out of range"});
}

TEST_CASE("Numbers and counts are plain") {
    CHECK(faults("{zeta: 1.5, elbows: 3}", [](Fields &f) {
              CHECK(f.number("zeta", any) == 1.5);
              CHECK(f.count("elbows", 0, 10) == 3);
          }).empty());
    CHECK(faults("{zeta: 1.5 m}", [](Fields &f) { f.number("zeta", any); }) ==
          Lines{"not-a-number `zeta` must be a plain number, but is `1.5 m`"});
    CHECK(faults("{zeta: nan}", [](Fields &f) { f.number("zeta", any); }) ==
          Lines{"not-a-number `zeta` must be a plain number, but is `nan`"});
    CHECK(faults("{zeta: [1]}", [](Fields &f) { f.number("zeta", any); }) ==
          Lines{"not-a-number `zeta` must be a plain number, but is a list"});
    CHECK(faults("{elbows: 2.5}", [](Fields &f) { f.count("elbows", 0, 10); }) ==
          Lines{"not-a-count `elbows` must be a whole number"});
    CHECK(faults("{elbows: 1e9}", [](Fields &f) { f.count("elbows", 0, 10); }) ==
          Lines{"out-of-range `elbows` of 1e9 is out of range"});
}

TEST_CASE("Yes and no have two spellings each") {
    const auto read = [](bool wanted) {
        return [wanted](Fields &f) { CHECK(f.yes_no("open") == wanted); };
    };
    CHECK(faults("{open: yes}", read(true)).empty());
    CHECK(faults("{open: true}", read(true)).empty());
    CHECK(faults("{open: no}", read(false)).empty());
    CHECK(faults("{open: false}", read(false)).empty());
    CHECK(faults("{open: on}", [](Fields &f) { CHECK_FALSE(f.yes_no("open")); }) ==
          Lines{"unknown-word `open` cannot be `on`"});
}

TEST_CASE("A choice is told by its position") {
    const std::vector<std::string> words{"flow", "return"};
    CHECK(
        faults("{side: return}", [&](Fields &f) { CHECK(f.choice("side", words) == 1); }).empty());
    CHECK(faults("{side: up}", [&](Fields &f) { CHECK_FALSE(f.choice("side", words)); }) ==
          Lines{"unknown-word `side` cannot be `up`"});
}

TEST_CASE("A required choice that is no word is reported once") {
    const std::vector<std::string> words{"flow", "return"};
    CHECK(faults("{side: [flow]}", [&](Fields &f) {
              CHECK_FALSE(f.required_choice("side", words, "help"));
          }) == Lines{"not-text `side` must be a word or words, but is a list"});
    CHECK(faults("{}", [&](Fields &f) { f.required_choice("side", words, "help"); }) ==
          Lines{"missing-key loop has no `side`"});
}

TEST_CASE("Exactly one of several keys must stand") {
    const auto read = [](bool wanted) {
        return [wanted](Fields &f) { CHECK(f.exactly_one({"kv", "zeta"}, "help") == wanted); };
    };
    CHECK(faults("{kv: 1}", read(true)).empty());
    CHECK(faults("{}", read(false)) == Lines{"missing-key loop needs one of `kv`, `zeta`"});
    CHECK(faults("{kv: 1, zeta: 2}", read(false)) ==
          Lines{"one-too-many loop takes only one of `kv`, `zeta`"});
    CHECK(faults("{zetta: 2}", read(false)) == Lines{"unknown-key loop has no key `zetta`"});
}

TEST_CASE("Text is neither empty nor endless") {
    CHECK(faults("{name: ''}", [](Fields &f) { CHECK_FALSE(f.text("name")); }) ==
          Lines{"not-text `name` must be a word or words, but is empty"});
    CHECK(faults("{name: " + std::string(201, 'x') + "}", [](Fields &f) {
              CHECK_FALSE(f.text("name"));
          }) == Lines{"too-long `name` is longer than 200 characters"});
    CHECK(
        faults("{name: " + std::string(200, 'x') + "}", [](Fields &f) { f.text("name"); }).empty());
}

TEST_CASE("What is no map reads as empty, with one fault") {
    Diagnostics diagnostics;
    const auto root = parse_document("a: word", diagnostics);
    Fields fields(root->find("a"), {1, 1, 1}, "loop", diagnostics);
    CHECK_FALSE(fields.usable());
    fields.required_text("name", "help");
    fields.exactly_one({"kv", "zeta"}, "help");
    CHECK_FALSE(fields.quantity("length", Dimension::Length, any));
    fields.finish();
    REQUIRE(diagnostics.sorted().size() == 1);
    CHECK(diagnostics.sorted().front().message ==
          "loop must be a map of keys, but is a single value");
}

TEST_CASE("finish() tells whether a known key may be hidden in a misspelt one") {
    Diagnostics diagnostics;
    const auto root = parse_document("{romms: 1, colour: 2}", diagnostics);
    Fields misspelt(root.get(), {1, 1, 1}, "house", diagnostics);
    misspelt.has("rooms");
    CHECK_FALSE(misspelt.finish());
    Fields foreign(root.get(), {1, 1, 1}, "house", diagnostics);
    foreign.has("pipework");
    CHECK(foreign.finish());
}
