// The schematic of the sheet: a tree from the source at the left, one row a loop or radiator.
// Every run lies level with the first row of the place it leads to, so that no pipe bends.
#include "solver/report/figures.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/sheet_symbols.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

constexpr double column = 186.0, first_column = 168.0;
constexpr double row_height = 52.0, after_place = 26.0, before_run = 16.0;
constexpr double bar = 8.0; // of a place's flow and return from its middle

using Kind = DrawnPart::Kind;

struct Placed {
    const DrawnPart *part; ///< null: single pipes that are drawn apart
    double y;
    int depth;
    bool first; ///< of its place: no bar passes it
};

struct PlacedBars {
    const DrawnPlace *place;
    int depth;
    double top, bottom;
    double index_bottom; ///< the lowest row that the index circuit reaches; below `top` if none
};

class Schematic {
public:
    explicit Schematic(const HouseDrawing &drawing);
    std::string draw();

private:
    double x_of(int depth) const { return first_column + column * depth; }
    double pipe_width(double flow_m3_s) const;
    const DrawnPlace &place(const std::string &name) const;
    bool has_single_pipes(const std::string &name) const;
    double lay(const std::string &name, int depth);
    void draw_index(Svg &svg) const;
    void draw_bars(Svg &svg, const PlacedBars &bars) const;
    void draw_pair(Svg &svg, const Placed &placed, double from, double to, double width) const;
    void draw_run(Svg &svg, const Placed &placed) const;
    void draw_leaf(Svg &svg, const Placed &placed) const;
    void draw_source(Svg &svg) const;

    const HouseDrawing &drawing_;
    std::vector<Placed> rows_;
    std::vector<PlacedBars> bars_;
    double next_y_ = 64.0;
    double most_flow_ = 0.0;
    int deepest_ = 0;
};

Schematic::Schematic(const HouseDrawing &drawing) : drawing_(drawing) {
    for (const DrawnPart &part : drawing.parts)
        most_flow_ = std::max(most_flow_, std::abs(part.flow_m3_s));
    lay("source", 0);
}

double Schematic::pipe_width(double flow_m3_s) const {
    return most_flow_ > 0.0 ? 1.2 + 4.8 * std::abs(flow_m3_s) / most_flow_ : 1.2;
}

const DrawnPlace &Schematic::place(const std::string &name) const {
    return *std::find_if(drawing_.places.begin(), drawing_.places.end(),
                         [&](const DrawnPlace &place) { return place.name == name; });
}

bool Schematic::has_single_pipes(const std::string &name) const {
    return std::any_of(drawing_.parts.begin(), drawing_.parts.end(), [&](const DrawnPart &part) {
        return part.single ? part.from == name + ".flow" || part.from == name
                           : part.closes_ring && (part.from == name || part.to == name);
    });
}

// Gives rows to all that hangs on a place; the row of its first.
double Schematic::lay(const std::string &name, int depth) {
    deepest_ = std::max(deepest_, depth);
    PlacedBars bars{&place(name), depth, next_y_, next_y_, next_y_ - 1.0};
    bool first = true;
    const auto add = [&](const DrawnPart *part) {
        const bool run = part != nullptr && part->kind == Kind::Run;
        if (run && !first)
            next_y_ = std::max(next_y_, bars.bottom + row_height + before_run);
        double y = next_y_;
        const std::size_t at = rows_.size();
        rows_.push_back({part, y, depth, first});
        if (run)
            rows_[at].y = y = lay(part->to, depth + 1);
        else
            next_y_ += row_height;
        if (first)
            bars.top = y;
        first = false;
        bars.bottom = y;
        if (part != nullptr && part->on_index)
            bars.index_bottom = y;
    };
    for (const bool runs : {false, true}) // what hangs here comes before what leads on
        for (const DrawnPart &part : drawing_.parts)
            if (part.from == name && !part.single && !part.closes_ring &&
                (part.kind == Kind::Run) == runs)
                add(&part);
    if (has_single_pipes(name) || first)
        add(nullptr);
    next_y_ = std::max(next_y_, bars.bottom + row_height + after_place +
                                    (bars.top == bars.bottom ? before_run : 0.0));
    bars_.push_back(bars);
    return bars.top;
}

