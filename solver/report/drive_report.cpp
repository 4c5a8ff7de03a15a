#include "solver/report/changes.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/how_sure.hpp"
#include "solver/report/json.hpp"
#include "solver/report/laid.hpp"
#include "solver/report/report.hpp"
#include "solver/report/source_report.hpp"
#include "solver/report/table.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string dash_if_zero(double value, const std::string &text) {
    return value == 0.0 ? "-" : text;
}

void add_summary(const DriveAnswer &a, std::string &out) {
    const auto line = [&](std::string_view what, double pa, const std::string &rest) {
        out += a.form.metres_head
                   ? fmt::format("  {:<16} {:>7} m head   {}\n", what, metres_head(pa), rest)
                   : fmt::format("  {:<16} {:>7} kPa  {:>6} m   {}\n", what, kpa(pa),
                                 metres_head(pa), rest);
    };
    line("head needed", a.needed_pa,
         fmt::format("at {} {}", flow_of_l_min(a.form, a.source_l_min), flow_unit(a.form)));
    line("head available", a.available_pa, "outside the source, at that flow");
    line("headroom", a.headroom_pa,
         a.needed_pa > 0.0
             ? fmt::format("{:+.0f} % of the head needed", 100.0 * a.headroom_pa / a.needed_pa)
             : "");
    if (!a.headroom_note.empty())
        out += wrapped("    " + a.headroom_note, "    ");
    out += fmt::format("  {:<16} {:>7} to {} {}\n", "within",
                       signed_pressure(a.form, a.headroom_low_pa),
                       signed_pressure(a.form, a.headroom_high_pa), pressure_unit(a.form));
    if (a.set_pa > 0.0)
        line("turn down to", a.set_pa,
             a.least_flow_l_min ? "too little for the source's least flow"
                                : "with the valves set as below");
    out += fmt::format("  {:<16} {}\n", "index circuit", a.index);
    out += fmt::format("  {:<16} {}\n", "decided by", a.decided_by);
    out += fmt::format("  {:<16} {}, sent at {:.1f}, back at {:.1f} degC\n", "liquid", a.fluid,
                       a.flow_temperature_c, a.return_temperature_c);
}

void add_states(const DriveAnswer &a, std::string &out) {
    Table table({{"state", Align::Left},
                 {flow_unit(a.form)},
                 {in_pressure(a.form, "needed")},
                 {in_pressure(a.form, "available")},
                 {in_pressure(a.form, "headroom")},
                 {"judged by", Align::Left},
                 {"result", Align::Left}});
    std::string remarks;
    for (const StateRow &row : a.states) {
        table.row({row.state, flow_of_l_min(a.form, row.source_l_min),
                   dash_if_zero(row.needed_pa, pressure(a.form, row.needed_pa)),
                   dash_if_zero(row.available_pa, pressure(a.form, row.available_pa)),
                   dash_if_zero(row.headroom_pa, signed_pressure(a.form, row.headroom_pa)),
                   row.judged_by,
                   !row.decides()       ? "-"
                   : !row.fault.empty() ? "FAILS"
                   : !row.doubt.empty() ? "in doubt"
                                        : "good"});
        for (const std::string *text : {&row.fault, &row.doubt, &row.remark})
            if (!text->empty())
                remarks += fmt::format("  {}: {}\n", row.state, *text);
    }
    out += "\nStates\n" + table.text(a.form, 120) + remarks;
}

void add_circuit(const DriveAnswer &a, std::string &out) {
    Table table({{"along the index circuit", Align::Left},
                 {"piece", Align::Left},
                 {"m/s"},
                 {in_pressure(a.form, "loss")},
                 {in_pressure(a.form, "sum")}});
    double sum = 0.0;
    for (const CircuitStep &step : a.index_circuit) {
        sum += step.loss_pa;
        table.row({step.where, step.what,
                   dash_if_zero(step.velocity_m_s, fixed(step.velocity_m_s, 2)),
                   pressure(a.form, step.loss_pa, 2), pressure(a.form, sum, 2)});
    }
    out += "\nIndex circuit at the design flow\n" + table.text(a.form);
}

