#include "solver/report/hotwater_report.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

std::string kw(double power_w) {
    return fixed(power_w * 1e-3, 2);
}

std::string efficiency_head(const HotWaterAnswer &a) {
    return a.heat_pump ? "COP" : "efficiency";
}

// The output at which the coil just keeps up is seldom one to set: the source finds it by itself.
std::string just_keeps_up(const HotWaterAnswer &a) {
    const Reheat &full = a.reheats.front();
    const std::string from =
        full.held_from_c
            ? fmt::format("from {:.1f} degC in the store on the source comes down to it by itself",
                          *full.held_from_c)
            : "the source comes down to it by itself";
    std::string out = fmt::format(
        "the coil just keeps up with {} kW to the end: {}, modulating, or starting and stopping "
        "where it cannot",
        kw(a.set_w), from);
    for (const Reheat &row : a.reheats)
        if (row.output_w && row.from_c == full.from_c)
            out += fmt::format("; held at {} kW all the way, where its control can be set so, it "
                               "takes {} min",
                               kw(*row.output_w), minutes(row.time_s));
    return out;
}

std::string first_lines(const HotWaterAnswer &a) {
    const std::string head = a.house + "\n";
    if (a.reheats.empty())
        return head + "no water gets through the coil, so nothing warms the store\n";
    const Reheat &cold = a.reheats.front();
    std::string out = head;
    out += wrapped(fmt::format("{} l from {:g} to {:g} degC take {} min and {:.2f} kWh of heat{}",
                               litres(a.store_m3), cold.from_c, cold.to_c, minutes(cold.time_s),
                               cold.heat_kwh,
                               a.rooms.empty() ? "" : "; the rooms get none meanwhile"));
    if (a.coil_too_small)
        return out + wrapped(fmt::format("the coil is too small: at {:g} degC it passes {} kW into "
                                         "the warm store, below the source's least {} kW, so that "
                                         "the source cycles from {:.1f} degC on",
                                         a.allowed_c, kw(a.passes_w), kw(a.least_w), a.reached_c));
    if (a.set_w < a.greatest_w)
        return out + wrapped(just_keeps_up(a));
    return out +
           fmt::format("the coil takes all {} kW of the source to the end\n", kw(a.greatest_w));
}

void add_summary(const HotWaterAnswer &a, std::string &out) {
    const auto line = [&](std::string_view what, const std::string &value) {
        out += fmt::format("  {:<22} {}\n", what, value);
    };
    out += "\n";
    line("coil", fmt::format("UA {:.0f} W/K{}, effectiveness {:.1f} % at {}", a.ua_w_k,
                             a.coil_area_m2 ? fmt::format(", {:g} m2", *a.coil_area_m2) : "",
                             100.0 * a.effectiveness, flow_words(a.form, a.state.flow_m3_s)));
    line("coil passes", fmt::format("{} kW at {:g} degC into a store at {:g} degC", kw(a.passes_w),
                                    a.allowed_c, a.store_to_c));
    line("source gives",
         fmt::format("{} to {} kW at {:g} degC{}", kw(a.least_w), kw(a.greatest_w), a.allowed_c,
                     a.heat_pump && a.outdoor_c ? fmt::format(", {:g} degC outside", *a.outdoor_c)
                                                : ""));
    if (a.least_w > 0.0)
        line("store without cycling", fmt::format("up to {:.1f} degC", a.reached_c));
    if (a.at_tap_m3)
        line("full store gives", fmt::format("at most {} l at {:g} degC, drawn without mixing",
                                             litres(*a.at_tap_m3), *a.at_tap_c));
    const CoilState &s = a.state;
    if (!s.can_be_driven)
        line("circulator", "no head drives the coil's flow");
    else
        line("circulator",
             fmt::format("{0} {4} needed, {1} available at {2}: {3} {4} to spare",
                         pressure(a.form, s.needed_pa), pressure(a.form, s.available_pa),
                         flow_words(a.form, s.wanted_m3_s), signed_pressure(a.form, s.headroom_pa),
                         pressure_unit(a.form)));
    if (!s.driven)
        line("", fmt::format("the coil gets {} of {}, and all below counts with that",
                             flow(a.form, s.flow_m3_s), flow_words(a.form, s.wanted_m3_s)));
    if (s.least_flow_m3_s && s.flow_m3_s < *s.least_flow_m3_s)
        line("", fmt::format("below the source's least flow of {}",
                             flow_words(a.form, *s.least_flow_m3_s)));
}