void Schematic::draw_index(Svg &svg) const {
    for (const PlacedBars &bars : bars_)
        if (bars.index_bottom > bars.top)
            svg.line({x_of(bars.depth), bars.top}, {x_of(bars.depth), bars.index_bottom}, "index",
                     30.0);
    for (const Placed &row : rows_)
        if (row.part != nullptr && row.part->on_index) {
            const double from = x_of(row.depth);
            svg.line({from - 15.0, row.y},
                     {row.part->kind == Kind::Run ? from + column + 15.0 : from + 126.0, row.y},
                     "index", 30.0);
        }
    svg.line({110.0, bars_.back().top}, {x_of(0), bars_.back().top}, "index", 30.0);
}

// The bars of a place: flow left, return right.
void Schematic::draw_bars(Svg &svg, const PlacedBars &bars) const {
    const double x = x_of(bars.depth);
    const double top = bars.top - 6.0, bottom = bars.bottom + 6.0;
    if (bars.place->kind == DrawnPlace::Kind::Separator)
        svg.rect(x - 24.0, top - 14.0, 48.0, bottom - top + 28.0, "vessel", 16.0);
    const double width = bars.place->kind == DrawnPlace::Kind::Manifold ? 6.0 : 3.0;
    svg.line({x - bar, top}, {x - bar, bottom - 12.0}, "flow", width);
    svg.line({x + bar, top + 12.0}, {x + bar, bottom}, "back", width);
    if (bars.place->kind == DrawnPlace::Kind::Source)
        return;
    const double name_y =
        bottom + (bars.top == bars.bottom ? 46.0 : 18.0); // clear of a run's words
    svg.short_text({x + 14.0, name_y}, bars.place->name, 24, Anchor::End, "strong");
    if (bars.place->kind == DrawnPlace::Kind::Separator && drawing_.separator_m3_s)
        svg.text({x + 14.0, name_y + 14.0},
                 fmt::format("{} l/min {}", fixed(std::abs(*drawing_.separator_m3_s) * 6e4, 1),
                             *drawing_.separator_m3_s >= 0.0 ? "flow to return" : "return to flow"),
                 Anchor::End, "small");
}

// Flow above, return below, from the bars of one place to the bars of the next or a symbol. The
// return bar is interrupted where the flow crosses it.
void Schematic::draw_pair(Svg &svg, const Placed &placed, double from, double to,
                          double width) const {
    const double y = placed.y;
    if (!placed.first)
        svg.line({from + bar - 5.0, y - 6.0}, {from + bar + 5.0, y - 6.0}, "gap", width + 5.0);
    svg.line({from - bar, y - 6.0}, {to, y - 6.0}, "flow", width);
    svg.line({from + bar, y + 6.0}, {to, y + 6.0}, "back", width);
    svg.circle({from - bar, y - 6.0}, 3.2, "joint");
    svg.circle({from + bar, y + 6.0}, 3.2, "joint");
}

void Schematic::draw_run(Svg &svg, const Placed &placed) const {
    const DrawnPart &run = *placed.part;
    const double from = x_of(placed.depth), to = x_of(placed.depth + 1);
    const double y = placed.y, width = pipe_width(run.flow_m3_s);
    draw_pair(svg, placed, from, to - bar - 6.0, width);
    svg.line({to - bar - 6.0, y - 6.0}, {to - bar, y - 6.0}, "flow", width);
    svg.line({to - bar + 6.0, y + 6.0}, {to + bar, y + 6.0}, "back", width); // under the flow bar
    svg.circle({to - bar, y - 6.0}, 3.2, "joint");
    svg.circle({to + bar, y + 6.0}, 3.2, "joint");
    svg.short_text({from + 22.0, y - 32.0}, run.name, 21, Anchor::Start, "strong");
    svg.text({from + 22.0, y - 18.0},
             fmt::format("{} l/min, {}°", fixed(run.flow_m3_s * 6e4, 1), fixed(run.flow_c, 1)));
    std::string below = run.pipe.substr(0, run.pipe.find(','));
    double at = to - 34.0;
    if (!run.pump.empty()) {
        draw_pump_symbol(svg, {at, y - 6.0});
        at -= 34.0;
        below += ", " + run.pump;
    }
    if (run.hot_share) {
        draw_mixer_symbol(svg, {at, y - 6.0}, 12.0);
        at -= 34.0;
        svg.text({from + 22.0, y + 37.0}, fmt::format("mixer {} hot", percent(*run.hot_share)),
                 Anchor::Start, "small");
    }
    if (!run.zone.empty()) {
        draw_valve_symbol(svg, {at, y - 6.0});
        below += ", zone " + run.zone;
    }
    svg.short_text({from + 22.0, y + 23.0}, below, 26, Anchor::Start, "small");
}