void add_emitters(const DriveAnswer &a, std::string &out) {
    Table table({{"emitter", Align::Left},
                 {"W"},
                 {"drop K"},
                 {flow_unit(a.form)},
                 {"m/s"},
                 {"Re"},
                 {"regime", Align::Left},
                 {in_pressure(a.form, "loss")},
                 {in_pressure(a.form, "surplus")},
                 {"set Kv"},
                 {"gets"},
                 {"cold"}});
    for (const EmitterRow &row : a.emitters)
        table.row(
            {row.name, fixed(row.heat_w, 0), fixed(row.drop_k, 1),
             flow_of_l_min(a.form, row.design_l_min, 2),
             dash_if_zero(row.velocity_m_s, fixed(row.velocity_m_s, 2)),
             dash_if_zero(row.reynolds, fixed(row.reynolds, 0)),
             row.regime.empty() ? "-" : row.regime, pressure(a.form, row.own_loss_pa, 2),
             pressure(a.form, row.surplus_pa, 2),
             row.heat_leak ? "open" : dash_if_zero(row.valve_kv_m3_h, fixed(row.valve_kv_m3_h, 3)),
             percent(row.reaches_share), percent(row.cold_share)});
    out += "\nEvery loop and radiator at its design flow\n" + table.text(a.form);
    out +=
        "  loss: through it and its open valves; surplus: to be throttled with the circulator "
        "turned\n"
        "  down to the head needed; set Kv: of its balancing valve then; gets: share of the "
        "design\n"
        "  flow with the circulator at full speed, the others throttled to theirs; cold: at cold\n"
        "  start, with those settings and the circulator turned down\n";
}

void add_source(const DriveAnswer &a, std::string &out) {
    if (a.source)
        out += fmt::format("\nSource on the design day: {:.0f} W asked for\n  {}\n", a.load_w,
                           source_sentence(*a.source));
    if (a.pipe_losses.empty())
        return;
    Table table({{"pipe", Align::Left}, {"loses W"}});
    for (const PipeLoss &pipe : a.pipe_losses)
        table.row({pipe.where, fixed(pipe.heat_w, 0)});
    out += fmt::format("\nPipes lose {:.0f} of the {:.0f} W that the source gives\n", a.pipe_loss_w,
                       a.load_w) +
           table.text(a.form);
    out += fmt::format("  each loop and radiator is sized at the water that reaches it, solved "
                       "together with the\n  hydraulics in {} rounds, to {:.1e} K (asked {:.0e})\n",
                       a.inlet_rounds, a.inlet_change_k, inlet_tolerance_k);
}

void add_heat(const DriveAnswer &a, std::string &out) {
    if (a.heat.empty())
        return;
    out +=
        fmt::format("\nHeat: `{}` needs the warmest water, {:.1f} degC at its own drop; the house "
                    "runs at {:.1f} degC{}\n",
                    a.temperature_set_by, a.needed_temperature_c, a.flow_temperature_c,
                    a.temperature_computed ? "" : " as the file says");
    Table table({{"emitter", Align::Left},
                 {"room W"},
                 {"down W"},
                 {"needs degC"},
                 {"drop K"},
                 {"surface degC"},
                 {"limit"},
                 {"W/(m2 K)"},
                 {"standard"},
                 {"gives"},
                 {"rated"},
                 {"", Align::Left}});
    const auto cell = [](const std::optional<double> &value, int digits) {
        return value ? fixed(*value, digits) : std::string("-");
    };
    for (const HeatRow &row : a.heat)
        table.row({row.name, fixed(row.room_w, 0),
                   dash_if_zero(row.surface_c, fixed(row.down_w, 0)), fixed(row.own_flow_c, 1),
                   fixed(row.drop_k, 1), dash_if_zero(row.surface_c, fixed(row.surface_c, 1)),
                   cell(row.surface_limit_c, 0), cell(row.conduction_w_m2k, 2),
                   cell(row.standard_w_m2k, 2), percent(row.gives_share),
                   row.rated_share ? percent(*row.rated_share) : "-",
                   row.reaches ? "" : fmt::format("{:.0f} W short", row.short_w)});
    out += table.text(a.form, 110);
    out +=
        "  W/(m2 K): heat up per K of mean water above the room, by conduction in this floor with\n"
        "  the water film at its flow; standard: EN 1264-2, which leaves the film out and counts "
        "the\n"
        "  pipe higher in the screed; decisions use the first; gives: output with the water that "
        "reaches\n"
        "  it falling by its own design drop, over what the room needs; rated: a radiator's at "
        "its\n"
        "  rating, over the same\n";
}

