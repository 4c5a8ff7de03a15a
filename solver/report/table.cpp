#include "solver/report/table.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <optional>
#include <sstream>

namespace headroom::solver {
namespace {

// Columns between columns, and before the first.
constexpr int gap = 2;
// Texts on the left give way to no less than this; on a terminal names alone do, which stand first,
// to no less than that.
constexpr int least_left = 14;
constexpr int least_name = 20;
// And words are broken into lines of no less.
constexpr int least_words = 18;

// Of what is kept of a text that is cut, the share that is its beginning; the rest is its end.
struct Cut {
    int front_eighths;
};
constexpr Cut at_end{8};
constexpr std::array cuts{at_end, Cut{4}, Cut{6}, Cut{2}, Cut{7}, Cut{5}, Cut{3}, Cut{1}, Cut{0}};

std::string shortened(const std::string &text, int width, Cut cut, std::string_view mark) {
    if (display_width(text) <= width)
        return text;
    const int kept = width - display_width(mark);
    const int front = (kept * cut.front_eighths + 7) / 8;
    return beginning(text, front) + std::string(mark) + ending(text, kept - front);
}

std::string padded(const std::string &text, int width, Table::Align align) {
    const std::string space(static_cast<std::size_t>(std::max(0, width - display_width(text))),
                            ' ');
    return align == Table::Align::Right ? space + text : text + space;
}

// One column as it is set: its cells below its head.
struct Strip {
    std::string head;
    std::vector<std::string> cells;
    int width = 0;
    Table::Align align = Table::Align::Right;
};

int natural_width(const Strip &strip) {
    int width = display_width(strip.head);
    for (const std::string &cell : strip.cells)
        width = std::max(width, display_width(cell));
    return width;
}

std::vector<std::string> cut_cells(const Strip &strip, int width, Cut cut, std::string_view mark) {
    std::vector<std::string> out;
    for (const std::string &cell : strip.cells)
        out.push_back(shortened(cell, width, cut, mark));
    return out;
}

// Different texts stay different.
bool distinct(const std::vector<std::string> &whole, const std::vector<std::string> &cut) {
    std::map<std::string, std::string> first;
    for (std::size_t i = 0; i < cut.size(); ++i)
        if (first.emplace(cut[i], whole[i]).first->second != whole[i])
            return false;
    return true;
}

std::optional<Cut> cut_that_keeps_apart(const Strip &strip, int width, std::string_view mark) {
    for (const Cut cut : cuts)
        if (distinct(strip.cells, cut_cells(strip, width, cut, mark)))
            return cut;
    return std::nullopt;
}

int total_width(const std::vector<Strip> &strips) {
    int total = gap;
    for (const Strip &strip : strips)
        total += strip.width + gap;
    return total;
}

// Narrows the widest column of that kind, one character at a time, while `may` allows it.
template <class May>
void narrow(std::vector<Strip> &strips, Table::Align align, int width, const May &may) {
    while (total_width(strips) > width) {
        Strip *widest = nullptr;
        for (Strip &strip : strips)
            if (strip.align == align && may(strip) &&
                (widest == nullptr || strip.width > widest->width))
                widest = &strip;
        if (widest == nullptr)
            return;
        --widest->width;
    }
}

std::string line_of(const std::vector<const Strip *> &strips,
                    const std::function<const std::string &(const Strip &)> &cell) {
    std::string line = " ";
    for (const Strip *strip : strips)
        line += ' ' + padded(cell(*strip), strip->width, strip->align) + ' ';
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
}

std::string lines(const std::vector<const Strip *> &strips) {
    std::string out =
        line_of(strips, [](const Strip &strip) -> const std::string & { return strip.head; });
    for (std::size_t row = 0; row < strips.front()->cells.size(); ++row)
        out += line_of(
            strips, [row](const Strip &strip) -> const std::string & { return strip.cells[row]; });
    return out;
}

std::vector<Strip> strips_of(const std::vector<Table::Column> &columns,
                             const std::vector<std::vector<std::string>> &rows, bool ascii) {
    std::vector<Strip> out;
    for (std::size_t c = 0; c < columns.size(); ++c) {
        Strip strip;
        strip.align = columns[c].align;
        strip.head = ascii ? in_ascii(columns[c].head) : columns[c].head;
        for (const auto &row : rows)
            strip.cells.push_back(ascii ? in_ascii(row[c]) : row[c]);
        strip.width = natural_width(strip);
        out.push_back(std::move(strip));
    }
    return out;
}

} // namespace

std::string wrapped(const std::string &text, const std::string &indent, int width) {
    std::string out;
    std::string line;
    std::size_t at = text.find_first_not_of(' ');
    line = text.substr(0, at == std::string::npos ? 0 : at); // its own indent
    bool fresh = true;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string word = text.substr(at, end - at);
        if (!fresh && display_width(line) + 1 + display_width(word) > width) {
            out += line + "\n";
            line = indent;
            fresh = true;
        }
        line += (fresh ? "" : " ") + word;
        fresh = false;
        at = end + 1;
    }
    return out + line + "\n";
}

