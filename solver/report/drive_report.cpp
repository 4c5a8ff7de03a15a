#include "solver/report/drive_report.hpp"
#include "solver/report/changes.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/how_sure.hpp"
#include "solver/report/laid.hpp"
#include "solver/report/report.hpp"
#include "solver/report/source_report.hpp"
#include "solver/report/table.hpp"

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
                 {"available"},
                 {"headroom"},
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
                remarks += wrapped(fmt::format("  {}: {}", row.state, *text), "    ");
    }
    out += "\nStates\n" + table.text(a.form) + remarks;
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
                 {"surplus"},
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
        out += fmt::format("\nSource on the design day: {:.0f} W asked for\n", a.load_w) +
               wrapped("  " + source_sentence(*a.source), "  ");
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

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

void add_heat(const DriveAnswer &a, std::string &out) {
    if (a.heat.empty())
        return;
    out += "\n" +
           wrapped(fmt::format("Heat: `{}` needs the warmest water, {:.1f} degC at its own "
                               "drop; the house runs at {:.1f} degC{}",
                               a.temperature_set_by, a.needed_temperature_c, a.flow_temperature_c,
                               a.temperature_computed ? "" : " as the file says"),
                   "  ");
    Table table({{"emitter", Align::Left},
                 {"room W"},
                 {"needs degC"},
                 {"at K"},
                 {"drop K"},
                 {"gives"},
                 {"rated"},
                 {"", Align::Left}});
    for (const HeatRow &row : a.heat)
        table.row({row.name, fixed(row.room_w, 0), fixed(row.own_flow_c, 1),
                   fixed(row.design_drop_k, 1), fixed(row.drop_k, 1), percent(row.gives_share),
                   row.rated_share ? percent(*row.rated_share) : "-",
                   row.reaches ? "" : fmt::format("{:.0f} W short", row.short_w)});
    out += table.text(a.form);
    out += "  needs: flow temperature at its own design drop, at K; drop: at the house's flow "
           "temperature;\n  gives: output with the water that reaches it falling by its own "
           "design drop, over what the\n  room needs; rated: a radiator's at its rating, over the "
           "same\n";
}

void add_floors(const DriveAnswer &a, std::string &out) {
    Table table({{"floor over", Align::Left},
                 {"down W"},
                 {"surface degC"},
                 {"limit"},
                 {"W/(m2 K)"},
                 {"standard"}});
    for (const HeatRow &row : a.heat)
        if (row.surface_c > 0.0)
            table.row({row.name, fixed(row.down_w, 0), fixed(row.surface_c, 1),
                       cell(row.surface_limit_c, 0), cell(row.conduction_w_m2k, 2),
                       cell(row.standard_w_m2k, 2)});
    if (table.empty())
        return;
    out += "\nFloors\n" + table.text(a.form);
    out +=
        "  W/(m2 K): heat up per K of mean water above the room, by conduction in this floor with\n"
        "  the water film at its flow; standard: EN 1264-2, which leaves the film out and counts "
        "the\n  pipe higher in the screed; decisions use the first\n";
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
    out += "\nAs it stands, for comparison\n" + table.text(a.form);
}

void add_assumed(const DriveAnswer &a, std::string &out) {
    Table table({{"what the file did not say", Align::Words},
                 {"taken as", Align::Words},
                 {"could be", Align::Words},
                 {in_pressure(a.form, "from")},
                 {"to"}});
    for (const AssumptionRow &row : a.assumed)
        table.row({row.what, row.value, row.range,
                   row.low_pa ? signed_pressure(a.form, *row.low_pa) : "",
                   row.high_pa ? signed_pressure(a.form, *row.high_pa) : ""});
    if (!table.empty())
        out += "\nAssumed (common practice, no source, unless named), and its worth in headroom\n" +
               table.text(a.form);
    out += "\nWhat the band is made of\n" + bullets(a.band);
}

std::string text_report(const DriveAnswer &a) {
    std::string out = a.house + "\n" + wrapped(a.sentence, "  ");
    for (std::size_t i = 1; i < a.reasons.size(); ++i)
        out += wrapped("  and: " + a.reasons[i], "    ");
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
        add_floors(a, out);
        out += laid_text(a.form, a.laid);
        add_beside(a, out);
        add_assumed(a, out);
    }
    if (!a.too_hot.empty()) {
        out += "\nFloors that would get too hot\n";
        for (const ThermalLimit &limit : a.too_hot)
            out += wrapped(fmt::format("  {}: {:g} degC {}, takes at most {:g} degC", limit.emitter,
                                       limit.water_c, limit.when, limit.limit_c),
                           "    ");
    }
    if (!a.remarks.empty())
        out += "\nRemarks\n" + bullets(a.remarks);
    out += "\nCautions\n" + bullets(a.cautions);
    return out;
}

} // namespace

std::string report(const DriveAnswer &answer, Format format) {
    return report_in(format, answer, text_report, drive_json, drive_csv);
}

} // namespace headroom::solver
