#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string bar2(double pressure_pa) {
    return fixed(pressure_pa * 1e-5, 2);
}

std::string pump_label(const SitePump &pump) {
    return pump.name == "source" ? "circulator" : "pump of " + pump.name;
}

std::string pump_words(const CommissionAnswer &a, const SitePump &pump) {
    if (pump.setting.empty())
        return fmt::format("as it is, with {} through it", flow_words(a.form, pump.flow_m3_s));
    if (a.dial.pumps.size() == 1)
        return fmt::format("{}, with {} through the source",
                           both_pressures(a.form, pump.set_pa, ", "),
                           flow_words(a.form, pump.flow_m3_s));
    return fmt::format("{}: {} at {}", pump.setting, both_pressures(a.form, pump.set_pa, ", "),
                       flow_words(a.form, pump.flow_m3_s));
}

void add_dial(const CommissionAnswer &a, std::string &out) {
    const DialIn &d = a.dial;
    std::size_t label = 22;
    for (const SitePump &pump : d.pumps)
        label = std::max(label, pump_label(pump).size());
    const auto line = [&](const std::string &what, const std::string &value) {
        out += wrapped(fmt::format("  {:<{}} {}", what, label, value), std::string(label + 3, ' '));
    };
    out += "\n" + wrapped("Set points, of " + a.settings, "  ");
    line("flow temperature",
         fmt::format("{:.1f} degC on the design day; back at {:.1f} degC", d.flow_c, d.return_c));
    for (const SitePump &pump : d.pumps)
        line(pump_label(pump), pump_words(a, pump));
    if (d.pumps.empty())
        line("circulator", d.least_flow_m3_s
                               ? fmt::format("at its most, which does not pass the source's least "
                                             "flow of {}",
                                             flow_words(a.form, *d.least_flow_m3_s))
                               : std::string("none: it does not drive all"));
    if (d.balancing_pa)
        line("while valves are set",
             fmt::format("{}, with the loops' and radiators' {}: below the source's least flow",
                         both_pressures(a.form, *d.balancing_pa, ", "),
                         flow_words(a.form, d.source_flow_m3_s)));
    if (d.floor_limit_c)
        line("floor high-limit stat",
             fmt::format("at most {:g} degC{}", *d.floor_limit_c,
                         d.floor_limit_assumed ? ", assumed: common practice, no source" : ""));
    if (d.hot_water_flow_c)
        line("hot water",
             fmt::format("{:g} degC sent, {} through the coil{}", *d.hot_water_flow_c,
                         flow_words(a.form, *d.hot_water_flow_m3_s),
                         d.store_to_c ? fmt::format(", store to {:g} degC", *d.store_to_c)
                                      : "; the file gives no `store_to`"));
    if (d.fill_least_pa)
        line("cold fill",
             fmt::format("{} to {} bar at the vessel, precharged to {} bar", bar2(*d.fill_least_pa),
                         bar2(*d.fill_most_pa), bar2(*d.precharge_pa)));
}

void add_stats(const CommissionAnswer &a, std::string &out) {
    if (a.stats.empty())
        return;
    out += "\nHigh-limit stat of each floor, for the house as the file has it\n";
    for (const StatPlace &stat : a.stats)
        out +=
            wrapped(fmt::format("  - {}, at most {:g} degC: {}{}", stat.manifold, stat.limit_c,
                                stat.stands, stat.stops.empty() ? "" : "; it stops " + stat.stops),
                    "    ");
}

void add_meters(const CommissionAnswer &a, std::string &out) {
    const std::string blank = "......";
    Table table({{"loop or radiator", Align::Left},
                 {"set Kv"},
                 {flow_unit(a.form)},
                 {"drop K"},
                 {in_flow(a.form, "read")},
                 {"flow degC"},
                 {"return degC"},
                 {"room degC"},
                 {"date, by", Align::Left}});
    for (const MeterRow &row : a.meters)
        table.row({row.name,
                   row.kv_m3_h ? fixed(*row.kv_m3_h, 3) + (row.in_range ? "" : " !") : "-",
                   flow(a.form, row.design_m3_s) + (row.meter_holds ? "" : "*"),
                   fixed(row.drop_k, 1), blank, blank, blank, blank, blank});
    out += "\nMeters, to fill in by hand\n" + table.text(a.form);
    if (std::any_of(a.meters.begin(), a.meters.end(),
                    [](const MeterRow &row) { return !row.in_range; }))
        out += "  !: finer than its valve can be set\n";
    const auto off = std::find_if(a.meters.begin(), a.meters.end(),
                                  [](const MeterRow &row) { return !row.meter_holds; });
    if (off != a.meters.end())
        out +=
            fmt::format("  *: off the scale of its flow meter ({} to {} {} of {}): set by Kv, or "
                        "fit one that\n  shows it\n",
                        flow(a.form, off->meter->from_m3_s), flow(a.form, off->meter->to_m3_s),
                        flow_unit(a.form), off->name);
}

