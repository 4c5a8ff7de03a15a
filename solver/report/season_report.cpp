#include "solver/report/season_report.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string optional_fixed(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : "-";
}

std::string energy(const SeasonTotals &totals) {
    std::string out;
    if (totals.gas_kwh > 0.0)
        out += fmt::format("{:.0f} kWh of gas and ", totals.gas_kwh);
    return out + fmt::format("{:.0f} kWh of electricity", totals.electricity_kwh);
}

std::string money(const SeasonAnswer &a, double cost) {
    return fixed(cost, 0) + (a.currency.empty() ? "" : " " + a.currency);
}

// COP, or gross efficiency.
std::string performance(const SeasonAnswer &a, double value) {
    return a.heat_pump ? fixed(value, 2) : fixed(100.0 * value, 1) + " %";
}

// Heat and what it takes; of solid fuel the heat alone.
std::string year_words(const SeasonAnswer &a) {
    const SeasonTotals &year = a.with_curve.totals;
    if (!year.fuel_known)
        return fmt::format("{:.0f} kWh of heat a year; what solid fuel that takes is not worked "
                           "out, as nothing\nhere says how the fire burns it\n"
                           "{:.0f} kWh of electricity for the pumps",
                           year.heat_kwh, year.electricity_kwh);
    return fmt::format("{:.0f} kWh of heat a year at a seasonal {} of {}\n{}", year.heat_kwh,
                       a.heat_pump ? "COP" : "efficiency",
                       performance(a, year.seasonal_performance), energy(year));
}

std::string head(const SeasonAnswer &a) {
    const SeasonTotals &year = a.with_curve.totals;
    std::string out = a.house + "\n" + year_words(a);
    if (year.cost)
        out += ", " + money(a, *year.cost);
    if (year.co2_kg)
        out += fmt::format(", {:.0f} kg CO2", *year.co2_kg);
    out += "\n";
    if (const std::string words = flattered_words(year); !words.empty())
        out += wrapped("but: " + words, "  ");
    out += "\n";
    out += fmt::format("  weather          {}, heating below {:g} degC\n", a.climate,
                       a.heating_limit_c);
    out += fmt::format("  design day       {:.0f} W at {:g} degC outside\n", a.loss_w,
                       a.design_outdoor_c);
    out += fmt::format("  flow temperature {:.1f} degC needed then", a.needed_c);
    if (a.stated_c)
        out += fmt::format("; the file has {:.1f}", *a.stated_c);
    return out + "\n";
}

std::string held_words(const CurveCircuit &circuit) {
    return circuit.held_high ? "most " : circuit.held_low ? "least " : "";
}

std::string limits_text(const SeasonAnswer &a) {
    std::string out;
    for (const CircuitInfo &circuit : a.circuits)
        if (circuit.highest_c)
            out += fmt::format("{}{} {:g} degC", out.empty() ? "" : ", ", circuit.name,
                               *circuit.highest_c);
    return out.empty() ? "" : "  most that the floors take: " + out + "\n";
}

// Circuits `first` up to `last`; none for a house that is all on the source's own temperature.
std::string circuits_table(const SeasonAnswer &a, std::size_t first, std::size_t last) {
    std::vector<Table::Column> columns{{"outside degC"}, {"source"}, {"back"}};
    for (std::size_t i = first; i < last; ++i) {
        columns.push_back({a.circuits[i].name});
        columns.push_back({"back"});
        if (a.circuits[i].mixer)
            columns.push_back({"hot"});
    }
    Table table(columns);
    for (const CurvePoint &point : a.curve) {
        const std::string held = first == last ? held_words(point.circuits.front()) : "";
        std::vector<std::string> cells{fixed(point.outdoor_c, 1), held + fixed(point.source_c, 1),
                                       fixed(point.return_c, 1)};
        for (std::size_t i = first; i < last; ++i) {
            const CurveCircuit &circuit = point.circuits[i];
            cells.push_back(held_words(circuit) + fixed(circuit.flow_c, 1));
            cells.push_back(fixed(circuit.return_c, 1));
            if (circuit.hot_share)
                cells.push_back(percent(*circuit.hot_share));
        }
        table.row(cells);
    }
    return table.text(a.form);
}

std::string curve_text(const SeasonAnswer &a) {
    std::string out = "\nWeather curve: flow temperatures, degC\n";
    const std::size_t count = a.circuits.size();
    constexpr std::size_t side_by_side = 3; // as wide as a page
    if (count == 1 && !a.circuits.front().mixer)
        out += circuits_table(a, 0, 0);
    else
        for (std::size_t i = 0; i < count; i += side_by_side)
            out += circuits_table(a, i, std::min(count, i + side_by_side));
    const auto any_held = [](const CurvePoint &point) {
        return std::any_of(point.circuits.begin(), point.circuits.end(),
                           [](const CurveCircuit &c) { return c.held_low || c.held_high; });
    };
    if (std::any_of(a.circuits.begin(), a.circuits.end(),
                    [](const CircuitInfo &circuit) { return circuit.mixer; }))
        out += "  hot: share of the flow that the mixer takes from its hot port\n";
    if (std::any_of(a.curve.begin(), a.curve.end(), any_held))
        out += "  most, least: held at the end of its range, not at what the rooms need\n";
    return out + limits_text(a);
}

