#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/source_report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string source_text(TextForm form, const SourceRow &s) {
    std::string out =
        fmt::format("\nSource: {:.0f} W asked for, sent at {:.1f}, back at {:.1f} degC, {}{}\n",
                    s.load_w, s.sent_c, s.return_c, flow_words(form, s.flow_m3_s),
                    !s.least_flow_m3_s ? ""
                    : s.below_least_flow()
                        ? fmt::format(", BELOW its least of {}", flow(form, *s.least_flow_m3_s))
                        : fmt::format(" (at least {})", flow(form, *s.least_flow_m3_s)));
    if (s.heat)
        out += wrapped("  " + source_sentence(*s.heat), "  ");
    if (s.holds_c)
        out += fmt::format("  it can hold {:.1f} degC: sent so, this house takes what it gives\n",
                           *s.holds_c);
    return out;
}

std::string heat_text(TextForm form, const HeatBalance &heat) {
    Table table({{"heat W", Align::Left}, {"source"}, {"rooms"}, {"down"}, {"pipes"}, {"closure"}});
    table.row({"", fixed(heat.source_w, 1), fixed(heat.rooms_w, 1), fixed(heat.down_w, 1),
               fixed(heat.pipes_w, 1), fmt::format("{:.1e}", heat.closure_w)});
    std::string out =
        "\nHeat: source = rooms + down through floors + lost from pipes\n" + table.text(form);
    if (heat.ends_w != 0.0)
        out +=
            fmt::format("  water let in at ends, as warm as where it comes in, less that let out: "
                        "{} W\n",
                        fixed(heat.ends_w, 1));
    if (heat.pipes.empty())
        return out;
    Table pipes({{"pipe", Align::Left}, {"loses W"}});
    for (const PipeLoss &pipe : heat.pipes)
        pipes.row({pipe.where, fixed(pipe.heat_w, 1)});
    return out + pipes.text(form);
}

bool any_warmer_than_wanted(const std::vector<RoomTemperatureRow> &rooms) {
    constexpr double seen_k = 0.5;
    return std::any_of(rooms.begin(), rooms.end(), [](const RoomTemperatureRow &room) {
        return room.reached_c > room.wanted_c + seen_k;
    });
}

