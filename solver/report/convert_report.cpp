#include "solver/report/changes.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

std::string source_efficiency(const ConvertState &state) {
    if (!state.heat)
        return "-";
    return state.heat->heat_pump ? "COP " + fixed(state.heat->efficiency, 2)
                                 : percent(state.heat->efficiency);
}

void add_states(const ConvertAnswer &a, std::string &out) {
    Table table({{"", Align::Left}, {a.found.what}, {a.converted.what}});
    const auto row = [&](const std::string &what, auto &&of) {
        table.row({what, of(a.found), of(a.converted)});
    };
    using State = ConvertState;
    row("sent, degC", [](const State &s) { return fixed(s.flow_temperature_c, 1); });
    row("back, degC", [](const State &s) { return fixed(s.return_temperature_c, 1); });
    row("flow of the source, " + flow_unit(a.form),
        [&](const State &s) { return flow_of_l_min(a.form, s.source_l_min); });
    row("load on the design day, W",
        [](const State &s) { return s.heat ? fixed(s.heat->load_w, 0) : std::string("-"); });
    row("source gives at most, W",
        [](const State &s) { return s.heat ? fixed(s.heat->greatest_w, 0) : std::string("-"); });
    row("efficiency or COP on the design day", source_efficiency);
    row("season, with pumps", [](const State &s) { return cell(s.seasonal_performance, 2); });
    row("electricity, kWh a year", [](const State &s) { return cell(s.electricity_kwh, 0); });
    row("gas, kWh a year", [](const State &s) { return cell(s.gas_kwh, 0); });
    row(a.yearly_currency.empty() ? "cost a year" : "cost a year, " + a.yearly_currency,
        [](const State &s) { return cell(s.yearly_cost, 0); });
    row("CO2, kg a year", [](const State &s) { return cell(s.co2_kg, 0); });
    out += "\nBefore and after\n" + table.text(a.form);
    out +=
        "  as found: the house as the file has it, valves as they stand; as converted: each loop "
        "and\n  radiator at its design flow; season: heat over what source and pumps take\n";
    if (a.found.rooms_over_k > 0.05)
        out += wrapped(fmt::format("  load as found: with rooms where they settle, up to {:.1f} K "
                                   "over what is wanted",
                                   a.found.rooms_over_k),
                       "  ");
    if (a.found.fixed_performance)
        out += wrapped(fmt::format("  the file does not say how the source is controlled: both "
                                   "years are taken on a weather curve, with valves balanced so "
                                   "that each room gets what it loses; at {:.1f} degC all year the "
                                   "season as found would be {:.2f}; the efficiency on the design "
                                   "day is that of valves as they stand",
                                   a.found.fixed_c, *a.found.fixed_performance),
                       "  ");
    for (const ConvertState *state : {&a.found, &a.converted})
        if (!state->cost_caution.empty())
            out += wrapped(fmt::format("  cost {}: {}", state->what, state->cost_caution), "  ");
    if (!a.converted.year_note.empty())
        out += wrapped("  " + a.converted.year_note, "  ");
}

void add_emitters(const ConvertAnswer &a, std::string &out) {
    if (a.driven.heat.empty())
        return;
    Table table({{"loop or radiator", Align::Left},
                 {"room W"},
                 {"needs degC"},
                 {"at K"},
                 {"drop K"},
                 {"surface degC"},
                 {"short W"},
                 {"rated W to do"}});
    for (const HeatRow &row : a.driven.heat)
        table.row({row.name, fixed(row.room_w, 0), fixed(row.own_flow_c, 1),
                   fixed(row.design_drop_k, 1), fixed(row.drop_k, 1),
                   row.surface_c > 0.0 ? fixed(row.surface_c, 1) : "-",
                   row.reaches ? "-" : fixed(row.short_w, 0),
                   !row.reaches && row.rated_needed_w ? fixed(*row.rated_needed_w, 0) : "-"});
    out +=
        fmt::format("\nOne flow temperature for all: {:.1f} degC; `{}` needs the warmest, {:.1f} "
                    "degC\n",
                    a.driven.flow_temperature_c, a.driven.temperature_set_by,
                    a.driven.needed_temperature_c) +
        table.text(a.form, 100) +
        "  needs: at its own design drop, at K; drop: what the flow temperature for all leaves\n";
}

