// What a fingerprint sees, and what it lets pass.
#include "tests/support/fingerprint.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::tests;

namespace {

bool same(const std::string &on_file, const std::string &now) {
    Fingerprints then, today;
    add_json(then, "all", on_file);
    add_json(today, "all", now);
    return today.at("all").agrees_with(then.at("all").row());
}

} // namespace

TEST_CASE("An answer differs in a figure, a word, an order, a figure more or a word more") {
    const std::string answer = R"({"a": [1.0, 2.0], "b": "left", "c": true})";
    CHECK(same(answer, answer));
    CHECK_FALSE(same(answer, R"({"a": [1.0, 2.0000001], "b": "left", "c": true})"));
    CHECK_FALSE(same(answer, R"({"a": [2.0, 1.0], "b": "left", "c": true})"));
    CHECK_FALSE(same(answer, R"({"a": [1.0, 2.0], "b": "right", "c": true})"));
    CHECK_FALSE(same(answer, R"({"a": [1.0, 2.0], "b": "left", "c": false})"));
    CHECK_FALSE(same(answer, R"({"a": [1.0, 2.0, 0.0], "b": "left", "c": true})"));
    CHECK_FALSE(same(answer, R"({"a": [1.0, 2.0], "b": "left", "c": true, "d": ""})"));
}

TEST_CASE("An answer that differs in the last bits alone is the same") {
    CHECK(same(R"({"a": 3.0, "b": -1e5})", R"({"a": 3.0000000000004, "b": -1e5})"));
}

TEST_CASE("Figures are kept by their keys, and all of them by the answer's name") {
    Fingerprints prints;
    add_json(prints, "house", R"({"loops": [{"flow_kg_s": 0.1}, {"flow_kg_s": 0.2}]})");
    CHECK(prints.size() == 2);
    CHECK(prints.at("loops[]/flow_kg_s").row() == prints.at("house").row());
}