std::string text_report(const FlowsAnswer &a) {
    std::string out = fmt::format("{}\nsolved as it stands, {}\n", a.house, a.fluid);
    if (a.source)
        out += source_text(a.form, *a.source) + heat_text(a.form, a.heat);
    if (!a.pumps.empty()) {
        Table table({{"pump", Align::Left},
                     {"mode", Align::Left},
                     {flow_unit(a.form)},
                     {in_pressure(a.form, "rise")},
                     {"rise m"},
                     {"inlet bar"}});
        for (const PumpRow &row : a.pumps)
            table.row({row.where, row.mode, flow(a.form, row.flow_m3_s),
                       pressure(a.form, row.rise_pa, 2), metres_head(row.rise_pa),
                       a.absolute ? bar(row.inlet_pa) : "-"});
        if (a.form.metres_head)
            table.drop("rise m");
        out += "\nPumps\n" + table.text(a.form);
    }
    if (!a.emitters.empty()) {
        Table table({{"loop or radiator", Align::Left},
                     {flow_unit(a.form)},
                     {"of design"},
                     {"W"},
                     {"room W"},
                     {"out degC"}});
        for (const FlowRow &row : a.emitters)
            table.row({row.name, flow(a.form, row.flow_m3_s), percent(row.design_share),
                       fixed(row.heat_w, 0), fixed(row.to_room_w, 0), fixed(row.out_c, 1)});
        out += "\nLoops and radiators\n" + table.text(a.form);
    }
    if (!a.mixers.empty()) {
        Table table({{"mixer", Align::Left},
                     {"travel"},
                     {"set degC"},
                     {"sends degC"},
                     {in_flow(a.form, "hot")},
                     {"cold"},
                     {"authority"}});
        for (const MixerRow &row : a.mixers)
            table.row({row.where, fixed(100.0 * row.travel_share, 1) + " %", fixed(row.set_c, 1),
                       fixed(row.mixed_c, 1), flow(a.form, row.hot_m3_s),
                       flow(a.form, row.cold_m3_s),
                       row.authority_share ? percent(*row.authority_share) : "-"});
        out += "\nMixers that modulate\n" + table.text(a.form) +
               "  authority: loss of the open hot port over it and its run's pipes; a mixer steers "
               "well from\n  30 % on (common practice)\n";
    }
    if (!a.rooms.empty()) {
        Table table({{"room", Align::Left},
                     {"wanted degC"},
                     {"reaches degC"},
                     {"W"},
                     {"output falls per K"}});
        for (const RoomTemperatureRow &row : a.rooms)
            table.row({row.room, fixed(row.wanted_c, 1), fixed(row.reached_c, 1),
                       fixed(row.heat_w, 0), fixed(100.0 * row.falls_share_per_k, 1) + " %"});
        out += "\nRooms, where output and loss balance on the design day\n" + table.text(a.form);
        if (a.source && a.source->heat && a.source->heat->short_w > 0.0)
            out +=
                wrapped(fmt::format("  with a source that can give {:.0f} W; this one is {:.0f} W "
                                    "short, and rooms stay below these temperatures",
                                    a.source->load_w, a.source->heat->short_w),
                        "  ");
        else if (a.source && any_warmer_than_wanted(a.rooms))
            out += "  rooms warmer than wanted lose more: the source is asked for more than the "
                   "design load of\n  `headroom drive`\n";
    }
    Table links({{"part", Align::Left},
                 {"piece", Align::Left},
                 {flow_unit(a.form)},
                 {"m/s"},
                 {"Re"},
                 {in_pressure(a.form, "loss")},
                 {"degC in"},
                 {"out"}});
    for (const LinkRow &row : a.links)
        links.row({row.where, row.what, flow(a.form, row.flow_m3_s),
                   row.velocity_m_s == 0.0 ? "-" : fixed(row.velocity_m_s, 2),
                   row.reynolds == 0.0 ? "-" : fixed(row.reynolds, 0),
                   pressure(a.form, row.loss_pa, 2), fixed(row.in_c, 1), fixed(row.out_c, 1)});
    out += "\nEvery piece\n" + links.text(a.form);
    Table nodes(
        {{"point", Align::Left}, {"level m"}, {a.absolute ? "bar" : "bar, relative"}, {"degC"}});
    for (const NodeRow &row : a.nodes)
        nodes.row({row.name, fixed(row.elevation_m, 2), row.known ? bar(row.pressure_pa) : "open",
                   fixed(row.temperature_c, 1)});
    out += "\nPressures\n" + nodes.text(a.form);
    if (!a.absolute)
        out += "  relative to the first point; give `fill:` (or a held pressure) for true ones\n";
    if (!a.assumed.empty())
        out += "\nAssumed\n" + bullets(a.assumed);
    if (!a.warnings.empty())
        out += "\nWarnings\n" + bullets(a.warnings);
    return out + "\n" +
           wrapped(fmt::format("Residuals: mass {:.2g} kg/s (asked {:.2g}), laws {:.2g} Pa (asked "
                               "{:.2g}), {} Newton steps in {} rounds",
                               a.outcome.worst_mass_kg_s, a.outcome.mass_tolerance_kg_s,
                               a.outcome.worst_law_pa, a.outcome.law_tolerance_pa,
                               a.outcome.newton_steps, a.outer_steps),
                   "  ");
}

