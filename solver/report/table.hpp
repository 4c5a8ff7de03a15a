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

/// Broken between words into lines of at most `width`; the second and later ones start with
/// `indent`. Ends in a newline.
std::string wrapped(const std::string &text, const std::string &indent = "", int width = 100);

/// One list item a text.
std::string bullets(const std::vector<std::string> &items);

/// One CSV record, quoted where needed (RFC 4180).
std::string csv_record(const std::vector<std::string> &cells);

} // namespace headroom::solver
