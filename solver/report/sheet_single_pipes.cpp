// Single pipes from point to point, such as a one-pipe ring: a point is a bar, a pipe is a row.
#include "solver/report/figures.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/sheet_symbols.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace headroom::solver {
namespace {

constexpr double spread = 104.0, left = 60.0, row_height = 58.0, first_row = 60.0;

using Kind = DrawnPart::Kind;

std::string flow_point(const DrawnPart &part, const std::string &end) {
    return part.closes_ring ? end + ".flow" : end;
}

struct Ladder {
    std::vector<const DrawnPart *> rows;
    std::map<std::string, int> rank; ///< steps from the first point
};

// The longest way to each point; a pipe that runs back in a ring is left at what is known.
void rank_points(Ladder &ladder) {
    for (std::size_t round = 0; round < ladder.rows.size(); ++round)
        for (const DrawnPart *part : ladder.rows) {
            const int next = ladder.rank[flow_point(*part, part->from)] + 1;
            if (next > static_cast<int>(ladder.rows.size()))
                continue;
            int &to = ladder.rank[flow_point(*part, part->to)];
            to = std::max(to, next);
        }
}

Ladder make_ladder(const HouseDrawing &drawing) {
    Ladder out;
    for (const DrawnPart &part : drawing.parts)
        if ((part.single || part.closes_ring) && !part.to.empty())
            out.rows.push_back(&part);
    rank_points(out);
    std::stable_sort(out.rows.begin(), out.rows.end(), [&](const DrawnPart *a, const DrawnPart *b) {
        const auto key = [&](const DrawnPart *part) {
            return std::pair{out.rank[flow_point(*part, part->from)],
                             out.rank[flow_point(*part, part->to)]};
        };
        return key(a) < key(b);
    });
    return out;
}

struct Point {
    double x, top, bottom;
    std::string name;
    double index_top = 1e9, index_bottom = 0.0; ///< rows of the index circuit that it joins
};

// Points side by side in the order of their rank, each over the rows that it joins.
std::vector<Point> place_points(const Ladder &ladder) {
    std::vector<std::pair<int, std::string>> order;
    for (const auto &[name, rank] : ladder.rank)
        order.emplace_back(rank, name);
    std::sort(order.begin(), order.end());
    std::vector<Point> out;
    for (const auto &[rank, name] : order) {
        Point point{left + spread * static_cast<double>(out.size()), 1e9, 0.0, name};
        for (std::size_t i = 0; i < ladder.rows.size(); ++i) {
            const DrawnPart &part = *ladder.rows[i];
            if (flow_point(part, part.from) != name && flow_point(part, part.to) != name)
                continue;
            const double y = first_row + row_height * static_cast<double>(i);
            point.top = std::min(point.top, y);
            point.bottom = std::max(point.bottom, y);
            if (part.on_index) {
                point.index_top = std::min(point.index_top, y);
                point.index_bottom = std::max(point.index_bottom, y);
            }
        }
        out.push_back(point);
    }
    return out;
}

double x_of(const std::vector<Point> &points, const std::string &name) {
    return std::find_if(points.begin(), points.end(),
                        [&](const Point &p) { return p.name == name; })
        ->x;
}

void draw_row(Svg &svg, const DrawnPart &part, double from, double to, double y, double width) {
    if (part.on_index)
        svg.line({from, y}, {to, y}, "index", 18.0);
    svg.line({from, y}, {to, y}, "flow", width);
    if (part.kind == Kind::Radiator || part.kind == Kind::Loop) {
        const double middle = 0.5 * (from + to);
        svg.rect(middle - 20.0, y - 9.0, 40.0, 18.0, "machine", 2.0);
        for (int i = -1; i <= 1; ++i)
            svg.line({middle + 10.0 * i, y - 7.0}, {middle + 10.0 * i, y + 7.0}, "mark");
    }
    svg.circle({from, y}, 3.5, "joint");
    svg.circle({to, y}, 3.5, "joint");
    const double start = std::min(from, to) + 7.0;
    svg.short_text({start, y - 10.0}, part.name, 20, Anchor::Start, "strong halo");
    svg.text({start, y + 20.0},
             fmt::format("{} l/min, {}°", fixed(part.flow_m3_s * 6e4, 2),
                         fixed(part.kind == Kind::Run ? part.flow_c : part.return_c, 1)),
             Anchor::Start, "halo");
}

} // namespace

std::string draw_single_pipes(const HouseDrawing &drawing) {
    const Ladder ladder = make_ladder(drawing);
    if (ladder.rows.empty())
        return {};
    const std::vector<Point> points = place_points(ladder);
    Svg svg("single-pipes", left + spread * static_cast<double>(points.size()) + 110.0,
            first_row + row_height * static_cast<double>(ladder.rows.size()),
            "Single pipes from point to point",
            "Each upright bar is a point where pipes meet, each level line a pipe or radiator "
            "between two points, with its flow.");
    double most = 0.0;
    for (const DrawnPart *part : ladder.rows)
        most = std::max(most, std::abs(part->flow_m3_s));
    for (const Point &point : points)
        if (point.index_bottom > point.index_top)
            svg.line({point.x, point.index_top}, {point.x, point.index_bottom}, "index", 18.0);
    for (const Point &point : points)
        svg.line({point.x, point.top - 20.0}, {point.x, point.bottom + 10.0}, "post", 3.0);
    for (std::size_t i = 0; i < ladder.rows.size(); ++i) {
        const DrawnPart &part = *ladder.rows[i];
        draw_row(svg, part, x_of(points, flow_point(part, part.from)),
                 x_of(points, flow_point(part, part.to)),
                 first_row + row_height * static_cast<double>(i),
                 most > 0.0 ? 1.2 + 4.8 * std::abs(part.flow_m3_s) / most : 1.2);
    }
    for (const Point &point : points)
        svg.short_text({point.x, point.top - 25.0}, point.name, 18, Anchor::Middle, "halo small");
    return svg.svg();
}

} // namespace headroom::solver