void add_runs(const ConvertAnswer &a, std::string &out) {
    if (a.runs.empty())
        return;
    Table table({{"run", Align::Left},
                 {"pipe", Align::Left},
                 {"", Align::Left},
                 {flow_unit(a.form)},
                 {"m/s"},
                 {"Pa/m"},
                 {"", Align::Left}});
    for (const ConvertRun &run : a.runs)
        table.row({run.name, run.pipe, run.existing ? "existing" : "",
                   flow_of_l_min(a.form, run.flow_l_min), fixed(run.velocity_m_s, 2),
                   fixed(run.loss_pa_m, 0), run.within ? "" : "BEYOND"});
    out += "\n" +
           wrapped(fmt::format("Pipework at the design flow, limits {:g} m/s and {:.0f} Pa/m{}",
                               a.velocity_limit_m_s, a.loss_limit_pa_m,
                               a.limits_assumed ? " (assumed, common practice; "
                                                  "`pipe_limits:` states yours)"
                                                : ""),
                   "  ") +
           table.text(a.form);
}

// Where a change needs the pipes within their limits first, it was sought with them in.
void add_wider_runs(const ConvertAnswer &a, std::string &out) {
    if (!a.wider_runs)
        return;
    out += "\nRuns renewed to stand within their limits\n";
    if (a.wider_runs->changes.empty()) {
        out += "  no pipe of the catalogue is wide enough\n";
        return;
    }
    out += bullets(a.wider_runs->changes);
    out += wrapped(
        fmt::format("  at {:.0f}{}, no offer; {}", a.wider_runs->cost,
                    a.currency.empty() ? " (relative)" : " " + a.currency,
                    a.enough_with_wider_runs
                        ? fmt::format("with them alone the verdict is yes, {} {} "
                                      "at the bad end",
                                      signed_pressure(a.form, a.wider_runs->headroom_low_pa),
                                      pressure_unit(a.form))
                        : "with them alone the verdict is not yes; the changes below "
                          "were sought with them in"),
        "  ");
}

void add_kept(const ConvertAnswer &a, std::string &out) {
    if (a.driven.beside.empty())
        return;
    Table table({{"kept instead, as the converted house is described", Align::Left},
                 {"all driven", Align::Left},
                 {"least share", Align::Right},
                 {"of", Align::Left}});
    for (const BesideRow &row : a.driven.beside)
        table.row({row.what, row.all_driven ? "yes" : "no", percent(row.worst_share), row.worst});
    out += "\n" + table.text(a.form);
}

void add_source_needs(const ConvertAnswer &a, std::string &out) {
    out += "\nWhat the heat pump asks for\n";
    out += a.least_flow_l_min
               ? fmt::format("  least flow: {} {} wanted, {} at the least of all states\n",
                             flow_of_l_min(a.form, *a.least_flow_l_min), flow_unit(a.form),
                             flow_of_l_min(a.form, a.least_state_l_min))
               : std::string("  least flow: not given, not checked\n");
    const std::string open = fmt::format("{:.0f} l with every zone open, {:.0f} l with every zone "
                                         "shut",
                                         a.open_volume_m3 * 1e3, a.shut_open_volume_m3 * 1e3);
    out += a.wanted_volume.low_m3
               ? wrapped(fmt::format("  open volume: {:.0f} l wanted ({}); {}",
                                     *a.wanted_volume.low_m3 * 1e3, a.wanted_volume.by, open),
                         "    ")
               : fmt::format("  open volume: none stated; {}\n", open);
    if (a.driven.needed_pa > 0.0)
        out += fmt::format(
            "  head: {0} {5} needed, {1} available, {2} {5} left ({3} to {4})\n",
            pressure(a.form, a.driven.needed_pa), pressure(a.form, a.driven.available_pa),
            signed_pressure(a.form, a.driven.headroom_pa),
            signed_pressure(a.form, a.driven.headroom_low_pa),
            signed_pressure(a.form, a.driven.headroom_high_pa), pressure_unit(a.form));
}

std::string text_report(const ConvertAnswer &a) {
    std::string out =
        wrapped(a.house + " to " + a.converted_house, "  ") + wrapped(a.sentence, "  ");
    for (std::size_t i = 1; i < a.reasons.size(); ++i)
        out += wrapped("  and: " + a.reasons[i], "    ");
    out += a.taken_out.empty()
               ? "nothing is taken out\n"
               : wrapped(fmt::format("taken out: {}", fmt::join(a.taken_out, "; ")), "  ");
    add_wider_runs(a, out);
    if (a.driven.changes)
        out += changes_text(a.form, *a.driven.changes);
    add_states(a, out);
    add_emitters(a, out);
    add_source_needs(a, out);
    add_runs(a, out);
    add_kept(a, out);
    out += "\nEvery room counts by itself: no average hides a cold one. `headroom drive` with "
           "--proposal shows\nthe index circuit and the settings.\n";
    out += "\nCautions\n" + bullets(a.driven.cautions);
    return out;
}

