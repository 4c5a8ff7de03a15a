// The same rooms in each bore, side by side.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/svg.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

constexpr double most_of_available = 2.5; // longer bars are cut, their figures stay
constexpr double figure_width = 50.0;

double row_count(const BoresAnswer &bores) {
    return static_cast<double>(bores.relaid.size() + bores.same.size());
}

void add_rows(Svg &svg, const Axes &axes, const std::vector<BoreRow> &rows, std::string_view look,
              std::string_view laid, double &y) {
    for (const BoreRow &row : rows) {
        const double end = std::min(axes.x.at(row.needed_pa * 1e-3), axes.x.to);
        svg.rect(axes.x.from, y, end - axes.x.from, 15.0, look);
        const double mark = axes.x.at(row.available_pa * 1e-3);
        svg.line({mark, y - 3.0}, {mark, y + 18.0}, "curve a", 3.0);
        svg.short_text({axes.x.from - 8.0, y + 12.0}, fmt::format("{}, {}", row.pipe, laid), 25,
                       Anchor::End);
        const bool free = end > mark || mark - end > figure_width;
        svg.text({(free ? end : mark) + 6.0, y + 12.0}, kpa(row.needed_pa), Anchor::Start,
                 "small halo");
        y += 26.0;
    }
}

std::string bores_table(const BoresAnswer &bores) {
    HtmlTable table("The same rooms in each bore", {{"pipe", "", false},
                                                    {"laid", "", false},
                                                    {"loops", ""},
                                                    {"pipe", "m"},
                                                    {"needed", "kPa"},
                                                    {"available", "kPa"},
                                                    {"headroom at least", "kPa"},
                                                    {"needs water at", "°C"},
                                                    {"season", ""},
                                                    {"one circulator", "", false}});
    const auto cell = [](const std::optional<double> &value, int digits) {
        return value ? fixed(*value, digits) : std::string("–");
    };
    for (const auto &[rows, laid] :
         {std::pair(&bores.relaid, "anew"), std::pair(&bores.same, "as drawn")})
        for (const BoreRow &row : *rows)
            table.row({row.pipe, laid, std::to_string(row.loops), fixed(row.pipe_m, 0),
                       kpa(row.needed_pa), kpa(row.available_pa), signed_kpa(row.headroom_low_pa),
                       cell(row.needs_c, 1), cell(row.seasonal_performance, 2),
                       row.enough ? "has the head" : "lacks head"});
    return table.html();
}

std::string draw_bores(const BoresAnswer &bores) {
    constexpr double left = 190.0;
    double needed = 1e3, available = 1e3;
    for (const auto *rows : {&bores.relaid, &bores.same})
        for (const BoreRow &row : *rows) {
            needed = std::max(needed, row.needed_pa);
            available = std::max(available, row.available_pa);
        }
    Svg svg("bores", 720.0, 110.0 + 26.0 * row_count(bores), "The same rooms in each bore",
            "One bar a pipe and way of laying: the head it needs; a mark where the circulator's "
            "ends.");
    const double end = std::max(std::min(needed, most_of_available * available), available);
    const Axes axes = draw_axes(svg, {"head needed on the design day, kPa", 0.0, end * 1e-3},
                                {"", 0.0, 1.0}, left, 36.0, 62.0, 50.0);
    double y = 42.0;
    add_rows(svg, axes, bores.relaid, "bar own", "laid anew", y);
    add_rows(svg, axes, bores.same, "bar surplus", "as drawn", y);
    draw_legend(svg, {left, 18.0}, {{"bar own", "laid anew", true}});
    draw_legend(svg, {left + 130.0, 18.0}, {{"bar surplus", "at the lengths drawn", true}});
    draw_legend(svg, {left + 330.0, 18.0}, {{"curve a", "available"}});
    return svg.svg();
}

} // namespace

std::string bores_part(const BoresAnswer &bores) {
    std::string out =
        figure("figure-bores", "The same rooms in each bore", draw_bores(bores),
               "Each bar is the head that one circulator would need with all loops in that pipe, "
               "once laid anew at lengths that suit the bore, once at the lengths drawn; a bar "
               "that ends before its mark leaves the rest as headroom. Bars beyond the edge are "
               "cut; the figure behind each is its head in kPa.");
    out += bores_table(bores);
    for (const std::string &conclusion : bores.conclusions)
        out += paragraph(conclusion);
    for (const LeftOutPipe &pipe : bores.left_out)
        out += paragraph(fmt::format("{} left out: {}", pipe.pipe, pipe.reason));
    return out + paragraph(bores.habit, "note");
}

} // namespace headroom::solver
