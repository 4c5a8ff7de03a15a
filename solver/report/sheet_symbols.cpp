#include "solver/report/sheet_symbols.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

// Flow out, half a turn, return back.
void hairpin(Svg &svg, SvgPoint at, double length, double width) {
    std::vector<SvgPoint> turn;
    constexpr double radius = 6.0;
    for (int i = 0; i <= 8; ++i) {
        const double angle = 3.14159265358979 * (i / 8.0 - 0.5);
        turn.push_back({at.x + length + radius * std::cos(angle), at.y + radius * std::sin(angle)});
    }
    svg.line({at.x, at.y - radius}, {at.x + length, at.y - radius}, "flow", width);
    svg.path(turn, "turn", width);
    svg.line({at.x + length, at.y + radius}, {at.x, at.y + radius}, "back", width);
}

void loop_symbol(Svg &svg, SvgPoint at, double width) {
    svg.rect(at.x + 10.0, at.y - 14.0, 76.0, 28.0, "slab", 2.0);
    for (int i = 1; i < 8; ++i)
        svg.line({at.x + 10.0 + 9.5 * i, at.y + 14.0}, {at.x + 5.0 + 9.5 * i, at.y + 18.0},
                 "hatch-mark");
    hairpin(svg, at, 68.0, width);
}

void radiator_symbol(Svg &svg, SvgPoint at, double width) {
    svg.line({at.x, at.y - 6.0}, {at.x + 24.0, at.y - 6.0}, "flow", width);
    svg.line({at.x, at.y + 6.0}, {at.x + 24.0, at.y + 6.0}, "back", width);
    svg.rect(at.x + 24.0, at.y - 14.0, 60.0, 28.0, "machine", 2.0);
    for (int i = 1; i < 6; ++i)
        svg.line({at.x + 24.0 + 10.0 * i, at.y - 11.0}, {at.x + 24.0 + 10.0 * i, at.y + 11.0},
                 "mark");
}

void cylinder_symbol(Svg &svg, SvgPoint at, double width) {
    svg.rect(at.x + 24.0, at.y - 16.0, 60.0, 32.0, "machine", 14.0);
    svg.path({{at.x, at.y - 6.0},
              {at.x + 40.0, at.y - 6.0},
              {at.x + 47.0, at.y - 11.0},
              {at.x + 54.0, at.y - 1.0},
              {at.x + 61.0, at.y - 11.0},
              {at.x + 68.0, at.y}},
             "flow", width);
    svg.path({{at.x, at.y + 6.0}, {at.x + 60.0, at.y + 6.0}, {at.x + 68.0, at.y}}, "back", width);
}

void bypass_symbol(Svg &svg, SvgPoint at, double width) {
    svg.path({{at.x, at.y - 6.0}, {at.x + 40.0, at.y - 6.0}, {at.x + 40.0, at.y}}, "flow", width);
    svg.path({{at.x + 40.0, at.y}, {at.x + 40.0, at.y + 6.0}, {at.x, at.y + 6.0}}, "back", width);
    draw_valve_symbol(svg, {at.x + 24.0, at.y - 6.0});
}

} // namespace

void draw_pump_symbol(Svg &svg, SvgPoint at, bool leftwards) {
    const double way = leftwards ? -1.0 : 1.0;
    svg.circle(at, 10.0, "symbol");
    svg.area(
        {{at.x + 9.0 * way, at.y}, {at.x - 5.0 * way, at.y - 8.0}, {at.x - 5.0 * way, at.y + 8.0}},
        "ink");
}

void draw_valve_symbol(Svg &svg, SvgPoint at) {
    svg.area({at, {at.x - 10.0, at.y - 6.0}, {at.x - 10.0, at.y + 6.0}}, "symbol");
    svg.area({at, {at.x + 10.0, at.y - 6.0}, {at.x + 10.0, at.y + 6.0}}, "symbol");
}

void draw_mixer_symbol(Svg &svg, SvgPoint at, double to_return) {
    if (to_return > 0.0)
        svg.line(at, {at.x, at.y + to_return}, "back", 2.0);
    draw_valve_symbol(svg, at);
    svg.area({at, {at.x - 6.0, at.y + 9.0}, {at.x + 6.0, at.y + 9.0}}, "symbol");
}

void draw_end_symbol(Svg &svg, DrawnPart::Kind kind, SvgPoint at, double width) {
    switch (kind) {
    case DrawnPart::Kind::Loop:
        return loop_symbol(svg, at, width);
    case DrawnPart::Kind::Radiator:
        return radiator_symbol(svg, at, width);
    case DrawnPart::Kind::HotWater:
        return cylinder_symbol(svg, at, width);
    case DrawnPart::Kind::Bypass:
        return bypass_symbol(svg, at, width);
    case DrawnPart::Kind::Run:
        return;
    }
}

} // namespace headroom::solver
