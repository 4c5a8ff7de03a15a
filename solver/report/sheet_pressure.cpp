// Pressure drawings of the sheet: along the index circuit, pump against pipes, loop by loop.
#include "solver/report/figures.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/svg.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

std::string circuit_words(const DriveAnswer &drive) {
    return fmt::format("From {} kPa at the source the pressure falls piece by piece through {} to "
                       "nothing at the return; the circulator has {} kPa.",
                       kpa(drive.needed_pa), drive.index, kpa(drive.available_pa));
}

const char *curve_look(PressureCurve::Kind kind) {
    switch (kind) {
    case PressureCurve::Kind::Circulator:
        return "curve a";
    case PressureCurve::Kind::Design:
        return "curve b";
    case PressureCurve::Kind::ColdStart:
        return "curve c dots";
    case PressureCurve::Kind::PartLoad:
        return "curve d dashes";
    }
    return "curve a";
}

// The points within the plane, the last one where the line leaves it.
std::vector<SvgPoint> within(const std::vector<FlowPressure> &points, const Axes &axes) {
    std::vector<SvgPoint> out;
    for (std::size_t i = 0; i < points.size(); ++i) {
        double flow = points[i].flow_m3_s * 6e4, pressure = points[i].pressure_pa * 1e-3;
        const bool outside = flow > axes.x.high || pressure > axes.y.high;
        if (outside && i > 0) {
            const double flow_before = points[i - 1].flow_m3_s * 6e4;
            const double pressure_before = points[i - 1].pressure_pa * 1e-3;
            const double share = std::min(
                flow > axes.x.high ? (axes.x.high - flow_before) / (flow - flow_before) : 1.0,
                pressure > axes.y.high
                    ? (axes.y.high - pressure_before) / (pressure - pressure_before)
                    : 1.0);
            flow = flow_before + share * (flow - flow_before);
            pressure = pressure_before + share * (pressure - pressure_before);
        }
        out.push_back({axes.x.at(flow), axes.y.at(pressure)});
        if (outside)
            break;
    }
    return out;
}

void diamond(Svg &svg, SvgPoint at, std::string_view look) {
    svg.area({{at.x, at.y - 6.0}, {at.x + 6.0, at.y}, {at.x, at.y + 6.0}, {at.x - 6.0, at.y}},
             look);
}

} // namespace

std::string draw_index_pressure(const DriveAnswer &drive) {
    Svg svg("index-pressure", 720.0, 380.0, "Pressure along the index circuit",
            circuit_words(drive));
    const double pieces = static_cast<double>(drive.index_circuit.size());
    const Axes axes =
        draw_axes(svg, {"piece of the circuit, by its number in the table", 0.0, pieces},
                  {"pressure above the return, kPa", 0.0,
                   1.08e-3 * std::max({drive.available_pa, drive.needed_pa, 1e3})});
    const double available = axes.y.at(drive.available_pa * 1e-3);
    svg.line({axes.x.from, available}, {axes.x.to, available}, "curve a dashes", 2.0);
    svg.text({axes.x.to - 6.0, available - 7.0},
             fmt::format("available {} kPa", kpa(drive.available_pa)), Anchor::End, "strong halo");
    double left = drive.needed_pa;
    SvgPoint last{axes.x.at(0.0), axes.y.at(left * 1e-3)};
    svg.text({last.x + 8.0, last.y - 7.0}, fmt::format("needed {} kPa", kpa(left)), Anchor::Start,
             "strong halo");
    for (std::size_t i = 0; i < drive.index_circuit.size(); ++i) {
        const CircuitStep &step = drive.index_circuit[i];
        left -= step.loss_pa;
        const SvgPoint next{axes.x.at(static_cast<double>(i + 1)), axes.y.at(left * 1e-3)};
        svg.line(last, next, step.where.ends_with(", return") ? "back" : "flow", 3.0);
        svg.circle(next, 3.0, "joint");
        last = next;
    }
    return svg.svg();
}

