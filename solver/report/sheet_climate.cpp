// Temperature drawings of the sheet: weather curves, mixers, the year, places of the system.
#include "solver/report/figures.hpp"
#include "solver/report/sheet_parts.hpp"
#include "solver/report/svg.hpp"

#include <algorithm>
#include <array>

namespace headroom::solver {
namespace {

constexpr std::array looks{"curve a",      "curve b dashes", "curve c dots",  "curve d",
                           "curve a dots", "curve b",        "curve c dashes"};

const char *circuit_look(std::size_t index) {
    return looks[index % looks.size()];
}

struct TemperatureRange {
    double low = 1e9, high = -1e9;
    void take(double value_c) {
        low = std::min(low, value_c);
        high = std::max(high, value_c);
    }
};

std::string place_of(const std::string &point) {
    const std::size_t dot = point.rfind('.');
    return dot == std::string::npos ? point : point.substr(0, dot);
}

} // namespace

std::string draw_weather_curves(const SeasonAnswer &season) {
    const double lines = static_cast<double>(season.circuits.size()) + 2.0;
    Svg svg("weather-curves", 720.0, 350.0 + 19.0 * lines, "Weather curves",
            "Flow temperature of the source and of each circuit against the temperature outside.");
    TemperatureRange outside, water;
    for (const CurvePoint &point : season.curve) {
        outside.take(point.outdoor_c);
        water.take(point.source_c);
        water.take(point.return_c);
        for (const CurveCircuit &circuit : point.circuits)
            water.take(circuit.flow_c);
    }
    const Axes axes =
        draw_axes(svg, {"outside, °C", outside.low, outside.high},
                  {"water, °C", water.low, water.high}, 58.0, 16.0, 16.0, 58.0 + 19.0 * lines);
    std::vector<LegendLine> legend;
    const auto draw = [&](const char *look, double width, const std::string &name,
                          const auto &value_c) {
        std::vector<SvgPoint> points;
        for (const CurvePoint &point : season.curve)
            points.push_back({axes.x.at(point.outdoor_c), axes.y.at(value_c(point))});
        svg.path(points, look, width);
        legend.push_back({look, name});
    };
    draw("flow", 4.0, "source, flow", [](const CurvePoint &point) { return point.source_c; });
    draw("back", 2.0, "source, return", [](const CurvePoint &point) { return point.return_c; });
    for (std::size_t i = 0; i < season.circuits.size(); ++i)
        if (season.circuits[i].mixer) // the others get what the source sends
            draw(circuit_look(i), 2.0, season.circuits[i].name + ", flow",
                 [i](const CurvePoint &point) { return point.circuits[i].flow_c; });
    draw_legend(svg, {60.0, axes.y.from + 62.0}, legend);
    return svg.svg();
}

std::string draw_mixer_positions(const SeasonAnswer &season) {
    std::vector<std::size_t> mixers;
    for (std::size_t i = 0; i < season.circuits.size(); ++i)
        if (season.circuits[i].mixer)
            mixers.push_back(i);
    if (mixers.empty())
        return {};
    const double lines = static_cast<double>(mixers.size());
    Svg svg("mixer-positions", 720.0, 290.0 + 19.0 * lines, "Mixers along the weather curve",
            "Share of the water that each mixer takes from its hot port, against the temperature "
            "outside.");
    TemperatureRange outside;
    for (const CurvePoint &point : season.curve)
        outside.take(point.outdoor_c);
    const Axes axes =
        draw_axes(svg, {"outside, °C", outside.low, outside.high},
                  {"from the hot port, %", 0.0, 100.0}, 58.0, 16.0, 16.0, 58.0 + 19.0 * lines);
    std::vector<LegendLine> legend;
    for (const std::size_t i : mixers) {
        std::vector<SvgPoint> points;
        for (const CurvePoint &point : season.curve)
            if (const auto &share = point.circuits[i].hot_share)
                points.push_back({axes.x.at(point.outdoor_c), axes.y.at(100.0 * *share)});
        svg.path(points, circuit_look(i), 2.5);
        legend.push_back({circuit_look(i), season.circuits[i].name});
    }
    draw_legend(svg, {60.0, axes.y.from + 62.0}, legend);
    return svg.svg();
}

std::string draw_season_bars(const SeasonAnswer &season) {
    Svg svg("season-bars", 720.0, 370.0, "The year by outdoor temperature",
            fmt::format("Heat and what the source takes for it at each outdoor temperature; {} kWh "
                        "of heat in the year.",
                        fixed(season.with_curve.totals.heat_kwh, 0)));
    const std::vector<SeasonBin> &bins = season.with_curve.totals.bins;
    TemperatureRange outside, energy;
    energy.take(0.0);
    for (const SeasonBin &bin : bins) {
        outside.take(bin.outdoor_c - 0.6);
        outside.take(bin.outdoor_c + 0.6);
        energy.take(bin.given_w * bin.hours * 1e-3);
        energy.take(bin.input_w * bin.hours * 1e-3);
    }
    const Axes axes = draw_axes(svg, {"outside, °C", outside.low, outside.high},
                                {"kWh a year", energy.low, energy.high}, 66.0, 44.0);
    const double half = 0.38 * (axes.x.at(1.0) - axes.x.at(0.0));
    const auto bar = [&](double middle, double half_width, double kwh, std::string_view look) {
        const double top = axes.y.at(kwh);
        svg.rect(middle - half_width, top, 2.0 * half_width, axes.y.from - top, look);
    };
    for (const SeasonBin &bin : bins) {
        const double x = axes.x.at(bin.outdoor_c);
        const double heat = bin.given_w * bin.hours * 1e-3;
        const double input = bin.input_w * bin.hours * 1e-3;
        bar(x, half, std::max(heat, input), heat > input ? "bar own" : "bar surplus");
        bar(x, half, std::min(heat, input), heat > input ? "bar surplus" : "bar own");
    }
    draw_legend(svg, {80.0, 20.0}, {{"bar own", "heat from the source", true}});
    if (season.with_curve.totals.fuel_known)
        draw_legend(svg, {300.0, 20.0},
                    {{"bar surplus",
                      season.heat_pump ? "of it electricity taken" : "gas taken (gross)", true}});
    return svg.svg();
}

std::string draw_temperatures(const HouseDrawing &drawing) {
    struct Ends {
        std::string name;
        std::vector<double> flow_c, return_c;
    };
    std::vector<Ends> places;
    TemperatureRange range;
    for (const DrawnPoint &point : drawing.points) {
        const std::string name = place_of(point.name);
        auto found = std::find_if(places.begin(), places.end(),
                                  [&](const Ends &ends) { return ends.name == name; });
        if (found == places.end())
            found = places.insert(places.end(), {name, {}, {}});
        const bool back = point.name.find(".return") != std::string::npos;
        (back ? found->return_c : found->flow_c).push_back(point.temperature_c);
        range.take(point.temperature_c);
    }
    constexpr double row_height = 24.0, left = 200.0;
    Svg svg("temperatures", 720.0, 104.0 + row_height * static_cast<double>(places.size()),
            "Water temperature at each place",
            "One row a place: a full dot for its flow, an open one for its return.");
    const Axes axes = draw_axes(svg, {"water, °C", range.low - 0.5, range.high + 0.5},
                                {"", 0.0, 1.0}, left, 36.0, 24.0);
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Ends &ends = places[i];
        const double y = 52.0 + row_height * static_cast<double>(i);
        svg.short_text({left - 10.0, y + 4.0}, ends.name, 25, Anchor::End);
        if (!ends.flow_c.empty() && !ends.return_c.empty())
            svg.line({axes.x.at(ends.return_c.front()), y}, {axes.x.at(ends.flow_c.front()), y},
                     "mark");
        for (const double value : ends.return_c)
            svg.circle({axes.x.at(value), y}, 5.0, "dot back-dot");
        for (const double value : ends.flow_c)
            svg.circle({axes.x.at(value), y}, 5.0, "dot flow-dot");
    }
    svg.circle({left + 8.0, 16.0}, 5.0, "dot flow-dot");
    svg.text({left + 20.0, 20.0}, "flow, or a single point");
    svg.circle({left + 208.0, 16.0}, 5.0, "dot back-dot");
    svg.text({left + 220.0, 20.0}, "return");
    return svg.svg();
}

} // namespace headroom::solver