void Schematic::draw_leaf(Svg &svg, const Placed &placed) const {
    const double x = x_of(placed.depth), y = placed.y;
    if (placed.part == nullptr) {
        draw_pair(svg, placed, x, x + 40.0, 1.2);
        svg.rect(x + 40.0, y - 15.0, 84.0, 30.0, "outline", 4.0);
        svg.text({x + 82.0, y + 4.0}, "single pipes", Anchor::Middle, "small");
        svg.text({x + 132.0, y + 4.0}, "drawn below by themselves", Anchor::Start, "small");
        return;
    }
    const DrawnPart &part = *placed.part;
    const double width = pipe_width(part.flow_m3_s);
    draw_pair(svg, placed, x, x + 34.0, width);
    draw_end_symbol(svg, part.kind, {x + 34.0, y}, width);
    svg.short_text({x + 132.0, y - 5.0}, part.name, 26, Anchor::Start, "strong");
    std::string figures;
    if (part.kind == Kind::HotWater)
        figures = "not in this state";
    else if (part.kind == Kind::Bypass)
        figures = fmt::format("{} l/min past", fixed(part.flow_m3_s * 6e4, 1));
    else
        figures = fmt::format("{} l/min, {} of design, back {}°", fixed(part.flow_m3_s * 6e4, 2),
                              percent(part.design_share), fixed(part.return_c, 1));
    svg.text({x + 132.0, y + 9.0}, figures);
    std::string third = part.zone.empty() ? "" : "zone " + part.zone;
    if (part.on_index)
        third = third.empty() ? "index circuit" : "index circuit, " + third;
    svg.text({x + 132.0, y + 22.0}, third, Anchor::Start, part.on_index ? "strong" : "small");
}

void Schematic::draw_source(Svg &svg) const {
    const double y = bars_.back().top, x = x_of(0);
    const double width = pipe_width(drawing_.source_m3_s);
    svg.rect(14.0, y - 34.0, 96.0, 68.0, "machine", 6.0);
    svg.short_text({62.0, y - 14.0}, drawing_.source, 14, Anchor::Middle, "strong");
    svg.text({62.0, y + 3.0}, "sends " + fixed(drawing_.sent_c, 1) + "°", Anchor::Middle);
    svg.text({62.0, y + 20.0}, "back " + fixed(drawing_.back_c, 1) + "°", Anchor::Middle);
    svg.line({110.0, y - 6.0}, {x - bar, y - 6.0}, "flow", width);
    svg.line({110.0, y + 6.0}, {x + bar, y + 6.0}, "back", width);
    draw_pump_symbol(svg, {132.0, y - 6.0});
    svg.text({112.0, y - 24.0}, fixed(drawing_.source_m3_s * 6e4, 1) + " l/min");
}

std::string Schematic::draw() {
    Svg svg("schematic", x_of(deepest_) + 424.0, next_y_ + 66.0, "Schematic of the heating system",
            fmt::format("The source at the left sends {} l/min at {} degC; flow pipes are solid, "
                        "return pipes dashed. Each row ends in a loop or radiator with its flow. "
                        "The tables of the same section hold every figure.",
                        fixed(drawing_.source_m3_s * 6e4, 1), fixed(drawing_.sent_c, 1)));
    draw_index(svg);
    for (const PlacedBars &bars : bars_)
        draw_bars(svg, bars);
    draw_source(svg);
    for (const Placed &row : rows_) {
        if (row.part != nullptr && row.part->kind == Kind::Run)
            draw_run(svg, row);
        else
            draw_leaf(svg, row);
    }
    const double y = next_y_ + 2.0;
    draw_legend(svg, {20.0, y}, {{"flow", "flow: solid"}, {"back", "return: dashed"}});
    draw_legend(svg, {170.0, y},
                {{"index", "index circuit", true}, {"vessel", "header or other separator", true}});
    draw_pump_symbol(svg, {406.0, y - 4.0});
    svg.text({424.0, y}, "circulator, points the way");
    draw_mixer_symbol(svg, {406.0, y + 17.0}, 0.0);
    svg.text({424.0, y + 21.0}, "mixer, or zone valve without its stem");
    return svg.svg();
}

} // namespace

std::string draw_schematic(const HouseDrawing &drawing) {
    return Schematic(drawing).draw();
}

} // namespace headroom::solver