void add_beside(const DriveAnswer &a, std::string &out) {
    if (a.beside.empty())
        return;
    Table table({{"beside the verdict", Align::Left},
                 {"all driven", Align::Left},
                 {"least served", Align::Left},
                 {"gets"}});
    for (const BesideRow &row : a.beside)
        table.row({row.what, row.all_driven ? "yes" : "no", row.worst, percent(row.worst_share)});
    out += "\nAs it stands, for comparison\n" + table.text(a.form, 120);
}

void add_assumed(const DriveAnswer &a, std::string &out) {
    Table table({{"what the file did not say", Align::Left},
                 {"taken as", Align::Left},
                 {"could be", Align::Left},
                 {in_pressure(a.form, "headroom")},
                 {in_pressure(a.form, "to")}});
    for (const AssumptionRow &row : a.assumed)
        table.row({row.what, row.value, row.range,
                   row.low_pa ? signed_pressure(a.form, *row.low_pa) : "",
                   row.high_pa ? signed_pressure(a.form, *row.high_pa) : ""});
    if (!table.empty())
        out += "\nAssumed (common practice, no source, unless named)\n" + table.text(a.form, 120);
    out += "\nWhat the band is made of\n";
    for (const std::string &line : a.band)
        out += "  - " + line + "\n";
}

std::string text_report(const DriveAnswer &a) {
    std::string out = fmt::format("{}\n{}\n", a.house, a.sentence);
    for (std::size_t i = 1; i < a.reasons.size(); ++i)
        out += fmt::format("  and: {}\n", a.reasons[i]);
    out += "\n";
    if (!a.index.empty()) {
        add_summary(a, out);
        if (a.changes)
            out += changes_text(a.form, *a.changes);
        if (a.how_sure)
            out += "\n" + how_sure_text(a.form, *a.how_sure, a.verdict == Verdict::No);
        add_states(a, out);
        add_circuit(a, out);
        add_emitters(a, out);
        add_source(a, out);
        add_heat(a, out);
        out += laid_text(a.form, a.laid);
        add_beside(a, out);
        add_assumed(a, out);
    }
    if (!a.too_hot.empty()) {
        out += "\nFloors that would get too hot\n";
        for (const ThermalLimit &limit : a.too_hot)
            out += fmt::format("  {}: {:g} degC {}, takes at most {:g} degC\n", limit.emitter,
                               limit.water_c, limit.when, limit.limit_c);
    }
    if (!a.remarks.empty())
        out += "\nRemarks\n" + bullets(a.remarks);
    out += "\nCautions\n" + bullets(a.cautions);
    return out;
}