std::string draw_pump_curves(const SheetAnswer &answer) {
    const DriveAnswer &drive = answer.drive;
    const double lines = static_cast<double>(answer.curves.size()) + 2.0;
    Svg svg("pump-curves", 720.0, 380.0 + 20.0 * lines, "Circulator against pipes",
            fmt::format("The pipes ask for {} kPa at {} l/min; the circulator gives {} kPa there.",
                        kpa(drive.needed_pa), fixed(drive.source_l_min, 1),
                        kpa(drive.available_pa)));
    double most_flow = 1.15 * drive.source_l_min;
    double most_pressure = std::max(drive.needed_pa, drive.available_pa);
    for (const PressureCurve &curve : answer.curves)
        if (curve.kind == PressureCurve::Kind::Circulator)
            for (const FlowPressure &point : curve.points) {
                most_flow = std::max(most_flow, point.flow_m3_s * 6e4);
                most_pressure = std::max(most_pressure, point.pressure_pa);
            }
    const Axes axes = draw_axes(svg, {"flow through the source, l/min", 0.0, most_flow},
                                {"pressure, kPa", 0.0, 1.03e-3 * most_pressure}, 58.0, 16.0, 16.0,
                                58.0 + 20.0 * lines);
    std::vector<LegendLine> legend;
    for (const PressureCurve &curve : answer.curves) {
        svg.path(within(curve.points, axes), curve_look(curve.kind), 2.5);
        legend.push_back({curve_look(curve.kind), curve.name});
    }
    const double x = axes.x.at(drive.source_l_min);
    const double needed = axes.y.at(drive.needed_pa * 1e-3);
    const double available = axes.y.at(drive.available_pa * 1e-3);
    svg.line({x, needed}, {x, available}, "mark");
    svg.circle({x, needed}, 6.0, "ink");
    diamond(svg, {x, available}, "ink");
    const double y = axes.y.from + 62.0;
    draw_legend(svg, {60.0, y}, legend);
    const double after = y + 19.0 * static_cast<double>(legend.size());
    svg.circle({77.0, after - 4.0}, 6.0, "ink");
    svg.text({102.0, after}, fmt::format("needed: {} kPa at {} l/min", kpa(drive.needed_pa),
                                         fixed(drive.source_l_min, 1)));
    diamond(svg, {77.0, after + 15.0}, "ink");
    svg.text({102.0, after + 19.0},
             fmt::format("available there: {} kPa", kpa(drive.available_pa)));
    return svg.svg();
}

std::string draw_loop_bars(const DriveAnswer &drive) {
    constexpr double row_height = 26.0, left = 190.0;
    const double rows = static_cast<double>(drive.emitters.size());
    Svg svg("loop-bars", 720.0, 110.0 + row_height * rows, "Pressure each loop or radiator takes",
            "One bar a loop or radiator: what it needs open, and what its balancing valve must "
            "take beyond that.");
    double most = 1.0;
    for (const EmitterRow &row : drive.emitters)
        most = std::max(most, row.own_loss_pa + row.surplus_pa);
    const Axes axes =
        draw_axes(svg, {"pressure between its flow and return connections, kPa", 0.0, most * 1e-3},
                  {"", 0.0, 1.0}, left, 36.0, 92.0, 50.0);
    for (std::size_t i = 0; i < drive.emitters.size(); ++i) {
        const EmitterRow &row = drive.emitters[i];
        const double y = 42.0 + row_height * static_cast<double>(i);
        const double own = axes.x.at(row.own_loss_pa * 1e-3);
        const double all = axes.x.at((row.own_loss_pa + row.surplus_pa) * 1e-3);
        svg.rect(left, y, own - left, 15.0, "bar own");
        if (all > own)
            svg.rect(own, y, all - own, 15.0, "bar surplus");
        svg.short_text({left - 8.0, y + 12.0}, row.name, 25, Anchor::End,
                       row.name == drive.index ? "strong" : "");
        svg.text({all + 6.0, y + 12.0}, kpa2(row.own_loss_pa) + " + " + kpa2(row.surplus_pa),
                 Anchor::Start, "small halo");
    }
    draw_legend(svg, {left, 18.0}, {{"bar own", "needed, valve open", true}});
    draw_legend(svg, {left + 210.0, 18.0}, {{"bar surplus", "throttled by its valve", true}});
    return svg.svg();
}

} // namespace headroom::solver
