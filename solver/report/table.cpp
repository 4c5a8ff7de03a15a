#include "solver/report/table.hpp"

#include <algorithm>
#include <sstream>

namespace headroom::solver {
namespace {

bool starts_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

// Cut to a number of characters, the cut marked by two dots.
std::string shortened(const std::string &text, int width) {
    if (display_width(text) <= width)
        return text;
    std::string out;
    int characters = 0;
    for (char c : text) {
        if (starts_character(c) && ++characters > width - 2)
            break;
        out += c;
    }
    return out + "..";
}

std::string padded(const std::string &text, int width, Table::Align align) {
    const std::string space(static_cast<std::size_t>(std::max(0, width - display_width(text))),
                            ' ');
    return align == Table::Align::Left ? text + space : space + text;
}

} // namespace

int display_width(const std::string &text) {
    return static_cast<int>(std::count_if(text.begin(), text.end(), starts_character));
}

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

std::string Table::text(int width) const {
    std::vector<int> widths;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        int w = display_width(columns_[c].head);
        for (const auto &row : rows_)
            w = std::max(w, display_width(row[c]));
        widths.push_back(w);
    }
    int total = 2;
    for (int w : widths)
        total += w + 2;
    // Left columns give way, the widest first, down to a readable least.
    constexpr int least_left = 14;
    while (total > width) {
        std::size_t widest = columns_.size();
        for (std::size_t c = 0; c < columns_.size(); ++c)
            if (columns_[c].align == Align::Left && widths[c] > least_left &&
                (widest == columns_.size() || widths[c] > widths[widest]))
                widest = c;
        if (widest == columns_.size())
            break;
        --widths[widest];
        --total;
    }
    const auto line = [&](const std::vector<std::string> &cells) {
        std::string out = " ";
        for (std::size_t c = 0; c < cells.size(); ++c) {
            out += ' ';
            out += padded(shortened(cells[c], widths[c]), widths[c], columns_[c].align);
            out += ' ';
        }
        out.erase(out.find_last_not_of(' ') + 1);
        return out + "\n";
    };
    std::vector<std::string> heads;
    for (const Column &column : columns_)
        heads.push_back(column.head);
    std::string out = line(heads);
    for (const auto &row : rows_)
        out += line(row);
    return out;
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