std::string rooms_text(const SeasonAnswer &a) {
    std::vector<Table::Column> columns{{"room", Align::Left}};
    for (const CurvePoint &point : a.curve)
        columns.push_back({fixed(point.outdoor_c, 0) + " degC"});
    Table table(columns);
    constexpr double whole = 0.995; // of what it loses
    bool all = true;
    for (std::size_t i = 0; i < a.rooms.size(); ++i) {
        std::vector<std::string> cells{a.rooms[i]};
        for (const CurvePoint &point : a.curve) {
            const bool enough = point.room_gets_w[i] >= whole * point.room_need_w[i];
            all = all && enough;
            cells.push_back(
                fixed(point.room_gets_w[i], 0) +
                (enough ? ""
                        : fmt::format(" (-{:.0f})", point.room_need_w[i] - point.room_gets_w[i])));
        }
        table.row(cells);
    }
    return std::string("\nWhat each room gets along the curve, W") +
           (all ? ": all that it loses\n" : "; in brackets what it lacks\n") + table.text(a.form);
}

std::string bins_text(const SeasonAnswer &a) {
    const std::string title = std::string("\nThe year on the weather curve") +
                              (a.with_curve.operation.free_heat ? ", free heat taken off\n" : "\n");
    if (!a.with_curve.totals.fuel_known) {
        Table heat({{"outside degC"}, {"h"}, {"heat W"}, {"flow"}, {"back"}, {"heat kWh"}});
        for (const SeasonBin &bin : a.with_curve.totals.bins)
            heat.row({fixed(bin.outdoor_c, 0), fixed(bin.hours, 0), fixed(bin.heat_w, 0),
                      fixed(bin.source_c, 1), fixed(bin.return_c, 1),
                      fixed(bin.given_w * bin.hours * 1e-3, 0)});
        return title + heat.text(a.form);
    }
    Table table({{"outside degC"},
                 {"h"},
                 {"heat W"},
                 {"flow"},
                 {"back"},
                 {a.heat_pump ? "COP" : "efficiency"},
                 {"takes W"},
                 {"heat kWh"},
                 {a.heat_pump ? "electric kWh" : "gas kWh"},
                 {"starts/h"},
                 {"run min"}});
    for (const SeasonBin &bin : a.with_curve.totals.bins) {
        const double kh = bin.hours * 1e-3;
        const bool cycles = bin.cycle.starts_per_h > 0.0;
        table.row({fixed(bin.outdoor_c, 0), fixed(bin.hours, 0), fixed(bin.heat_w, 0),
                   fixed(bin.source_c, 1), fixed(bin.return_c, 1), performance(a, bin.efficiency),
                   fixed(bin.input_w, 0), fixed(bin.given_w * kh, 0), fixed(bin.input_w * kh, 0),
                   cycles ? fixed(bin.cycle.starts_per_h, 1) : "-",
                   cycles ? fixed(bin.cycle.run_s / 60.0, 0) : "-"});
    }
    return title + table.text(a.form);
}

std::string against_fixed(double ratio) {
    if (ratio <= 1.0)
        return fmt::format("  the weather curve takes {:.1f} % less than the source held at its "
                           "design temperature\n",
                           100.0 * (1.0 - ratio));
    return fmt::format("  the weather curve takes {:.1f} % more than the source held at its design "
                       "temperature: hot water\n  throttled by ideal room valves comes back "
                       "cooler, which the curve's larger flow does not\n",
                       100.0 * (ratio - 1.0));
}

Table solid_fuel_ways(const SeasonAnswer &a) {
    Table table({{"flow temperature", Align::Left}, {"heat kWh"}, {"electric kWh, of pumps"}});
    for (const SeasonScenario *way : {&a.with_curve, &a.turned_down, &a.fixed})
        table.row(
            {way->name, fixed(way->totals.heat_kwh, 0), optional_fixed(way->totals.pump_kwh, 0)});
    return table;
}

Table ways_table(const SeasonAnswer &a) {
    if (!a.with_curve.totals.fuel_known)
        return solid_fuel_ways(a);
    std::vector<Table::Column> columns{{"flow temperature", Align::Left},
                                       {"heat kWh"},
                                       {a.heat_pump ? "COP" : "efficiency"},
                                       {a.heat_pump ? "with pumps" : "gas kWh"}};
    for (const std::string &head :
         {std::string("electric kWh"), std::string("of it pumps"),
          a.currency.empty() ? "cost" : a.currency, std::string("CO2 kg"), std::string("starts")})
        columns.push_back({head});
    Table table(columns);
    for (const SeasonScenario *way : {&a.with_curve, &a.turned_down, &a.fixed}) {
        const SeasonTotals &year = way->totals;
        std::vector<std::string> cells{
            way->name, fixed(year.heat_kwh, 0), performance(a, year.seasonal_performance),
            a.heat_pump ? performance(a, year.performance_with_pumps) : fixed(year.gas_kwh, 0)};
        cells.insert(cells.end(), {fixed(year.electricity_kwh, 0), optional_fixed(year.pump_kwh, 0),
                                   optional_fixed(year.cost, 0), optional_fixed(year.co2_kg, 0),
                                   fixed(year.starts, 0)});
        table.row(cells);
    }
    return table;
}

