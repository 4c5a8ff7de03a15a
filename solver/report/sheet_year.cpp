// The year: weather curves, mixers and what each outdoor temperature takes.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

namespace headroom::solver {
namespace {

std::string performance(const SeasonAnswer &season, double value) {
    return season.heat_pump ? fixed(value, 2) : fixed(100.0 * value, 1) + " %";
}

std::string curve_table(const SeasonAnswer &season) {
    std::vector<HtmlColumn> columns{
        {"outside", "°C"}, {"source, flow", "°C"}, {"source, return", "°C"}};
    for (const CircuitInfo &circuit : season.circuits) {
        columns.push_back({circuit.name, "flow °C"});
        if (circuit.mixer)
            columns.push_back({"from hot port", "%"});
    }
    HtmlTable table("Weather curve to set", columns);
    for (const CurvePoint &point : season.curve) {
        std::vector<std::string> cells{fixed(point.outdoor_c, 1), fixed(point.source_c, 1),
                                       fixed(point.return_c, 1)};
        for (std::size_t i = 0; i < point.circuits.size(); ++i) {
            cells.push_back(fixed(point.circuits[i].flow_c, 1));
            if (season.circuits[i].mixer)
                cells.push_back(point.circuits[i].hot_share
                                    ? fixed(100.0 * *point.circuits[i].hot_share, 0)
                                    : "–");
        }
        table.row(cells);
    }
    return table.html();
}

std::string ways_table(const SeasonAnswer &season) {
    const auto cell = [](const std::optional<double> &value) {
        return value ? fixed(*value, 0) : std::string("–");
    };
    HtmlTable table("The same year, three ways",
                    {{"flow temperature", "", false},
                     {"heat", "kWh"},
                     {season.heat_pump ? "COP" : "efficiency", ""},
                     {"gas", "kWh gross"},
                     {"electricity", "kWh"},
                     {"of it pumps", "kWh"},
                     {"cost", season.currency.empty() ? "a year" : season.currency},
                     {"CO2", "kg"},
                     {"starts", "a year"}});
    for (const SeasonScenario *way : {&season.with_curve, &season.turned_down, &season.fixed}) {
        const SeasonTotals &year = way->totals;
        table.row({way->name, fixed(year.heat_kwh, 0),
                   year.fuel_known ? performance(season, year.seasonal_performance) : "–",
                   year.gas_kwh > 0.0 ? fixed(year.gas_kwh, 0) : "–",
                   fixed(year.electricity_kwh, 0), cell(year.pump_kwh), cell(year.cost),
                   cell(year.co2_kg), year.fuel_known ? fixed(year.starts, 0) : "–"});
    }
    return table.html();
}

} // namespace

std::string sheet_year(const SheetAnswer &answer) {
    const SeasonAnswer &season = *answer.season;
    std::string out = "<section id=\"year\" class=\"page\">\n<h2>The year</h2>\n";
    out += paragraph(fmt::format("Weather: {}; heating below {:g} °C outside. Each outdoor "
                                 "temperature is steady for its hours; set-back, hot water and "
                                 "standby are left out.",
                                 season.climate, season.heating_limit_c));
    if (season.curve.size() > 1)
        out += figure("figure-weather", "Weather curves", draw_weather_curves(season),
                      "The colder it is outside (to the left), the warmer the water. Set the "
                      "controller so that it follows the solid line, in °C against °C.");
    if (const std::string mixers = draw_mixer_positions(season);
        !mixers.empty() && season.curve.size() > 1)
        out += figure("figure-mixers", "Mixers", mixers,
                      "How much of its water each mixer takes from the hot port, in %; the rest is "
                      "return water.");
    out += curve_table(season);
    if (!season.with_curve.totals.bins.empty())
        out += figure("figure-season", "The year by outdoor temperature", draw_season_bars(season),
                      std::string("One bar a degree outside, as high as the heat of all its hours "
                                  "in kWh") +
                          (season.with_curve.totals.fuel_known
                               ? "; the light part is what the source takes for it."
                               : "."));
    out += ways_table(season) + bullets(season.warnings);
    return out + "</section>\n";
}

} // namespace headroom::solver
