#include "solver/report/html.hpp"

#include <fmt/format.h>

namespace headroom::solver {

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '&')
            out += "&amp;";
        else if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else if (c == '"')
            out += "&quot;";
        else if (c == '\'')
            out += "&#39;";
        else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f)
            out += ' ';
        else
            out += c;
    }
    return out;
}

namespace {

std::string cell_class(const HtmlColumn &column) {
    return column.to_fill ? " class=\"fill\"" : column.number ? " class=\"n\"" : "";
}

} // namespace

std::string HtmlTable::html() const {
    std::string out =
        fmt::format("<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-label=\"{0}\">"
                    "<table><caption>{0}</caption>\n<thead><tr>",
                    escaped(caption_));
    for (const HtmlColumn &column : columns_)
        out += fmt::format(
            "<th scope=\"col\"{}>{}{}</th>", cell_class(column), escaped(column.head),
            column.unit.empty() ? "" : fmt::format("<br><small>{}</small>", escaped(column.unit)));
    out += "</tr></thead>\n<tbody>\n";
    for (const auto &row : rows_) {
        out += "<tr>";
        for (std::size_t i = 0; i < columns_.size(); ++i) {
            const std::string text = i < row.size() ? escaped(row[i]) : "";
            out += i == 0
                       ? fmt::format("<th scope=\"row\"{}>{}</th>", cell_class(columns_[0]), text)
                       : fmt::format("<td{}>{}</td>", cell_class(columns_[i]), text);
        }
        out += "</tr>\n";
    }
    return out + "</tbody></table></div>\n";
}

std::string paragraph(std::string_view text, std::string_view kind) {
    return kind.empty() ? fmt::format("<p>{}</p>\n", escaped(text))
                        : fmt::format("<p class=\"{}\">{}</p>\n", kind, escaped(text));
}

std::string bullets(const std::vector<std::string> &items, bool numbered) {
    if (items.empty())
        return {};
    const char *tag = numbered ? "ol" : "ul";
    std::string out = fmt::format("<{}>\n", tag);
    for (const std::string &item : items)
        out += fmt::format("<li>{}</li>\n", escaped(item));
    return out + fmt::format("</{}>\n", tag);
}

std::string figure(std::string_view id, std::string_view heading, const std::string &svg,
                   std::string_view how_to_read, bool wide) {
    return fmt::format("<figure id=\"{0}\"{1}>\n<h3>{2}</h3>\n<div class=\"scroll\" "
                       "role=\"region\" tabindex=\"0\" aria-label=\"Drawing: {2}\">\n{3}</div>\n"
                       "<figcaption><b>How to read it.</b> {4}</figcaption>\n</figure>\n",
                       id, wide ? " class=\"wide\"" : "", escaped(heading), svg,
                       escaped(how_to_read));
}

} // namespace headroom::solver
