#include "networks/document.hpp"

#include <catch2/catch.hpp>

#include <chrono>
#include <string>

using namespace headroom::networks;

namespace {

struct Parsed {
    std::unique_ptr<Entry> root;
    std::vector<Diagnostic> faults;
};

Parsed parse(const std::string &text) {
    Diagnostics diagnostics;
    Parsed out;
    out.root = parse_document(text, diagnostics);
    out.faults = diagnostics.sorted();
    return out;
}

std::string refusal(const std::string &text) {
    const Parsed parsed = parse(text);
    INFO(text.substr(0, 200));
    CHECK_FALSE(parsed.root);
    REQUIRE(parsed.faults.size() == 1);
    return parsed.faults.front().code;
}

void check_place(const Place &place, int line, int column, int length) {
    CHECK(place.line == line);
    CHECK(place.column == column);
    CHECK(place.length == length);
}

} // namespace

TEST_CASE("Maps, lists and words keep their order and their places") {
    const Parsed parsed = parse("house: Mill\nruns:\n  - {run: a, length: 9 m}\n  - b\n");
    REQUIRE(parsed.root);
    REQUIRE(parsed.root->pairs.size() == 2);
    CHECK(parsed.root->pairs[0].key == "house");
    check_place(parsed.root->pairs[0].key_place, 1, 1, 5);
    CHECK(parsed.root->pairs[0].value->scalar == "Mill");
    check_place(parsed.root->pairs[0].value->place, 1, 8, 4);
    const Entry *runs = parsed.root->find("runs");
    REQUIRE(runs);
    REQUIRE(runs->is_list());
    REQUIRE(runs->items.size() == 2);
    check_place(runs->items[0]->place, 3, 5, 1);
    const Entry *length = runs->items[0]->find("length");
    REQUIRE(length);
    CHECK(length->scalar == "9 m");
    check_place(length->place, 3, 22, 3);
    check_place(runs->items[1]->place, 4, 5, 1);
    CHECK(parsed.root->find("pipes") == nullptr);
}

TEST_CASE("A quoted text's place takes in its quotes") {
    const Parsed parsed = parse("house: \"Mill: 3\"\nnote: ''\n");
    REQUIRE(parsed.root);
    const Entry &house = *parsed.root->find("house");
    CHECK(house.scalar == "Mill: 3");
    CHECK(house.quoted);
    check_place(house.place, 1, 8, 9);
    CHECK(parsed.root->find("note")->is_scalar());
}

TEST_CASE("Columns count characters, whatever their bytes") {
    const Parsed parsed = parse("{küche: größe, bad: naß}\n");
    REQUIRE(parsed.root);
    check_place(parsed.root->pairs[0].key_place, 1, 2, 5);
    check_place(parsed.root->pairs[0].value->place, 1, 9, 5);
    check_place(parsed.root->pairs[1].key_place, 1, 16, 3);
    check_place(parsed.root->pairs[1].value->place, 1, 21, 3);
}

TEST_CASE("Carriage returns and a byte order mark move no place") {
    const Parsed parsed = parse("\xEF\xBB\xBFhouse: Mill\r\nnote: x\r\n");
    REQUIRE(parsed.root);
    check_place(parsed.root->pairs[0].key_place, 1, 1, 5);
    CHECK(parsed.root->pairs[0].value->scalar == "Mill");
    check_place(parsed.root->pairs[1].value->place, 2, 7, 1);
    CHECK(parsed.root->pairs[1].value->scalar == "x");
}

TEST_CASE("A value left out is nothing, and stands at its key") {
    const Parsed parsed = parse("house: Mill\ndrop:\nnote: x\n");
    REQUIRE(parsed.root);
    CHECK(parsed.root->find("drop")->kind == Entry::Kind::Null);
    check_place(parsed.root->find("drop")->place, 2, 1, 4);
}

TEST_CASE("A key that stands twice is reported with the line of the first") {
    const Parsed parsed = parse("a: 1\nb: 2\na: 3\n");
    REQUIRE(parsed.faults.size() == 1);
    CHECK(parsed.faults[0].code == "duplicate-key");
    CHECK(parsed.faults[0].message == "`a` stands twice here, first on line 1");
    check_place(parsed.faults[0].place, 3, 1, 1);
    CHECK(parse("a: {x: 1}\nb: {x: 1}\n").faults.empty());
}