std::string bullets(const std::vector<std::string> &items) {
    std::string out;
    for (const std::string &item : items)
        out += wrapped("  - " + item, "    ");
    return out;
}

void Table::drop(const std::string &head) {
    std::size_t at = columns_.size();
    while (at > 0 && columns_[at - 1].head != head)
        --at;
    if (at == 0)
        return;
    columns_.erase(columns_.begin() + static_cast<std::ptrdiff_t>(at - 1));
    for (auto &row : rows_)
        row.erase(row.begin() + static_cast<std::ptrdiff_t>(at - 1));
}

namespace {

// Cut to their widths so that different texts stay different where that can be.
void cut_to_width(std::vector<Strip> &strips, std::string_view mark) {
    for (Strip &strip : strips) {
        strip.head = shortened(strip.head, strip.width, at_end, mark);
        strip.cells =
            cut_cells(strip, strip.width,
                      cut_that_keeps_apart(strip, strip.width, mark).value_or(at_end), mark);
    }
}

std::vector<std::string> lines_of(const std::string &text, int width) {
    std::istringstream broken(wrapped(text, "  ", width));
    std::vector<std::string> out;
    for (std::string line; std::getline(broken, line);)
        out.push_back(line);
    return out;
}

// Each row as the lines that its words need in columns as narrow as the table asks for.
std::vector<Strip> with_words_broken(std::vector<Strip> strips, int width) {
    narrow(strips, Table::Align::Words, width,
           [](const Strip &strip) { return strip.width > least_words; });
    std::vector<Strip> out = strips;
    for (Strip &strip : out)
        strip.cells.clear();
    for (std::size_t row = 0; row < strips.front().cells.size(); ++row) {
        std::vector<std::vector<std::string>> cells;
        std::size_t deepest = 1;
        for (const Strip &strip : strips) {
            const std::string &cell = strip.cells[row];
            cells.push_back(strip.align == Table::Align::Words ? lines_of(cell, strip.width)
                                                               : std::vector{cell});
            deepest = std::max(deepest, cells.back().size());
        }
        for (std::size_t i = 0; i < strips.size(); ++i) {
            cells[i].resize(deepest);
            out[i].cells.insert(out[i].cells.end(), cells[i].begin(), cells[i].end());
        }
    }
    for (Strip &strip : out)
        strip.width = natural_width(strip);
    return out;
}

// What does not fit beside the first column stands below, beside that column again.
std::string blocks_of(const std::vector<Strip> &strips, int width) {
    std::string out;
    for (std::size_t next = 1; next < strips.size() || out.empty();) {
        std::vector<const Strip *> block{&strips.front()};
        int total = gap + strips.front().width;
        while (next < strips.size() &&
               (block.size() == 1 || total + gap + strips[next].width <= width)) {
            total += gap + strips[next].width;
            block.push_back(&strips[next++]);
        }
        out += (out.empty() ? "" : "\n") + lines(block);
    }
    return out;
}

// Of a table that will be broken, no text is cut more than blocks as wide as that ask for.
std::vector<Strip> for_blocks(std::vector<Strip> strips, int width, std::string_view mark) {
    const auto apart = [&](const Strip &strip) {
        return cut_that_keeps_apart(strip, strip.width - 1, mark).has_value();
    };
    Strip &names = strips.front();
    while (names.width > width / 2 - gap && apart(names))
        --names.width;
    for (Strip &strip : strips)
        while (strip.align == Table::Align::Left && names.width + strip.width > width - 2 * gap &&
               apart(strip))
            --strip.width;
    return strips;
}

} // namespace

std::string Table::text(TextForm form, int width) const {
    const bool terminal = form.columns > 0;
    if (terminal)
        width = form.columns;
    const std::string_view mark = terminal && !form.ascii ? "\u2026" : "..";
    const std::vector<Strip> natural =
        with_words_broken(strips_of(columns_, rows_, form.ascii), width);
    std::vector<Strip> strips = natural;
    narrow(strips, Align::Left, width, [&](const Strip &strip) {
        return (terminal ? &strip == &strips.front() && strip.width > least_name
                         : strip.width > least_left) &&
               cut_that_keeps_apart(strip, strip.width - 1, mark).has_value();
    });
    if (total_width(strips) > width)
        strips = for_blocks(natural, width, mark);
    cut_to_width(strips, mark);
    return blocks_of(strips, width);
}

std::string csv_record(const std::vector<std::string> &cells) {
    std::string out;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        if (i > 0)
            out += ',';
        if (cells[i].find_first_of(",\"\r\n") == std::string::npos) {
            out += cells[i];
            continue;
        }
        out += '"';
        for (char c : cells[i]) {
            if (c == '"')
                out += '"';
            out += c;
        }
        out += '"';
    }
    return out + "\r\n";
}

} // namespace headroom::solver
