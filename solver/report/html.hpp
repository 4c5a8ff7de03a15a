// Pieces of an HTML page. Text given to them is escaped by them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headroom::solver {

/// Text that a page shows as it is, in element or attribute: markup and control characters cannot
/// get out of it.
std::string escaped(std::string_view text);

struct HtmlColumn {
    std::string head;
    std::string unit;     ///< shown under the head; may be empty
    bool number = true;   ///< aligned right
    bool to_fill = false; ///< left wide and empty, to write on
};

/// A table that scrolls within its own box on a narrow screen. The first cell of a row heads it.
class HtmlTable {
public:
    HtmlTable(std::string caption, std::vector<HtmlColumn> columns)
        : caption_(std::move(caption)), columns_(std::move(columns)) {}
    /// Cells left off at the end are empty.
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    bool empty() const { return rows_.empty(); }
    std::string html() const;

private:
    std::string caption_;
    std::vector<HtmlColumn> columns_;
    std::vector<std::vector<std::string>> rows_;
};

std::string paragraph(std::string_view text, std::string_view kind = "");
/// Nothing for an empty list.
std::string bullets(const std::vector<std::string> &items, bool numbered = false);

/// A drawing with its heading and how to read it. `wide` ones print on a page across.
std::string figure(std::string_view id, std::string_view heading, const std::string &svg,
                   std::string_view how_to_read, bool wide = false);

} // namespace headroom::solver
