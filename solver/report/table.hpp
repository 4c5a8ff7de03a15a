#pragma once

#include <string>
#include <vector>

namespace headroom::solver {

/// A table of text, columns aligned, heads above, for a terminal.
class Table {
public:
    enum class Align { Left, Right };
    struct Column {
        std::string head;
        Align align = Align::Right;
    };

    explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    bool empty() const { return rows_.empty(); }

    /// Lines of at most `width` characters where the first column can be cut for it.
    std::string text(int width = 100) const;

private:
    std::vector<Column> columns_;
    std::vector<std::vector<std::string>> rows_;
};

/// Characters on the screen, not bytes.
int display_width(const std::string &text);

/// One CSV record, quoted where needed (RFC 4180).
std::string csv_record(const std::vector<std::string> &cells);

} // namespace headroom::solver
