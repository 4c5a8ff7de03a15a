#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string bar2(double pressure_pa) {
    return fixed(pressure_pa * 1e-5, 2);
}

std::string usual_size_words(const FillPressure &pressure) {
    if (!pressure.smaller_m3)
        return "the next usual size";
    return fmt::format("the least usual size that can be filled to the file's {} bar; {:.3g} l "
                       "hold the growth too, filled to {} to {} bar",
                       bar2(*pressure.given_pa), *pressure.smaller_m3 * 1e3,
                       bar2(pressure.smaller_range.least_pa), bar2(pressure.smaller_range.most_pa));
}

std::string first_lines(const FillAnswer &a) {
    std::string sentence = fmt::format("{} l of {} in the system", litres(a.system_m3), a.fluid);
    if (a.pressure.vessel_m3 > 0.0)
        sentence += fmt::format("; it takes a vessel of at least {} l, precharged to {} bar, "
                                "filled cold to {} to {} bar",
                                litres(a.size.volume_m3, 1), bar2(a.size.precharge_pa),
                                bar2(a.pressure.range.least_pa), bar2(a.pressure.range.most_pa));
    std::string out = a.house + "\n" + wrapped(sentence);
    for (const std::string &fault : a.faults)
        out += wrapped("  but: " + fault, "       ");
    return out;
}

void add_pressures(const FillAnswer &a, std::string &out) {
    const auto line = [&](std::string_view what, const std::string &value) {
        out += wrapped(fmt::format("  {:<22} {}", what, value), std::string(25, ' '));
    };
    out += "\n";
    line("grows by",
         fmt::format("{} l, {:.2f} % from {:g} to {:.1f} degC ({})", litres(a.size.expansion_m3, 2),
                     100.0 * a.expansion_share, a.cold_c, a.hot_c, a.hot_by));
    line("reserve", litres(a.size.reserve_m3, 1) + " l in the vessel, cold");
    line("safety valve",
         bar2(a.safety_valve_pa) + " bar, so at most " + bar2(a.size.final_pa) + " bar when hot");
    line("high point",
         fmt::format("{}, {:.1f} m above the vessel", a.high.where, a.high.above_vessel_m));
    if (a.pressure.vessel_m3 > 0.0)
        line("vessel",
             fmt::format("{:.3g} l, {}", a.pressure.vessel_m3 * 1e3,
                         !a.pressure.vessel_given   ? usual_size_words(a.pressure)
                         : a.pressure.vessel_enough ? std::string("as in the file, enough")
                                                    : "as in the file, too small"));
    if (a.pressure.given_pa)
        line("filled to", fmt::format("{} bar cold{}", bar2(*a.pressure.given_pa),
                                      a.pressure.hot_pa
                                          ? fmt::format(", {} bar when hot, if precharged as above",
                                                        bar2(*a.pressure.hot_pa))
                                          : ""));
    if (a.high.still_pa)
        line("at the high point",
             fmt::format("{} bar with the pump off{}; wanted {} bar", bar2(*a.high.still_pa),
                         a.high.running_pa
                             ? fmt::format(", {} bar with it on", bar2(*a.high.running_pa))
                             : "",
                         bar2(a.high.wanted_pa)));
    if (a.glycol_m3)
        line("glycol", fmt::format("{} l, {:.1f} % of the volume", litres(*a.glycol_m3, 1),
                                   100.0 * *a.glycol_volume_share));
    if (a.inhibitor_m3)
        line("inhibitor", fmt::format("{} l, {:g} % of the volume", litres(*a.inhibitor_m3, 2),
                                      100.0 * *a.inhibitor_share));
    line("always open",
         litres(a.open.always_m3) + " l with every zone shut" +
             (a.open.wanted_low_m3
                  ? fmt::format("; wanted {}{} l ({})", litres(*a.open.wanted_low_m3),
                                *a.open.wanted_low_m3 < *a.open.wanted_high_m3
                                    ? " to " + litres(*a.open.wanted_high_m3)
                                    : "",
                                a.open.wanted_by)
                  : ""));
}

void add_volumes(const FillAnswer &a, std::string &out) {
    Table table({{"part", Align::Left}, {"litres"}, {"share"}, {"always open", Align::Left}});
    for (const VolumePart &part : a.parts)
        table.row({part.what, litres(part.volume_m3, 1), percent(part.volume_m3 / a.system_m3),
                   part.open_always ? "yes" : "no"});
    if (a.other_m3)
        table.row({"source, coil and other parts as stated", litres(*a.other_m3, 1),
                   percent(*a.other_m3 / a.system_m3), "-"});
    out += "\nWater by part\n" + table.text(a.form);
}

void add_flushing(const FillAnswer &a, std::string &out) {
    Table table({{"pipe of", Align::Left},
                 {"pipe", Align::Left},
                 {flow_unit(a.form)},
                 {"m/s"},
                 {"carries air", Align::Left},
                 {in_flow(a.form, "flush")},
                 {pressure_head(a.form) + " then"}});
    for (const FlushRow &row : a.flushing)
        table.row({row.where, row.pipe, flow(a.form, row.flow_m3_s), fixed(row.velocity_m_s, 2),
                   row.carries_air ? "yes" : "no", flow(a.form, row.flush_m3_s, 1),
                   pressure(a.form, row.flush_loss_pa)});
    out += fmt::format("\nFlows at the design state, and flushing at {:g} m/s\n", a.flush_m_s) +
           table.text(a.form);
    out += fmt::format("  carries air: at least {:g} m/s, at which water takes bubbles downwards "
                       "with it; where it\n"
                       "  does not, air is driven out while flushing, loop by loop, and collects "
                       "at high points\n"
                       "  {} then: loss of that pipe alone, cold water\n",
                       a.flush_m_s, pressure_head(a.form));
}

