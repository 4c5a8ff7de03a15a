#include "solver/report/characters.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>
#include <vector>

namespace headroom::solver {
namespace {

struct Character {
    std::string_view bytes;
    char32_t code;
};

// The first character of a text that is not empty; a broken one is its first byte.
Character first_character(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const std::size_t size = byte(0) < 0x80U   ? 1
                             : byte(0) < 0xC2U ? 0
                             : byte(0) < 0xE0U ? 2
                             : byte(0) < 0xF0U ? 3
                             : byte(0) < 0xF5U ? 4
                                               : 0;
    if (size == 1)
        return {text.substr(0, 1), byte(0)};
    if (size == 0 || size > text.size())
        return {text.substr(0, 1), U'\uFFFD'};
    char32_t code = byte(0) & (0xFFU >> (size + 1));
    for (std::size_t i = 1; i < size; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U)
            return {text.substr(0, 1), U'\uFFFD'};
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    return {text.substr(0, size), code};
}

std::vector<Character> characters(std::string_view text) {
    std::vector<Character> out;
    while (!text.empty()) {
        out.push_back(first_character(text));
        text.remove_prefix(out.back().bytes.size());
    }
    return out;
}

struct Range {
    char32_t first, last;
};

template <std::size_t size> bool within(char32_t code, const std::array<Range, size> &ranges) {
    return std::any_of(ranges.begin(), ranges.end(), [&](const Range &range) {
        return code >= range.first && code <= range.last;
    });
}

int width_of(char32_t code) {
    constexpr std::array none{Range{0x300, 0x36F},   Range{0x483, 0x489},   Range{0x591, 0x5BD},
                              Range{0x610, 0x61A},   Range{0x64B, 0x65F},   Range{0x1AB0, 0x1AFF},
                              Range{0x1DC0, 0x1DFF}, Range{0x200B, 0x200F}, Range{0x20D0, 0x20FF},
                              Range{0xFE00, 0xFE0F}, Range{0xFE20, 0xFE2F}};
    constexpr std::array wide{
        Range{0x1100, 0x115F},   Range{0x2E80, 0x303E},   Range{0x3041, 0x33FF},
        Range{0x3400, 0x4DBF},   Range{0x4E00, 0x9FFF},   Range{0xA000, 0xA4CF},
        Range{0xAC00, 0xD7A3},   Range{0xF900, 0xFAFF},   Range{0xFE30, 0xFE6F},
        Range{0xFF01, 0xFF60},   Range{0xFFE0, 0xFFE6},   Range{0x1F300, 0x1F64F},
        Range{0x1F680, 0x1F6C5}, Range{0x1F900, 0x1F9FF}, Range{0x20000, 0x3FFFD}};
    return within(code, none) ? 0 : within(code, wide) ? 2 : 1;
}

// Latin-1 letters and signs from U+00A0 on, one entry a character.
constexpr std::array<std::string_view, 96> latin_1{
    " ",   "!",   "c",   "GBP", "*",  "JPY", "|",  "S",  "\"", "(c)", "a",  "<<", "!",  "-",
    "(r)", "-",   "deg", "+/-", "2",  "3",   "'",  "u",  "P",  ".",   ",",  "1",  "o",  ">>",
    "1/4", "1/2", "3/4", "?",   "A",  "A",   "A",  "A",  "Ae", "A",   "AE", "C",  "E",  "E",
    "E",   "E",   "I",   "I",   "I",  "I",   "D",  "N",  "O",  "O",   "O",  "O",  "Oe", "x",
    "O",   "U",   "U",   "U",   "Ue", "Y",   "Th", "ss", "a",  "a",   "a",  "a",  "ae", "a",
    "ae",  "c",   "e",   "e",   "e",  "e",   "i",  "i",  "i",  "i",   "d",  "n",  "o",  "o",
    "o",   "o",   "oe",  "/",   "o",  "u",   "u",  "u",  "ue", "y",   "th", "y"};

// Latin Extended-A in its order, marks taken off.
constexpr std::string_view latin_extended_a = "AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiJj"
                                              "JjKkkLlLlLlLlLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSs"
                                              "SsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs";

std::string ascii_of(const Character &character) {
    const char32_t code = character.code;
    if (code < 0x80)
        return std::string(character.bytes);
    if (code >= 0xA0 && code <= 0xFF)
        return std::string(latin_1[code - 0xA0]);
    if (code >= 0x100 && code < 0x100 + latin_extended_a.size())
        return std::string(1, latin_extended_a[code - 0x100]);
    if (width_of(code) == 0)
        return {};
    if (code >= 0x2010 && code <= 0x2015)
        return "-";
    if (code >= 0x2018 && code <= 0x201B)
        return "'";
    if (code >= 0x201C && code <= 0x201F)
        return "\"";
    if (code == 0x2026)
        return "..";
    if (code == 0x20AC)
        return "EUR";
    return code == 0xFFFD ? "?" : fmt::format("<U+{:04X}>", static_cast<unsigned>(code));
}

} // namespace

int display_width(std::string_view text) {
    int out = 0;
    for (const Character &character : characters(text))
        out += width_of(character.code);
    return out;
}

std::string beginning(std::string_view text, int columns) {
    std::string out;
    for (const Character &character : characters(text)) {
        columns -= width_of(character.code);
        if (columns < 0)
            break;
        out += character.bytes;
    }
    return out;
}

std::string ending(std::string_view text, int columns) {
    const std::vector<Character> all = characters(text);
    auto at = all.end();
    while (at != all.begin() && columns >= width_of(std::prev(at)->code)) {
        --at;
        columns -= width_of(at->code);
    }
    while (at != all.end() && width_of(at->code) == 0)
        ++at; // a mark without its letter
    std::string out;
    for (; at != all.end(); ++at)
        out += at->bytes;
    return out;
}

std::string in_ascii(std::string_view text) {
    std::string out;
    for (const Character &character : characters(text))
        out += ascii_of(character);
    return out;
}

} // namespace headroom::solver