void add_reheats(const HotWaterAnswer &a, std::string &out) {
    Table table({{"reheat", Align::Left},
                 {"source", Align::Left},
                 {"min"},
                 {"heat kWh"},
                 {a.heat_pump ? "electric kWh" : "gas kWh"},
                 {efficiency_head(a)},
                 {"held back from"},
                 {"cycles from"}});
    for (const Reheat &r : a.reheats)
        table.row({fmt::format("{:g} to {:g} degC", r.from_c, r.to_c),
                   r.output_w ? fmt::format("at {} kW", kw(*r.output_w)) : "at full output",
                   minutes(r.time_s), fixed(r.heat_kwh, 2), fixed(r.input_kwh, 2),
                   fixed(r.heat_kwh / r.input_kwh, 2), cell(r.held_from_c, 1),
                   cell(r.cycles_from_c, 1)});
    out += "\nReheats, store mixed, its own losses left out\n" + table.text(a.form);
    out += "  held back from: store temperature above which the allowed flow temperature limits\n"
           "  the output; cycles from: above which the coil passes less than the source's least\n";
    for (const Reheat &r : a.reheats) {
        if (r.from_c != a.cold_c)
            continue;
        Table steps({{"store degC"},
                     {"min"},
                     {"flow degC"},
                     {"return degC"},
                     {"kW"},
                     {efficiency_head(a)},
                     {"", Align::Left}});
        for (const ReheatRow &row : r.rows)
            steps.row({fixed(row.store_c, 1), minutes(row.at_s), fixed(row.sent_c, 1),
                       fixed(row.back_c, 1), kw(row.heat_w), fixed(row.efficiency, 2),
                       fmt::format("{}{}",
                                   row.cycles ? "cycles"
                                   : row.held ? "held back"
                                              : "",
                                   row.within_rating ? "" : " (figures held at their end)")});
        out += fmt::format("\nAs the store warms, {}\n",
                           r.output_w ? fmt::format("source at {} kW", kw(*r.output_w))
                                      : "source at full output") +
               steps.text(a.form);
    }
}

void add_coils(const HotWaterAnswer &a, std::string &out) {
    Table table({{"flow degC"},
                 {efficiency_head(a)},
                 {"output kW"},
                 {"UA W/K"},
                 {"area m2"},
                 {"least kW"},
                 {"its UA W/K"},
                 {"its area m2"},
                 {"", Align::Left}});
    for (const CoilRow &row : a.coils)
        table.row({fixed(row.flow_c, 1), fixed(row.efficiency, 2), kw(row.greatest_w),
                   cell(row.ua_greatest_w_k, 0), cell(row.area_greatest_m2, 2), kw(row.least_w),
                   cell(row.ua_least_w_k, 0), cell(row.area_least_m2, 2),
                   row.within_rating ? "" : "figures held at their end"});
    if (!table.empty())
        out += fmt::format("\nCoil that takes the source's greatest, and its least, output to the "
                           "end at {:g} degC\n",
                           a.store_to_c) +
               table.text(a.form) +
               "  flow degC: in steps of 2.5 K above the store's end, as far as the source's "
               "figures go\n"
               "  -: no coil can at this flow of water, or no conductance is given for an area\n";
}

