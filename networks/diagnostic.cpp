#include "networks/diagnostic.hpp"

#include "networks/utf8.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fmt/format.h>
#include <numeric>

namespace headroom::networks {
namespace {

std::string_view line_of(std::string_view text, int line) {
    text = without_byte_order_mark(text);
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
constexpr int shown_columns = 120;
constexpr int shown_before = 40;
constexpr std::string_view cut_mark = "...";

// One column per character on the screen: control characters become spaces, stray bytes `?`.
std::string printable(std::string_view line) {
    std::string out;
    while (!line.empty()) {
        const std::size_t bad = first_invalid_utf8(line);
        for (char c : line.substr(0, bad))
            out += static_cast<unsigned char>(c) < 0x20 || c == 0x7f ? ' ' : c;
        if (bad == std::string_view::npos)
            break;
        out += '?';
        line.remove_prefix(bad + 1);
    }
    return out;
}

// A sentence that quotes a whole file is cut.
constexpr int most_characters = 1000;

std::string sentence(std::string_view text) {
    const std::size_t end = byte_of(text, most_characters);
    return printable(text.substr(0, end)) + std::string(end < text.size() ? cut_mark : "");
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
                    sentence(d.message));
    if (d.place.line <= 0) {
        out += fmt::format("  --> {}\n", source.name);
    } else {
        out += fmt::format("  --> {}:{}:{}\n", source.name, d.place.line, d.place.column);
        std::string line = printable(line_of(source.text, d.place.line));
        int column = std::clamp(d.place.column, 1, characters(line) + 1);
        int room = std::max(1, characters(line) - column + 1); // for carets
        if (column > shown_columns - 20) {
            line = std::string(cut_mark) + line.substr(byte_of(line, column - 1 - shown_before));
            column = static_cast<int>(cut_mark.size()) + shown_before + 1;
        }
        if (characters(line) > shown_columns) {
            line.resize(byte_of(line, shown_columns));
            room = std::min(room, shown_columns - column + 1);
            line += cut_mark;
        }
        const int carets = std::clamp(d.place.length, 1, room);
        const std::string number = std::to_string(d.place.line);
        out += fmt::format(" {} | {}\n", number, line);
        out +=
            fmt::format(" {:{}} | {:{}}{:^>{}}\n", "", number.size(), "", column - 1, "", carets);
    }
    if (!d.help.empty())
        out += fmt::format("help: {}\n", sentence(d.help));
    return out;
}

void Diagnostics::error(std::string code, Place place, std::string message, std::string help) {
    add({Severity::Error, std::move(code), std::move(message), place, std::move(help)});
}

void Diagnostics::warning(std::string code, Place place, std::string message, std::string help) {
    add({Severity::Warning, std::move(code), std::move(message), place, std::move(help)});
}

void Diagnostics::add(Diagnostic fault) {
    if (all_.size() >= most_faults) {
        all_.push_back({Severity::Error,
                        "too-many-faults",
                        fmt::format("more than {} faults; these are the first", most_faults),
                        {},
                        "mend these and run again"});
        throw TooManyFaults{};
    }
    all_.push_back(std::move(fault));
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
        const int lengths = static_cast<int>(word.size()) - static_cast<int>(candidate.size());
        if (std::abs(lengths) >= best_distance)
            continue;
        const int distance = edit_distance(word, candidate);
        if (distance < best_distance) {
            best_distance = distance;
            best = candidate;
        }
    }
    return best;
}

} // namespace headroom::networks