std::string text_report(const FillAnswer &a) {
    std::string out = first_lines(a);
    add_pressures(a, out);
    add_volumes(a, out);
    add_flushing(a, out);
    Table assumed({{"what the file did not say", Align::Words},
                   {"taken as", Align::Words},
                   {"could be", Align::Words},
                   {"", Align::Words}});
    for (const AssumedValue &row : a.assumed)
        assumed.row({row.what, row.value, row.range, row.remark});
    if (!assumed.empty())
        out += "\nAssumed (common practice, no source)\n" + assumed.text(a.form);
    out += "\nVessel, reserve and pressures by EN 12828 annex D, from memory; usual vessel sizes "
           "are\ncommon practice\n";
    if (!a.remarks.empty())
        out += "\nRemarks\n" + bullets(a.remarks);
    return out + "\nCautions\n" + bullets(a.cautions);
}

Json json_report(const FillAnswer &a) {
    Json j = json_head("fill", a.house);
    j["fluid"] = a.fluid;
    j["system_m3"] = a.system_m3;
    j["other_water_m3"] = optional_json(a.other_m3);
    j["cold_c"] = a.cold_c;
    j["hot_c"] = a.hot_c;
    j["hot_by"] = a.hot_by;
    j["expansion_share"] = a.expansion_share;
    j["expansion_m3"] = a.size.expansion_m3;
    j["reserve_m3"] = a.size.reserve_m3;
    j["safety_valve_pa"] = a.safety_valve_pa;
    j["precharge_pa"] = a.size.precharge_pa;
    j["final_pa"] = a.size.final_pa;
    const bool fits = a.pressure.vessel_m3 > 0.0;
    j["least_vessel_m3"] = fits ? Json(a.size.volume_m3) : Json();
    j["vessel_m3"] = fits ? Json(a.pressure.vessel_m3) : Json();
    j["vessel_given"] = a.pressure.vessel_given;
    j["vessel_enough"] = a.pressure.vessel_enough;
    j["fill_least_pa"] = fits ? Json(a.pressure.range.least_pa) : Json();
    j["fill_most_pa"] = fits ? Json(a.pressure.range.most_pa) : Json();
    j["fill_given_pa"] = optional_json(a.pressure.given_pa);
    j["hot_pa"] = optional_json(a.pressure.hot_pa);
    j["high_point"] = {{"where", a.high.where},
                       {"above_vessel_m", a.high.above_vessel_m},
                       {"still_pa", optional_json(a.high.still_pa)},
                       {"running_pa", optional_json(a.high.running_pa)},
                       {"wanted_pa", a.high.wanted_pa},
                       {"levels_given", a.levels_given}};
    j["open_volume"] = {{"always_m3", a.open.always_m3},
                        {"wanted_low_m3", optional_json(a.open.wanted_low_m3)},
                        {"wanted_high_m3", optional_json(a.open.wanted_high_m3)},
                        {"wanted_by", a.open.wanted_by}};
    j["inhibitor_m3"] = optional_json(a.inhibitor_m3);
    j["inhibitor_share"] = optional_json(a.inhibitor_share);
    j["glycol_m3"] = optional_json(a.glycol_m3);
    j["glycol_volume_share"] = optional_json(a.glycol_volume_share);
    j["parts"] = Json::array();
    for (const VolumePart &part : a.parts)
        j["parts"].push_back({{"part", part.what},
                              {"volume_m3", part.volume_m3},
                              {"always_open", part.open_always}});
    j["flush_velocity_m_s"] = a.flush_m_s;
    j["flushing"] = Json::array();
    for (const FlushRow &row : a.flushing)
        j["flushing"].push_back({{"where", row.where},
                                 {"piece", row.pipe},
                                 {"flow_m3_s", row.flow_m3_s},
                                 {"velocity_m_s", row.velocity_m_s},
                                 {"carries_air", row.carries_air},
                                 {"flush_flow_m3_s", row.flush_m3_s},
                                 {"flush_loss_pa", row.flush_loss_pa}});
    j["assumed"] = Json::array();
    for (const AssumedValue &row : a.assumed)
        j["assumed"].push_back({{"what", row.what},
                                {"value", row.value},
                                {"range", row.range},
                                {"remark", row.remark}});
    j["faults"] = a.faults;
    j["remarks"] = a.remarks;
    j["cautions"] = a.cautions;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string csv_report(const FillAnswer &a) {
    std::string out = csv_record(
        {"where", "piece", "flow_m3_s", "velocity_m_s", "flush_flow_m3_s", "flush_loss_pa"});
    for (const FlushRow &row : a.flushing)
        out += csv_record({row.where, row.pipe, number(row.flow_m3_s), number(row.velocity_m_s),
                           number(row.flush_m3_s), number(row.flush_loss_pa)});
    return out;
}

} // namespace

std::string report(const FillAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
