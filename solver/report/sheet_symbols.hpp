// Graphic symbols of the sheet's drawings.
#pragma once

#include "solver/questions/sheet.hpp"
#include "solver/report/svg.hpp"

namespace headroom::solver {

/// A circle with a triangle that points the way of the water.
void draw_pump_symbol(Svg &svg, SvgPoint at, bool leftwards = false);
/// Two triangles tip to tip.
void draw_valve_symbol(Svg &svg, SvgPoint at);
/// A valve with a third port downwards, joined to the return `to_return` below.
void draw_mixer_symbol(Svg &svg, SvgPoint at, double to_return);
/// What ends a branch, from `at` (midway between its flow and return) to the right.
void draw_end_symbol(Svg &svg, DrawnPart::Kind kind, SvgPoint at, double width);

} // namespace headroom::solver
