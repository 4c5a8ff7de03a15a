#include "networks/utf8.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::networks;

TEST_CASE("Characters are counted whatever their bytes") {
    CHECK(characters("") == 0);
    CHECK(characters("abc") == 3);
    CHECK(characters("größe") == 5);
    CHECK(characters("€uro") == 4);
    CHECK(characters("\xF0\x9F\x94\xA5!") == 2);
}

TEST_CASE("A character's byte is found from its number") {
    CHECK(byte_of("größe", 0) == 0);
    CHECK(byte_of("größe", 2) == 2);
    CHECK(byte_of("größe", 3) == 4);
    CHECK(byte_of("größe", 99) == std::string("größe").size());
}

TEST_CASE("Text that is UTF-8 has no invalid byte") {
    for (const char *text : {"", "plain", "größe €", "\xF0\x9F\x94\xA5", "\x7F", "\xEF\xBF\xBD"})
        CHECK(first_invalid_utf8(text) == std::string_view::npos);
}

TEST_CASE("The first byte that is not UTF-8 is found") {
    CHECK(first_invalid_utf8("ab\xE4 c") == 2);
    CHECK(first_invalid_utf8("ab\x80") == 2);
    CHECK(first_invalid_utf8("a\xC3") == 1);            // cut short
    CHECK(first_invalid_utf8("\xC0\xAF") == 0);         // longer than needed
    CHECK(first_invalid_utf8("\xE0\x80\xAF") == 0);     // longer than needed
    CHECK(first_invalid_utf8("\xED\xA0\x80") == 0);     // a surrogate
    CHECK(first_invalid_utf8("\xF4\x90\x80\x80") == 0); // beyond the last character
    CHECK(first_invalid_utf8("\xFF") == 0);
}

TEST_CASE("A byte order mark is dropped at the start only") {
    CHECK(without_byte_order_mark("\xEF\xBB\xBFhouse") == "house");
    CHECK(without_byte_order_mark("house") == "house");
    CHECK(without_byte_order_mark("h\xEF\xBB\xBF") == "h\xEF\xBB\xBF");
}