Json json_report(const FlowsAnswer &a) {
    Json j = json_head("flows", a.house);
    j["fluid"] = a.fluid;
    j["pressures_absolute"] = a.absolute;
    if (a.source) {
        const SourceRow &s = *a.source;
        j["source"] = {{"load_w", s.load_w},
                       {"flow_m3_s", s.flow_m3_s},
                       {"sent_c", s.sent_c},
                       {"return_c", s.return_c},
                       {"least_flow_m3_s", optional_json(s.least_flow_m3_s)},
                       {"below_least_flow", s.below_least_flow()},
                       {"holds_c", optional_json(s.holds_c)},
                       {"heat", s.heat ? source_json(*s.heat) : Json()}};
        j["heat_balance"] = {{"source_w", a.heat.source_w},
                             {"rooms_w", a.heat.rooms_w},
                             {"down_w", a.heat.down_w},
                             {"pipes_w", a.heat.pipes_w},
                             {"ends_w", a.heat.ends_w},
                             {"closure_w", a.heat.closure_w},
                             {"pipes", pipe_losses_json(a.heat.pipes)}};
    }
    j["pumps"] = Json::array();
    for (const PumpRow &row : a.pumps)
        j["pumps"].push_back({{"where", row.where},
                              {"mode", row.mode},
                              {"flow_m3_s", row.flow_m3_s},
                              {"rise_pa", row.rise_pa},
                              {"inlet_pa", row.inlet_pa}});
    j["emitters"] = Json::array();
    for (const FlowRow &row : a.emitters)
        j["emitters"].push_back({{"name", row.name},
                                 {"flow_m3_s", row.flow_m3_s},
                                 {"share_of_design_flow", row.design_share},
                                 {"heat_w", row.heat_w},
                                 {"to_room_w", row.to_room_w},
                                 {"down_w", row.down_w},
                                 {"out_c", row.out_c}});
    j["mixers"] = Json::array();
    for (const MixerRow &row : a.mixers)
        j["mixers"].push_back({{"where", row.where},
                               {"travel_share", row.travel_share},
                               {"set_c", row.set_c},
                               {"mixed_c", row.mixed_c},
                               {"hot_m3_s", row.hot_m3_s},
                               {"cold_m3_s", row.cold_m3_s},
                               {"authority_share", optional_json(row.authority_share)}});
    j["rooms"] = Json::array();
    for (const RoomTemperatureRow &row : a.rooms)
        j["rooms"].push_back({{"room", row.room},
                              {"wanted_c", row.wanted_c},
                              {"reached_c", row.reached_c},
                              {"heat_w", row.heat_w},
                              {"output_falls_share_per_k", row.falls_share_per_k}});
    j["links"] = Json::array();
    for (const LinkRow &row : a.links)
        j["links"].push_back({{"where", row.where},
                              {"piece", row.what},
                              {"from", row.from},
                              {"to", row.to},
                              {"flow_kg_s", row.flow_kg_s},
                              {"flow_m3_s", row.flow_m3_s},
                              {"velocity_m_s", row.velocity_m_s},
                              {"reynolds", row.reynolds},
                              {"regime", row.regime},
                              {"loss_pa", row.loss_pa},
                              {"in_c", row.in_c},
                              {"out_c", row.out_c},
                              {"heat_w", row.heat_w}});
    j["nodes"] = Json::array();
    for (const NodeRow &row : a.nodes)
        j["nodes"].push_back({{"name", row.name},
                              {"elevation_m", row.elevation_m},
                              {"pressure_pa", row.known ? Json(row.pressure_pa) : Json()},
                              {"temperature_c", row.temperature_c}});
    j["assumed"] = a.assumed;
    j["warnings"] = a.warnings;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string csv_report(const FlowsAnswer &a) {
    std::string out =
        csv_record({"where", "piece", "from", "to", "flow_kg_s", "flow_m3_s", "velocity_m_s",
                    "reynolds", "regime", "loss_pa", "in_c", "out_c", "heat_w"});
    for (const LinkRow &row : a.links)
        out += csv_record({row.where, row.what, row.from, row.to, number(row.flow_kg_s),
                           number(row.flow_m3_s), number(row.velocity_m_s), number(row.reynolds),
                           row.regime, number(row.loss_pa), number(row.in_c), number(row.out_c),
                           number(row.heat_w)});
    return out;
}

} // namespace

std::string report(const FlowsAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