std::string ways_text(const SeasonAnswer &a) {
    const auto taken = [](const SeasonTotals &year) {
        return year.gas_kwh + year.source_electricity_kwh;
    };
    std::string out = "\nThe same year, three ways\n" + ways_table(a).text(a.form);
    if (const double fixed_kwh = taken(a.fixed.totals); fixed_kwh > 0.0)
        out += against_fixed(taken(a.with_curve.totals) / fixed_kwh);
    Table rooms({{"room", Align::Left}, {"loses W"}, {"gets W"}, {"settles at degC"}, {"wanted"}});
    for (const RoomTurnedDown &room : a.turned_down_rooms)
        if (room.gets_w < 0.995 * room.need_w)
            rooms.row({room.room, fixed(room.need_w, 0), fixed(room.gets_w, 0),
                       fixed(room.settles_c, 1), fixed(room.wanted_c, 1)});
    if (rooms.empty())
        return out + fmt::format("  {:g} K lower: no room falls short on the design day\n",
                                 turned_down_k);
    return out +
           fmt::format("\n{:g} K lower: rooms that fall short on the design day\n", turned_down_k) +
           rooms.text(a.form);
}

// No starts: the source is known to turn down far enough, or taken to.
std::string modulates_text(const SeasonTotals &year) {
    const bool known = std::all_of(year.bins.begin(), year.bins.end(),
                                   [](const SeasonBin &bin) { return bin.least_w > 0.0; });
    return known ? "\nCycling\n  none: the source modulates down to every load of the year\n"
                 : "\nCycling\n  none counted: the file gives no least output of the source, so "
                   "it is assumed to modulate\n  down to every load of the year\n";
}

std::string cycling_text(const SeasonAnswer &a) {
    const SeasonTotals &year = a.with_curve.totals;
    if (!year.fuel_known)
        return "\nCycling\n  not worked out: a fire is not switched on and off\n";
    const auto most = std::max_element(year.bins.begin(), year.bins.end(),
                                       [](const SeasonBin &x, const SeasonBin &y) {
                                           return x.cycle.starts_per_h < y.cycle.starts_per_h;
                                       });
    if (most == year.bins.end() || most->cycle.starts_per_h <= 0.0)
        return modulates_text(year);
    double hours = 0.0;
    for (const SeasonBin &bin : year.bins)
        hours += bin.cycle.starts_per_h > 0.0 ? bin.hours : 0.0;
    std::string out =
        fmt::format("\nCycling: {:.0f} h a year below the source's least output, {:.0f} starts\n"
                    "  most often       {:.1f} starts an hour at {:g} degC outside, {:.0f} min on, "
                    "{:.0f} off\n",
                    hours, year.starts, most->cycle.starts_per_h, most->outdoor_c,
                    most->cycle.run_s / 60.0, most->cycle.rest_s / 60.0);
    const StoredHeat &store = a.store;
    if (store.floor_j > 0.0 && store.water_j > 0.0)
        out += fmt::format("  on water alone   {:.1f} starts an hour\n",
                           most->cycle.water_only_starts_per_h);
    out += fmt::format("  water            {:.0f} l in pipes, radiators and header + {:.0f} l "
                       "stated, swing {:g} K: "
                       "{:.2f} kWh\n",
                       store.held_water_m3 * 1e3, store.added_water_m3 * 1e3, store.water_swing_k,
                       store.water_j / 3.6e6);
    if (store.screed_m3 > 0.0)
        out += fmt::format("  floor mass       {:.1f} m3 of screed, swing {:g} K: {:.2f} kWh\n",
                           store.screed_m3, store.floor_swing_k, store.floor_j / 3.6e6);
    return out + (a.heat_pump ? "  common practice: at most 3 starts an hour, runs of 10 min or "
                                "more\n"
                              : "  common practice: at most 6 starts an hour, runs of 5 min or "
                                "more\n");
}

std::string text_report(const SeasonAnswer &a) {
    std::string out =
        head(a) + curve_text(a) + rooms_text(a) + bins_text(a) + ways_text(a) + cycling_text(a);
    if (!a.warnings.empty())
        out += "\nWarnings\n";
    for (const std::string &warning : a.warnings)
        out += "  " + warning + "\n";
    Table assumed({{"assumed", Align::Words}, {"value", Align::Words}});
    for (const SeasonAssumption &row : a.assumed)
        assumed.row({row.what, row.value});
    if (!assumed.empty())
        out += "\nAssumed\n" + assumed.text(a.form);
    return out + "\nA floor keeps its high-limit stat whatever the curve; stored hot water keeps "
                 "its 60 degC. Each\noutdoor temperature is steady for its hours; set-back, hot "
                 "water and standby are left out.\n";
}

} // namespace

std::string report(const SeasonAnswer &answer, Format format) {
    return report_in(format, answer, text_report, season_json, season_csv);
}

} // namespace headroom::solver
