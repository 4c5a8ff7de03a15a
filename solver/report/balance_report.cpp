#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/readings_report.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string turns(const std::optional<double> &value) {
    return value ? fixed(*value, 1) : "-";
}

std::string watts(const std::optional<double> &power_w) {
    return power_w ? fixed(*power_w, 1) : "-";
}

std::string pump_words(const BalancePump &row) {
    const std::string out = fmt::format("{}: {}, ", row.title, row.mode);
    if (row.emitters == 0)
        return out + "no loop or radiator of its own: stays as it is";
    if (!row.driven)
        return out +
               fmt::format("too weak for all of its own even at its most; index {}", row.index);
    return out + fmt::format("set to {}", row.setting) +
           (row.index.empty() ? "" : fmt::format("; index {}, its valve open", row.index));
}

// What follows once the valves are set.
std::string least_flow_words(TextForm form, const SourceSetting &least) {
    const std::string why = fmt::format(
        "  that is for setting the valves, with the source's heat off: {} are below "
        "the source's least flow of {}; then ",
        flow_words(form, least.balanced.flow_m3_s, 1), flow_words(form, least.flow_m3_s, 1));
    if (!least.enough())
        return why + fmt::format("turn it up to its most, {} at the least flow, which wants {}",
                                 pressure_words(form, least.available_pa),
                                 pressure_words(form, least.needed_pa));
    return why + fmt::format("turn it up to {}, {} of its full speed, which passes the least flow",
                             both_pressures(form, least.set_pa), percent(least.speed));
}

void add_pumps(const BalanceAnswer &a, std::string &out) {
    Table table({{"pump", Align::Left},
                 {flow_unit(a.form)},
                 {in_pressure(a.form, "now")},
                 {in_pressure(a.form, "needs")},
                 {in_pressure(a.form, "at most")},
                 {in_pressure(a.form, "set")},
                 {"now W"},
                 {"set W"}});
    for (const BalancePump &row : a.pumps)
        table.row({row.name, flow(a.form, row.flow_m3_s, 1), pressure(a.form, row.found_pa),
                   row.emitters == 0 ? "-" : pressure(a.form, row.needed_pa),
                   pressure(a.form, row.available_pa), pressure(a.form, row.set_pa),
                   watts(row.found_power_w), watts(row.set_power_w)});
    out += "\nPumps, at the flow of all their design flows\n" + table.text(a.form);
    for (const BalancePump &row : a.pumps)
        out += wrapped("  " + pump_words(row), "    ");
    out += "  the source's heads are those outside it\n";
    if (a.least_flow)
        out += wrapped(least_flow_words(a.form, *a.least_flow), "  ");
}

double in_units(TextForm form, double flow_m3_s) {
    return flow_m3_s * (form.m3_h ? models::seconds_per_hour : 6.0e4);
}

std::string valve_remark(TextForm form, const BalanceValve &row) {
    if (row.blocked)
        return "no head drives it";
    if (!row.driven)
        return "pump too weak";
    if (!row.in_range)
        return fmt::format("finest Kv {:.3f}", row.finest_kv_m3_h);
    if (!row.meter_holds)
        return fmt::format("meter {:.2g} to {:.2g}", in_units(form, row.meter->from_m3_s),
                           in_units(form, row.meter->to_m3_s));
    return row.open ? "leave open" : "";
}

Table valve_table(const BalanceAnswer &a, const std::string &pump) {
    Table table({{"valve", Align::Left},
                 {flow_unit(a.form)},
                 {"now"},
                 {in_pressure(a.form, "surplus")},
                 {"now Kv"},
                 {"set Kv"},
                 {"turns"},
                 {"authority"},
                 {"set"},
                 {"", Align::Left}});
    for (const BalanceValve &row : a.valves)
        if (row.pump == pump)
            table.row({row.name, flow(a.form, row.design_m3_s), percent(row.now_share),
                       pressure(a.form, row.surplus_pa, 2), fixed(row.now_kv_m3_h, 3),
                       fixed(row.kv_m3_h, 3), turns(row.turns), percent(row.authority_share),
                       percent(row.set_share), valve_remark(a.form, row)});
    return table;
}

void add_valves(const BalanceAnswer &a, std::string &out) {
    for (const BalancePump &pump : a.pumps)
        if (pump.emitters > 0)
            out += fmt::format("\nValves on {}\n", pump.title) +
                   valve_table(a, pump.name).text(a.form);
    out +=
        "  " + flow_unit(a.form) +
        ": design flow; now, set: share of it as the file has valves and pumps, and with\n"
        "  all set; Kv: of the valve, a loop's with its flow meter; authority: share of the\n"
        "  pressure between the loop's own connections that the set valve takes; turns: open, by\n"
        "  the lockshield's table\n";
}

void add_steps(const BalanceAnswer &a, std::string &out) {
    Table table({{"turn", Align::Left},
                 {"to Kv"},
                 {"turns"},
                 {in_flow(a.form, "before")},
                 {in_flow(a.form, "until")},
                 {"next then"},
                 {"in the end"},
                 {"", Align::Left}});
    for (const BalanceStep &step : a.steps)
        table.row({step.valve, fixed(step.kv_m3_h, 3), turns(step.turns),
                   flow(a.form, step.before_m3_s), flow(a.form, step.reads_m3_s),
                   &step == &a.steps.back() ? "-" : flow(a.form, step.others_m3_s),
                   flow(a.form, step.final_m3_s),
                   step.open           ? "leave open"
                   : !step.meter_holds ? "off the meter's scale"
                                       : ""});
    out +=
        "\nOrder of setting: pumps first, all valves open, then from the greatest surplus down\n" +
        table.text(a.form);
    out +=
        "  until: what its own flow meter reads as it comes to its place, the valves below still\n"
        "  open; next then: the next meter at that moment; radiators have no meter: set their\n"
        "  turns, or measure\n";
}

