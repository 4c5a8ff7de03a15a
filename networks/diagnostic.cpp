#include "networks/diagnostic.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>

namespace headroom::networks {
namespace {

std::string_view line_of(std::string_view text, int line) {
    std::size_t start = 0;
    for (int i = 1; i < line; ++i) {
        const std::size_t end = text.find('\n', start);
        if (end == std::string_view::npos)
            return {};
        start = end + 1;
    }
    std::string_view found = text.substr(start, text.find('\n', start) - start);
    if (!found.empty() && found.back() == '\r')
        found.remove_suffix(1);
    return found;
}

// A long line is shown by the part around the fault.
constexpr int shown_columns = 100;

// One column per character on the screen: control characters become spaces.
std::string printable(std::string_view line) {
    std::string out;
    for (char c : line)
        out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
    return out;
}

// Characters, not bytes: continuation bytes of UTF-8 take no column.
int characters(std::string_view text) {
    return static_cast<int>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
}

// Byte offset of the given character.
std::size_t byte_of(std::string_view text, int character) {
    std::size_t byte = 0;
    for (int seen = 0; byte < text.size(); ++byte) {
        if ((static_cast<unsigned char>(text[byte]) & 0xC0U) == 0x80U)
            continue;
        if (seen++ == character)
            break;
    }
    return byte;
}

int edit_distance(std::string_view a, std::string_view b) {
    std::vector<int> row(b.size() + 1);
    std::iota(row.begin(), row.end(), 0);
    for (std::size_t i = 1; i <= a.size(); ++i) {
        int diagonal = row[0];
        row[0] = static_cast<int>(i);
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const int above = row[j];
            row[j] =
                std::min({above + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
            diagonal = above;
        }
    }
    return row.back();
}

} // namespace

std::string render(const Diagnostic &d, const SourceText &source) {
    std::string out =
        fmt::format("{}[{}]: {}\n", d.severity == Severity::Error ? "error" : "warning", d.code,
                    printable(d.message));
    if (d.place.line <= 0) {
        out += fmt::format("  --> {}\n", source.name);
    } else {
        out += fmt::format("  --> {}:{}:{}\n", source.name, d.place.line, d.place.column);
        std::string line = printable(line_of(source.text, d.place.line));
        int column = std::clamp(d.place.column, 1, characters(line) + 1);
        if (column > shown_columns) {
            line = line.substr(byte_of(line, column - 1));
            column = 1;
        }
        line = line.substr(0, byte_of(line, shown_columns + 20));
        const int room = std::max(1, characters(line) - column + 1);
        const int carets = std::clamp(d.place.length, 1, room);
        const std::string number = std::to_string(d.place.line);
        out += fmt::format(" {} | {}\n", number, line);
        out +=
            fmt::format(" {:{}} | {:{}}{:^>{}}\n", "", number.size(), "", column - 1, "", carets);
    }
    if (!d.help.empty())
        out += fmt::format("help: {}\n", printable(d.help));
    return out;
}

void Diagnostics::error(std::string code, Place place, std::string message, std::string help) {
    all_.push_back({Severity::Error, std::move(code), std::move(message), place, std::move(help)});
}

void Diagnostics::warning(std::string code, Place place, std::string message, std::string help) {
    all_.push_back(
        {Severity::Warning, std::move(code), std::move(message), place, std::move(help)});
}

bool Diagnostics::has_errors() const {
    return std::any_of(all_.begin(), all_.end(),
                       [](const Diagnostic &d) { return d.severity == Severity::Error; });
}

std::vector<Diagnostic> Diagnostics::sorted() const {
    std::vector<Diagnostic> out = all_;
    std::stable_sort(out.begin(), out.end(), [](const Diagnostic &a, const Diagnostic &b) {
        return std::pair(a.place.line, a.place.column) < std::pair(b.place.line, b.place.column);
    });
    return out;
}

std::string nearest(std::string_view word, const std::vector<std::string> &known) {
    if (word.size() > 64)
        return {};
    std::string best;
    int best_distance = std::max(1, static_cast<int>(word.size()) / 3) + 1;
    for (const std::string &candidate : known) {
        const int distance = edit_distance(word, candidate);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

} // namespace headroom::networks
