#include "tests/fuzz/mutate_house.hpp"

#include <array>
#include <cctype>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <utility>
#include <vector>

namespace headroom::fuzz {
namespace {

using Engine = std::mt19937;

/// A piece of the text: where it begins and how long it is.
struct Piece {
    std::size_t at, length;
};

std::size_t below(Engine &engine, std::size_t end) {
    return engine() % end;
}

Piece pick(Engine &engine, const std::vector<Piece> &pieces) {
    return pieces[below(engine, pieces.size())];
}

bool digit(char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

// Numbers that begin a word, with their sign.
std::vector<Piece> numbers(const std::string &text) {
    std::vector<Piece> found;
    for (std::size_t i = 1; i < text.size(); ++i) {
        if (!digit(text[i]) ||
            std::string_view(" [x-/").find(text[i - 1]) == std::string_view::npos)
            continue;
        const std::size_t start = text[i - 1] == '-' ? i - 1 : i;
        while (i < text.size() && (digit(text[i]) || text[i] == '.'))
            ++i;
        found.push_back({start, i - start});
    }
    return found;
}

std::vector<Piece> lines(const std::string &text) {
    std::vector<Piece> found;
    for (std::size_t start = 0; start < text.size();) {
        const std::size_t newline = text.find('\n', start);
        const std::size_t end = newline == std::string::npos ? text.size() : newline + 1;
        found.push_back({start, end - start});
        start = end;
    }
    return found;
}

// What stands between brackets and commas, brackets within it left whole.
std::vector<Piece> entries(const std::string &text) {
    std::vector<Piece> found;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != '{' && text[i] != '[' && text[i] != ',')
            continue;
        int depth = 0;
        std::size_t end = i + 1;
        for (; end < text.size() && text[end] != '\n'; ++end) {
            if (text[end] == '{' || text[end] == '[')
                ++depth;
            if ((text[end] == '}' || text[end] == ']') && --depth < 0)
                break;
            if (text[end] == ',' && depth == 0)
                break;
        }
        if (end > i + 1)
            found.push_back({i + 1, end - i - 1});
    }
    return found;
}

// Words before a colon, or the single words after one.
std::vector<Piece> words(const std::string &text, bool keys) {
    std::vector<Piece> found;
    for (std::size_t colon = text.find(": "); colon != std::string::npos;
         colon = text.find(": ", colon + 1)) {
        std::size_t start = keys ? colon : colon + 2;
        std::size_t end = start;
        if (keys)
            while (start > 0 &&
                   std::string_view("{,\n").find(text[start - 1]) == std::string_view::npos &&
                   text[start - 1] != ' ')
                --start;
        else
            while (end < text.size() &&
                   std::string_view("{}[],\n").find(text[end]) == std::string_view::npos)
                ++end;
        if (end > start)
            found.push_back({start, end - start});
    }
    return found;
}

std::string changed_number(const std::string &number, Engine &engine) {
    static constexpr std::array odd{"0",    "-0",   "1e308", "-1e308", "1e-308", "nan", "inf",
                                    "1e-9", "1e15", "-1",    "0.5",    "1",      "100"};
    if (below(engine, 4) == 0)
        return odd[below(engine, odd.size())];
    static constexpr std::array factors{0.0, -1.0, 0.001, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 1000.0};
    std::array<char, 40> out{};
    std::snprintf(out.data(), out.size(), "%.6g",
                  std::strtod(number.c_str(), nullptr) * factors[below(engine, factors.size())]);
    return out.data();
}

void swap_pieces(std::string &text, Piece a, Piece b) {
    if (a.at > b.at)
        std::swap(a, b);
    if (a.at + a.length > b.at)
        return;
    const std::string first = text.substr(a.at, a.length), second = text.substr(b.at, b.length);
    text.replace(b.at, b.length, first);
    text.replace(a.at, a.length, second);
}

std::vector<Piece> some_pieces(const std::string &text, Engine &engine) {
    switch (below(engine, 4)) {
    case 0:
        return lines(text);
    case 1:
        return words(text, true);
    case 2:
        return words(text, false);
    default:
        return entries(text);
    }
}

void change_once(std::string &text, Engine &engine) {
    if (below(engine, 2) == 0) {
        const std::vector<Piece> found = numbers(text);
        if (found.empty())
            return;
        const Piece piece = pick(engine, found);
        text.replace(piece.at, piece.length,
                     changed_number(text.substr(piece.at, piece.length), engine));
        return;
    }
    const std::vector<Piece> found = some_pieces(text, engine);
    if (found.empty())
        return;
    const Piece piece = pick(engine, found);
    const Piece other = pick(engine, found);
    switch (below(engine, 4)) {
    case 0:
        swap_pieces(text, piece, other);
        break;
    case 1:
        text.replace(piece.at, piece.length, text.substr(other.at, other.length));
        break;
    case 2:
        text.insert(piece.at, text.substr(piece.at, piece.length) +
                                  (text[piece.at + piece.length - 1] == '\n' ? "" : ","));
        break;
    default:
        text.erase(piece.at, piece.length + (text[piece.at + piece.length] == ',' ? 1 : 0));
    }
}

} // namespace

std::string mutated_house(std::string text, unsigned seed) {
    Engine engine(seed);
    for (std::size_t changes = 1 + below(engine, 4); changes > 0; --changes)
        change_once(text, engine);
    return text;
}

} // namespace headroom::fuzz