Json state_json(const ConvertState &state) {
    Json j{{"what", state.what},
           {"flow_temperature_c", state.flow_temperature_c},
           {"return_temperature_c", state.return_temperature_c},
           {"source_flow_m3_s", state.source_l_min / 6.0e4}};
    if (state.heat) {
        j["load_w"] = state.heat->load_w;
        j["greatest_output_w"] = state.heat->greatest_w;
        j[state.heat->heat_pump ? "cop" : "efficiency"] = state.heat->efficiency;
    }
    j["seasonal_performance"] = optional_json(state.seasonal_performance);
    j["fixed_seasonal_performance"] = optional_json(state.fixed_performance);
    j["cost_caution"] = state.cost_caution;
    j["electricity_kwh"] = optional_json(state.electricity_kwh);
    j["gas_kwh"] = optional_json(state.gas_kwh);
    j["yearly_cost"] = optional_json(state.yearly_cost);
    j["co2_kg"] = optional_json(state.co2_kg);
    j["year_note"] = state.year_note;
    return j;
}

const char *feasible_name(Feasible feasible) {
    switch (feasible) {
    case Feasible::Yes:
        return "feasible";
    case Feasible::AfterChanges:
        return "feasible after changes";
    case Feasible::No:
        break;
    }
    return "not feasible";
}

Json json_report(const ConvertAnswer &a) {
    Json j = json_head("convert", a.house);
    j["converted_house"] = a.converted_house;
    j["verdict"] = feasible_name(a.feasible);
    j["sentence"] = a.sentence;
    j["reasons"] = a.reasons;
    j["taken_out"] = a.taken_out;
    j["as_found"] = state_json(a.found);
    j["as_converted"] = state_json(a.converted);
    j["headroom_pa"] = a.driven.headroom_pa;
    j["headroom_low_pa"] = a.driven.headroom_low_pa;
    j["headroom_high_pa"] = a.driven.headroom_high_pa;
    j["needed_pa"] = a.driven.needed_pa;
    j["available_pa"] = a.driven.available_pa;
    j["temperature_set_by"] = a.driven.temperature_set_by;
    if (a.driven.changes)
        j["least_changes"] = changes_json(*a.driven.changes);
    j["wider_runs"] = Json();
    if (a.wider_runs)
        j["wider_runs"] = {{"changes", a.wider_runs->changes},
                           {"cost", a.wider_runs->cost},
                           {"headroom_low_pa", a.wider_runs->headroom_low_pa},
                           {"enough", a.enough_with_wider_runs}};
    j["kept_instead"] = Json::array();
    for (const BesideRow &row : a.driven.beside)
        j["kept_instead"].push_back({{"what", row.what},
                                     {"all_driven", row.all_driven},
                                     {"worst", row.worst},
                                     {"worst_share", row.worst_share}});
    j["cautions"] = a.driven.cautions;
    j["emitters"] = Json::array();
    for (const HeatRow &row : a.driven.heat)
        j["emitters"].push_back({{"emitter", row.name},
                                 {"room_w", row.room_w},
                                 {"own_flow_temperature_c", row.own_flow_c},
                                 {"design_drop_k", row.design_drop_k},
                                 {"drop_k", row.drop_k},
                                 {"reaches", row.reaches},
                                 {"short_w", row.short_w},
                                 {"rated_needed_w", optional_json(row.rated_needed_w)}});
    j["velocity_limit_m_s"] = a.velocity_limit_m_s;
    j["loss_limit_pa_m"] = a.loss_limit_pa_m;
    j["limits_assumed"] = a.limits_assumed;
    j["runs"] = Json::array();
    for (const ConvertRun &run : a.runs)
        j["runs"].push_back({{"run", run.name},
                             {"pipe", run.pipe},
                             {"existing", run.existing},
                             {"flow_m3_s", run.flow_l_min / 6.0e4},
                             {"velocity_m_s", run.velocity_m_s},
                             {"loss_pa_m", run.loss_pa_m},
                             {"within", run.within}});
    const auto flow = [](double l_min) { return l_min / 6.0e4; };
    j["least_flow_m3_s"] = a.least_flow_l_min ? Json(flow(*a.least_flow_l_min)) : Json();
    j["least_state_flow_m3_s"] = flow(a.least_state_l_min);
    j["least_open_volume_m3"] = optional_json(a.wanted_volume.low_m3);
    j["least_open_volume_by"] = a.wanted_volume.by;
    j["open_volume_m3"] = a.open_volume_m3;
    j["shut_open_volume_m3"] = a.shut_open_volume_m3;
    return j;
}

std::string csv_report(const ConvertAnswer &a) {
    std::string out =
        csv_record({"run", "pipe", "existing", "flow_m3_s", "velocity_m_s", "loss_pa_m", "within"});
    for (const ConvertRun &run : a.runs)
        out += csv_record({run.name, run.pipe, run.existing ? "yes" : "no",
                           number(run.flow_l_min / 6.0e4), number(run.velocity_m_s),
                           number(run.loss_pa_m), run.within ? "yes" : "no"});
    return out;
}

} // namespace

std::string report(const ConvertAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