void add_rooms(const HotWaterAnswer &a, std::string &out) {
    if (a.rooms.empty() || a.reheats.empty())
        return;
    const Reheat *usual = nullptr;
    for (const Reheat &r : a.reheats)
        if (!r.output_w && r.from_c != a.cold_c)
            usual = &r;
    out += "\n" +
           wrapped(fmt::format("Hot water goes first on the diverter: rooms get no heat for {} "
                               "min in a reheat from cold{}",
                               minutes(a.reheats.front().time_s),
                               usual != nullptr
                                   ? fmt::format(", {} min in a usual one", minutes(usual->time_s))
                                   : ""));
    Table table(
        {{"room", Align::Left}, {"time constant h"}, {"falls K, from cold"}, {"falls K, usual"}});
    for (const RoomCooling &row : a.rooms)
        table.row({row.room, row.time_constant_h ? fixed(*row.time_constant_h, 0) : "unknown",
                   row.falls_k ? fixed(*row.falls_k, 2) : "unknown",
                   row.falls_usual_k ? fixed(*row.falls_usual_k, 2) : "unknown"});
    out += table.text(a.form) +
           "  on the design day, without gains; what a warm screed still gives "
           "comes off\n";
}

void add_day(const HotWaterAnswer &a, std::string &out) {
    if (!a.day)
        return;
    const UsualDay &day = *a.day;
    std::string line = fmt::format("A day's draw of {} l at {:g} degC: {:.2f} kWh",
                                   litres(day.draw_m3), day.draw_c, day.heat_kwh);
    if (day.reheats)
        line += fmt::format(", {:.1f} usual reheats, {:.1f} h without heat for the rooms, {:.2f} "
                            "kWh of {}",
                            *day.reheats, *day.time_s / models::seconds_per_hour, *day.input_kwh,
                            a.heat_pump ? "electricity" : "gas");
    out += "\n" + wrapped(line);
}

void add_pasteurising(const HotWaterAnswer &a, std::string &out) {
    if (!a.pasteurising)
        return;
    const PasteurisingAnswer &p = *a.pasteurising;
    Table table({{"pasteurising", Align::Left}, {"degC"}, {"min"}, {"heat kWh"}, {"input kWh"}});
    if (p.source_kwh > 0.0)
        table.row({"by the source", fmt::format("{:g} to {:g}", p.from_c, p.source_to_c),
                   minutes(p.source_s), fixed(p.source_kwh, 2), fixed(p.source_input_kwh, 2)});
    table.row({"by the immersion heater", fmt::format("{:g} to {:g}", p.source_to_c, p.to_c),
               p.direct_s ? minutes(*p.direct_s) : "unknown", fixed(p.direct_kwh, 2),
               fixed(p.direct_kwh, 2)});
    out += fmt::format("\nThrough to {:g} degC every {:g} d: {:.0f} kWh of heat a year, {:.0f} kWh "
                       "of input\n",
                       p.to_c, p.every_h / 24.0, p.year_heat_kwh, p.year_input_kwh) +
           table.text(a.form) +
           "  the heat is not lost: later draws use it; then the taps get hotter water\n";
}

void add_circuit(const HotWaterAnswer &a, std::string &out) {
    if (a.state.circuit.empty())
        return;
    Table table({{"through the coil", Align::Left},
                 {"piece", Align::Left},
                 {"m/s"},
                 {in_pressure(a.form, "loss")},
                 {in_pressure(a.form, "sum")}});
    double sum = 0.0;
    for (const CircuitStep &step : a.state.circuit) {
        sum += step.loss_pa;
        table.row({step.where, step.what,
                   step.velocity_m_s == 0.0 ? "-" : fixed(step.velocity_m_s, 2),
                   pressure(a.form, step.loss_pa, 2), pressure(a.form, sum, 2)});
    }
    out += "\nDiverter over, the coil at its flow\n" + table.text(a.form);
}

std::string text_report(const HotWaterAnswer &a) {
    std::string out = first_lines(a);
    if (a.reheats.empty())
        return out;
    add_summary(a, out);
    add_reheats(a, out);
    add_coils(a, out);
    add_rooms(a, out);
    add_day(a, out);
    add_pasteurising(a, out);
    add_circuit(a, out);
    if (!a.unknown.empty())
        out += "\nNot worked out\n" + bullets(a.unknown);
    return out + "\nCautions\n" + bullets(a.cautions);
}

} // namespace

std::string report(const HotWaterAnswer &answer, Format format) {
    return report_in(format, answer, text_report, hotwater_json, hotwater_csv);
}

} // namespace headroom::solver