TEST_CASE("What hides content or its meaning is refused") {
    CHECK(refusal("a: &x 1\n") == "anchor");
    CHECK(refusal("a: &x {b: 1}\n") == "anchor");
    CHECK(refusal("a: *x\n") == "alias");
    CHECK(refusal("a: !!str 1\n") == "tag");
    CHECK(refusal("a: !pipe [1]\n") == "tag");
    CHECK(refusal("? [a, b]\n: 1\n") == "key-not-text");
    CHECK(refusal(": 1\n") == "key-not-text");
    CHECK(refusal("a: 1\n---\nb: 2\n") == "second-document");
}

TEST_CASE("What is no house file at all is refused") {
    CHECK(refusal("") == "empty-file");
    CHECK(refusal("# nothing yet\n") == "empty-file");
    CHECK(refusal("word\n") == "not-a-house");
    CHECK(refusal("- a\n- b\n") == "not-a-house");
    CHECK(refusal(std::string("a: \0b\n", 6)) == "not-text");
    CHECK(refusal("a: caf\xE9\n") == "not-text");
    CHECK(refusal("a: \xC0\xAF\n") == "not-text");     // longer than needed
    CHECK(refusal("a: \xED\xA0\x80\n") == "not-text"); // a surrogate
}

TEST_CASE("Brackets, quotes and tabs are reported where they stand") {
    struct Row {
        const char *text;
        const char *message;
        int line, column;
    };
    for (const Row &row : {
             Row{"a: {b: 1\nc: 2\n", "this bracket is never closed", 1, 4},
             Row{"a: [1, 2\n", "this bracket is never closed", 1, 4},
             Row{"a: [{b: 1}, {b: 2\n", "this bracket is never closed", 1, 13},
             Row{"- {a: 1\n- {b: 2}\n", "this bracket is never closed", 1, 3},
             Row{"a: [1, 2}\n", "this bracket does not close the last one opened", 1, 9},
             Row{"a: \"x\nb: 2\n", "this quote is never closed", 1, 4},
             Row{"a: 'it''s\nb: 2\n", "this quote is never closed", 1, 4},
             Row{"a:\n  b: 1\n\tc: 2\n", "a tab stands in the indentation", 3, 1},
             Row{"a:1\nb: 2\n", "no space follows this `:`", 1, 2},
             Row{"a: b: 2\n", "a `:` stands where no key can end", 1, 5},
             Row{"a:\n  b: 1\n c: 2\n", "this line fits no map above it", 3, 2},
         }) {
        INFO(row.text);
        const Parsed parsed = parse(row.text);
        CHECK_FALSE(parsed.root);
        REQUIRE(parsed.faults.size() == 1);
        CHECK(parsed.faults[0].message == row.message);
        CHECK(parsed.faults[0].place.line == row.line);
        CHECK(parsed.faults[0].place.column == row.column);
    }
}

TEST_CASE("Closed quotes may hold anything") {
    const Parsed parsed = parse("a: 'it''s {'\nb: \"x \\\" [\"\nc: it's {fine\n");
    REQUIRE(parsed.root);
    CHECK(parsed.root->find("a")->scalar == "it's {");
    CHECK(parsed.root->find("b")->scalar == "x \" [");
}

TEST_CASE("Files made to exhaust the machine are refused within two seconds") {
    const auto repeated = [](std::string_view piece, std::size_t times) {
        std::string out;
        out.reserve(piece.size() * times);
        for (std::size_t i = 0; i < times; ++i)
            out += piece;
        return out;
    };
    const auto refused = [](const std::string &text, const std::string &code) {
        const auto start = std::chrono::steady_clock::now();
        CHECK(refusal(text) == code);
        const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
        CHECK(taken.count() < 2.0);
    };
    refused("a: " + repeated("[", 100'000), "too-deep");
    refused("a: " + repeated("{b: ", 100'000), "too-deep");
    refused(repeated("- ", 100'000), "too-deep");
    refused("a: [" + repeated("1,", 1'000'000) + "1]", "too-large");
    refused("a:\n" + repeated("- 1\n", 1'000'000), "too-large");
    refused("a: " + repeated("x", 5U << 20U), "too-large");
}

TEST_CASE("A map with a hundred thousand different keys is read in a moment") {
    std::string text;
    for (int i = 0; i < 90'000; ++i)
        text += "k" + std::to_string(i) + ": 1\n";
    const Parsed parsed = parse(text);
    REQUIRE(parsed.root);
    CHECK(parsed.root->pairs.size() == 90'000);
}