void add_tests(const CommissionAnswer &a, std::string &out) {
    out += "\nPressure tests, with water\n";
    for (const PressureTest &test : a.tests)
        out += wrapped(
            fmt::format("  - {}: {}{} bar for {} h; {} ({})", test.what, bar2(test.least_pa),
                        test.most_pa ? " to " + bar2(*test.most_pa) : "",
                        fixed(test.hold_s / models::seconds_per_hour, 0), test.how, test.source),
            "    ");
    if (a.screed.empty())
        return;
    Table table({{"screed", Align::Left}, {"from day"}, {"for days"}, {"water degC"}});
    for (const ScreedStep &step : a.screed)
        table.row({step.screed, fmt::format("{}", step.from_day), fmt::format("{}", step.days),
                   fixed(step.water_c, 0)});
    out += "\nScreed warm-up, days since it was laid\n" + table.text(a.form) +
           "  EN 1264-4, from memory; between the steps not more than 5 to 10 K a day (common "
           "practice);\n  the screed maker's own times stand above these\n";
}

std::string text_report(const CommissionAnswer &a) {
    std::string out = a.house + "\n" + wrapped(a.verdict);
    for (const std::string &remark : a.remarks)
        out += wrapped("  note: " + remark, "        ");
    out += "\nOrder of work\n";
    int number = 0;
    for (const std::string &step : a.order)
        out += wrapped(fmt::format("  {:>2}. {}", ++number, step), "      ");
    add_tests(a, out);
    add_dial(a, out);
    add_stats(a, out);
    add_meters(a, out);
    return out + "\nCautions\n" + bullets(a.cautions);
}

Json pumps_json(const std::vector<SitePump> &pumps) {
    Json list = Json::array();
    for (const SitePump &pump : pumps)
        list.push_back({{"pump", pump.name},
                        {"setting", pump.setting},
                        {"flow_m3_s", pump.flow_m3_s},
                        {"set_pa", pump.set_pa},
                        {"driven", pump.driven}});
    return list;
}

Json json_report(const CommissionAnswer &a) {
    Json j = json_head("commission", a.house);
    j["fluid"] = a.fluid;
    j["verdict"] = a.verdict;
    j["order"] = a.order;
    j["tests"] = Json::array();
    for (const PressureTest &test : a.tests)
        j["tests"].push_back({{"what", test.what},
                              {"least_pa", test.least_pa},
                              {"most_pa", optional_json(test.most_pa)},
                              {"hold_s", test.hold_s},
                              {"how", test.how},
                              {"source", test.source}});
    constexpr double day_s = 24.0 * models::seconds_per_hour;
    j["screed"] = Json::array();
    for (const ScreedStep &step : a.screed)
        j["screed"].push_back({{"screed", step.screed},
                               {"from_s", step.from_day * day_s},
                               {"for_s", step.days * day_s},
                               {"water_c", step.water_c}});
    const DialIn &d = a.dial;
    j["set_points"] = {{"flow_temperature_c", d.flow_c},
                       {"return_temperature_c", d.return_c},
                       {"source_flow_m3_s", d.source_flow_m3_s},
                       {"circulator_pa", optional_json(d.circulator_pa)},
                       {"balancing_pa", optional_json(d.balancing_pa)},
                       {"house", a.settings},
                       {"pumps", pumps_json(d.pumps)},
                       {"floor_limit_c", optional_json(d.floor_limit_c)},
                       {"floor_limit_assumed", d.floor_limit_assumed},
                       {"hot_water_flow_temperature_c", optional_json(d.hot_water_flow_c)},
                       {"hot_water_flow_m3_s", optional_json(d.hot_water_flow_m3_s)},
                       {"store_to_c", optional_json(d.store_to_c)},
                       {"fill_least_pa", optional_json(d.fill_least_pa)},
                       {"fill_most_pa", optional_json(d.fill_most_pa)},
                       {"precharge_pa", optional_json(d.precharge_pa)}};
    j["stats"] = Json::array();
    for (const StatPlace &stat : a.stats)
        j["stats"].push_back({{"manifold", stat.manifold},
                              {"limit_c", stat.limit_c},
                              {"stands", stat.stands},
                              {"stops", stat.stops},
                              {"there", stat.there}});
    j["meters"] = Json::array();
    for (const MeterRow &row : a.meters)
        j["meters"].push_back({{"name", row.name},
                               {"room", row.room},
                               {"kind", row.kind},
                               {"design_flow_m3_s", row.design_m3_s},
                               {"drop_k", row.drop_k},
                               {"valve_kv_m3_h", optional_json(row.kv_m3_h)},
                               {"valve_in_range", row.in_range},
                               {"meter_from_m3_s", row.meter ? Json(row.meter->from_m3_s) : Json()},
                               {"meter_to_m3_s", row.meter ? Json(row.meter->to_m3_s) : Json()},
                               {"meter_holds", row.meter_holds}});
    j["remarks"] = a.remarks;
    j["cautions"] = a.cautions;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string csv_report(const CommissionAnswer &a) {
    std::string out =
        csv_record({"name", "room", "kind", "design_flow_m3_s", "drop_k", "valve_kv_m3_h",
                    "meter_holds", "read_flow_m3_s", "read_flow_c", "read_return_c"});
    for (const MeterRow &row : a.meters)
        out += csv_record({row.name, row.room, row.kind, number(row.design_m3_s),
                           number(row.drop_k), row.kv_m3_h ? number(*row.kv_m3_h) : "",
                           row.meter_holds ? "yes" : "no", "", "", ""});
    return out;
}

} // namespace

std::string report(const CommissionAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