std::string text_report(const BalanceAnswer &a) {
    std::string out = fmt::format("{}\n{}", a.house, wrapped(a.sentence, "  "));
    if (a.diagnosis)
        out += wrapped(a.diagnosis->sentence, "  ");
    out += wrapped("  " + a.rule, "  ");
    if (a.saved_w >= 0.05)
        out += wrapped(fmt::format("  turning the pumps down saves {:.1f} W of electricity against "
                                   "throttling to the same flows (assumed: {:.0f} % efficient); "
                                   "what they draw now, with more flow: `headroom pump`",
                                   a.saved_w, 100.0 * a.efficiency),
                       "  ");
    if (a.diagnosis)
        out += readings_text(a);
    add_pumps(a, out);
    add_valves(a, out);
    add_steps(a, out);
    out += "\nAssumed (common practice, no source)\n";
    out += bullets(a.assumed);
    if (!a.remarks.empty())
        out += "\nRemarks\n" + bullets(a.remarks);
    out += "\nKeep the source's least flow while valves are turned, and a floor's flow limit and\n"
           "high-limit stat in place. Electrical work and work on the source belong to licensed\n"
           "people; local codes stand above this.\n";
    return out;
}

Json json_report(const BalanceAnswer &a) {
    Json j = json_head("balance", a.house);
    j["sentence"] = a.sentence;
    j["rule"] = a.rule;
    j["fluid"] = a.fluid;
    j["saved_w"] = a.saved_w;
    j["efficiency"] = a.efficiency;
    j["worst_setting_error_share"] = a.worst_error_share;
    j["least_flow"] =
        a.least_flow
            ? Json{{"flow_m3_s", a.least_flow->flow_m3_s},
                   {"needed_pa", a.least_flow->needed_pa},
                   {"set_pa", a.least_flow->enough() ? Json(a.least_flow->set_pa) : Json()},
                   {"speed_share", a.least_flow->speed}}
            : Json();
    j["pumps"] = Json::array();
    for (const BalancePump &row : a.pumps)
        j["pumps"].push_back({{"name", row.name},
                              {"mode", row.mode},
                              {"setting", row.setting},
                              {"index", row.index},
                              {"driven", row.driven},
                              {"flow_m3_s", row.flow_m3_s},
                              {"needed_pa", row.needed_pa},
                              {"available_pa", row.available_pa},
                              {"now_pa", row.found_pa},
                              {"set_pa", row.set_pa},
                              {"now_w", optional_json(row.found_power_w)},
                              {"set_w", optional_json(row.set_power_w)}});
    j["valves"] = Json::array();
    for (const BalanceValve &row : a.valves)
        j["valves"].push_back({{"name", row.name},
                               {"kind", row.kind},
                               {"pump", row.pump},
                               {"design_flow_m3_s", row.design_m3_s},
                               {"now_share_of_design_flow", row.now_share},
                               {"set_share_of_design_flow", row.set_share},
                               {"surplus_pa", row.surplus_pa},
                               {"valve_loss_pa", row.valve_loss_pa},
                               {"circuit_pa", row.circuit_pa},
                               {"authority_share", row.authority_share},
                               {"now_kv_m3_h", row.now_kv_m3_h},
                               {"set_kv_m3_h", row.kv_m3_h},
                               {"turns", optional_json(row.turns)},
                               {"open", row.open},
                               {"driven", row.driven},
                               {"in_range", row.in_range},
                               {"meter_from_m3_s", row.meter ? Json(row.meter->from_m3_s) : Json()},
                               {"meter_to_m3_s", row.meter ? Json(row.meter->to_m3_s) : Json()},
                               {"meter_holds", row.meter_holds}});
    j["steps"] = Json::array();
    for (const BalanceStep &step : a.steps)
        j["steps"].push_back({{"valve", step.valve},
                              {"set_kv_m3_h", step.kv_m3_h},
                              {"turns", optional_json(step.turns)},
                              {"open", step.open},
                              {"before_m3_s", step.before_m3_s},
                              {"reads_m3_s", step.reads_m3_s},
                              {"meter_holds", step.meter_holds},
                              {"next_reads_m3_s", step.others_m3_s},
                              {"final_m3_s", step.final_m3_s}});
    j["readings"] = a.diagnosis ? readings_json(a) : Json();
    j["assumed"] = a.assumed;
    j["remarks"] = a.remarks;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string csv_report(const BalanceAnswer &a) {
    std::string out =
        csv_record({"name", "kind", "pump", "design_flow_m3_s", "now_share_of_design_flow",
                    "set_share_of_design_flow", "surplus_pa", "valve_loss_pa", "authority_share",
                    "set_kv_m3_h", "turns"});
    for (const BalanceValve &row : a.valves)
        out += csv_record({row.name, row.kind, row.pump, number(row.design_m3_s),
                           number(row.now_share), number(row.set_share), number(row.surplus_pa),
                           number(row.valve_loss_pa), number(row.authority_share),
                           number(row.kv_m3_h), row.turns ? number(*row.turns) : ""});
    return out;
}

} // namespace

std::string report(const BalanceAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
