#pragma once

#include "networks/text_form.hpp"
#include "solver/report/characters.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

using networks::TextForm;

/// A table of text, columns aligned, heads above.
class Table {
public:
    /// Words stand on the left, and where the table is too wide they are broken between them.
    enum class Align { Left, Right, Words };
    struct Column {
        std::string head;
        Align align = Align::Right;
    };

    explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}
    void row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }
    /// Leaves out the last column with that head.
    void drop(const std::string &head);
    bool empty() const { return rows_.empty(); }

    /// Lines of at most `width` columns: words run on in the line below, texts on the left are cut
    /// as far as different ones stay different, and what then does not fit stands below, beside the
    /// first column again. On a terminal its own width counts, and of the texts only the first
    /// column is cut.
    std::string text(TextForm form, int width = 100) const;

private:
    std::vector<Column> columns_;
    std::vector<std::vector<std::string>> rows_;
};

/// Broken between words into lines of at most `width`; the second and later ones start with
/// `indent`. Ends in a newline.
std::string wrapped(const std::string &text, const std::string &indent = "", int width = 100);

/// One list item a text.
std::string bullets(const std::vector<std::string> &items);

/// One CSV record, quoted where needed (RFC 4180).
std::string csv_record(const std::vector<std::string> &cells);

} // namespace headroom::solver