Json json_report(const DriveAnswer &a) {
    Json j = json_head("drive", a.house);
    j["verdict"] = verdict_word(a.verdict);
    j["sentence"] = a.sentence;
    j["decided_by"] = a.decided_by;
    j["reasons"] = a.reasons;
    j["circulator_set_pa"] = a.set_pa;
    j["fluid"] = a.fluid;
    j["head_needed_pa"] = a.needed_pa;
    j["head_available_pa"] = a.available_pa;
    j["headroom_pa"] = a.headroom_pa;
    j["headroom_low_pa"] = a.headroom_low_pa;
    j["headroom_high_pa"] = a.headroom_high_pa;
    j["headroom_note"] = a.headroom_note;
    j["source_flow_m3_s"] = a.source_l_min / 6.0e4;
    j["flow_temperature_c"] = a.flow_temperature_c;
    j["return_temperature_c"] = a.return_temperature_c;
    j["index_circuit"] = a.index;
    j["index_steps"] = Json::array();
    for (const CircuitStep &step : a.index_circuit)
        j["index_steps"].push_back({{"where", step.where},
                                    {"piece", step.what},
                                    {"flow_kg_s", step.flow_kg_s},
                                    {"velocity_m_s", step.velocity_m_s},
                                    {"loss_pa", step.loss_pa}});
    j["emitters"] = Json::array();
    for (const EmitterRow &row : a.emitters)
        j["emitters"].push_back({{"name", row.name},
                                 {"kind", row.kind},
                                 {"heat_w", row.heat_w},
                                 {"drop_k", row.drop_k},
                                 {"design_flow_m3_s", row.design_l_min / 6.0e4},
                                 {"velocity_m_s", row.velocity_m_s},
                                 {"reynolds", row.reynolds},
                                 {"regime", row.regime},
                                 {"loss_pa", row.own_loss_pa},
                                 {"surplus_pa", row.surplus_pa},
                                 {"valve_kv_m3_h", row.valve_kv_m3_h},
                                 {"valve_in_range", row.valve_in_range},
                                 {"share_of_design_flow", row.reaches_share},
                                 {"cold_share_of_design_flow", row.cold_share}});
    j["cautions"] = a.cautions;
    j["states"] = Json::array();
    for (const StateRow &row : a.states)
        j["states"].push_back({{"state", row.state},
                               {"judged_by", row.judged_by},
                               {"decides", row.decides()},
                               {"fault", row.fault},
                               {"doubt", row.doubt},
                               {"source_flow_m3_s", row.source_l_min / 6.0e4},
                               {"head_needed_pa", row.needed_pa},
                               {"head_available_pa", row.available_pa},
                               {"headroom_pa", row.headroom_pa},
                               {"headroom_low_pa", row.headroom_low_pa},
                               {"headroom_high_pa", row.headroom_high_pa},
                               {"remark", row.remark}});
    j["beside"] = Json::array();
    for (const BesideRow &row : a.beside)
        j["beside"].push_back({{"house", row.what},
                               {"all_driven", row.all_driven},
                               {"least_served", row.worst},
                               {"share_of_design_flow", row.worst_share}});
    j["assumed"] = Json::array();
    for (const AssumptionRow &row : a.assumed)
        j["assumed"].push_back({{"what", row.what},
                                {"value", row.value},
                                {"range", row.range},
                                {"headroom_change_low_pa", optional_json(row.low_pa)},
                                {"headroom_change_high_pa", optional_json(row.high_pa)}});
    j["load_w"] = a.load_w;
    if (a.source)
        j["source"] = source_json(*a.source);
    j["pipe_loss_w"] = a.pipe_loss_w;
    j["pipes"] = pipe_losses_json(a.pipe_losses);
    j["inlet_rounds"] = a.inlet_rounds;
    j["inlet_change_k"] = a.inlet_change_k;
    if (a.how_sure)
        j["how_sure"] = how_sure_json(*a.how_sure);
    if (a.changes)
        j["least_changes"] = changes_json(*a.changes);
    j["laid"] = laid_json(a.laid);
    j["heat"] = Json::array();
    for (const HeatRow &row : a.heat)
        j["heat"].push_back({{"emitter", row.name},
                             {"room_w", row.room_w},
                             {"down_w", row.down_w},
                             {"own_flow_temperature_c", row.own_flow_c},
                             {"drop_k", row.drop_k},
                             {"reaches", row.reaches},
                             {"short_w", row.short_w},
                             {"gives_share", row.gives_share},
                             {"rated_share", optional_json(row.rated_share)},
                             {"rated_needed_w", optional_json(row.rated_needed_w)},
                             {"surface_c", row.surface_c},
                             {"surface_limit_c", optional_json(row.surface_limit_c)},
                             {"conduction_w_m2k", optional_json(row.conduction_w_m2k)},
                             {"standard_w_m2k", optional_json(row.standard_w_m2k)}});
    j["flow_temperature_set_by"] = a.temperature_set_by;
    j["flow_temperature_needed_c"] = a.needed_temperature_c;
    j["flow_temperature_computed"] = a.temperature_computed;
    j["too_hot"] = Json::array();
    for (const ThermalLimit &limit : a.too_hot)
        j["too_hot"].push_back({{"emitter", limit.emitter},
                                {"water_c", limit.water_c},
                                {"limit_c", limit.limit_c},
                                {"when", limit.when}});
    j["band"] = a.band;
    j["remarks"] = a.remarks;
    j["worst_setting_error_share"] = a.worst_setting_error;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string csv_report(const DriveAnswer &a) {
    std::string out =
        csv_record({"name", "kind", "heat_w", "drop_k", "design_flow_m3_s", "velocity_m_s",
                    "reynolds", "regime", "loss_pa", "surplus_pa", "valve_kv_m3_h",
                    "share_of_design_flow", "cold_share_of_design_flow"});
    for (const EmitterRow &row : a.emitters)
        out += csv_record({row.name, row.kind, number(row.heat_w), number(row.drop_k),
                           number(row.design_l_min / 6.0e4), number(row.velocity_m_s),
                           number(row.reynolds), row.regime, number(row.own_loss_pa),
                           number(row.surplus_pa), number(row.valve_kv_m3_h),
                           number(row.reaches_share), number(row.cold_share)});
    return out;
}

} // namespace

std::string report(const DriveAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
