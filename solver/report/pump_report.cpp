#include "solver/report/pump_report.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string watts(double power_w) {
    return fixed(power_w, 1);
}

std::string whole(const std::optional<double> &value) {
    return value ? fixed(*value, 0) : "-";
}

std::string efficiency(const PumpPower &power) {
    return percent(power.efficiency) + (power.assumed ? " assumed" : "");
}

std::string as_found_line(const PumpAnswer &a) {
    const std::string draw =
        fmt::format("{} {} {:.0f} W as the house stands", a.pumps.size(),
                    a.pumps.size() == 1 ? "pump draws" : "pumps draw", a.electric_w);
    if (!a.year_kwh)
        return draw + "; no figure for the year: " + a.no_year;
    return draw +
           fmt::format(", {:.0f} kWh in {:.0f} h of heating a year", *a.year_kwh, *a.heating_h);
}

std::string setting_line(TextForm form, const CirculatorSetting &s) {
    if (s.flow_m3_s <= 0.0)
        return "the source's circulator alone: " + s.sentence;
    const std::string flow =
        flow_words(form, s.flow_m3_s, 1) +
        (s.below_least_flow()
             ? fmt::format(", the source's least flow, where loops and radiators with their valves "
                           "set want {}",
                           flow_words(form, s.design_m3_s, 1))
             : "");
    if (!s.enough)
        return fmt::format("the source's circulator alone gives {} at {}, {} short; it "
                           "would have to run at {} of full speed",
                           pressure_words(form, s.full.head_pa), flow,
                           pressure_words(form, s.needed_pa - s.full.head_pa),
                           percent(s.set.speed));
    std::string out = fmt::format(
        "the source's circulator alone: set it to {} at {}; {} of its full speed, {} W in place "
        "of {} with the same flow throttled",
        both_pressures(form, s.set.head_pa), flow, percent(s.set.speed),
        watts(s.set.power.electric_w), watts(s.full.power.electric_w));
    if (s.full.year_kwh && s.set.year_kwh)
        out += fmt::format(", {:.0f} kWh a year in place of {:.0f}", *s.set.year_kwh,
                           *s.full.year_kwh);
    return out;
}

// What the circuits draw from the header, or the source's own least flow.
std::string into_header(const PumpAnswer &a) {
    const double drawn_m3_s = a.header_set->secondary_m3_s;
    const double least_m3_s = a.least_flow_m3_s.value_or(0.0);
    if (drawn_m3_s >= least_m3_s)
        return flow_words(a.form, drawn_m3_s, 1) + " into the header";
    return fmt::format("{} into the header: its own least flow, of which the circuits draw {}",
                       flow_words(a.form, least_m3_s, 1), flow_words(a.form, drawn_m3_s, 1));
}

std::string needs_line(const PumpAnswer &a) {
    std::string out;
    for (const PumpNeed &need : a.needs)
        if (need.needed_pa)
            out += fmt::format("{}`{}` {} at {}", out.empty() ? "" : ", ", need.name,
                               flow_words(a.form, need.flow_m3_s, 1),
                               pressure_words(a.form, *need.needed_pa));
    if (a.header_set)
        out += "; the source at least " + into_header(a);
    return out.empty() ? out : wrapped("with its pumps kept and the valves set: " + out, "  ");
}

std::string first_lines(const PumpAnswer &a) {
    std::string out = a.house + "\n" + wrapped(as_found_line(a), "  ") + needs_line(a) +
                      wrapped(setting_line(a.form, a.setting), "  ");
    if (a.setting.flow_m3_s > 0.0)
        out += wrapped("`drive` says: " + a.setting.sentence, "  ");
    return out;
}

std::string duties(const PumpAnswer &a) {
    Table duty({{"pump", Align::Left},
                {"runs at", Align::Left},
                {flow_unit(a.form)},
                {pressure_head(a.form)},
                {"m"},
                {"speed"},
                {"inlet bar"}});
    Table power({{"pump", Align::Left},
                 {"to water W"},
                 {"shaft W"},
                 {"electric W"},
                 {"wire to water"},
                 {"kWh a year"},
                 {"energy index"}});
    for (const PumpReport &pump : a.pumps) {
        const PumpDuty &d = pump.duty;
        duty.row({d.where, d.mode, flow(a.form, d.flow_m3_s), pressure(a.form, d.rise_pa, 2),
                  metres_head(d.rise_pa), percent(d.speed),
                  d.inlet_known ? bar(d.inlet_pa) : "not known"});
        power.row({d.where, watts(d.power.hydraulic_w), watts(d.power.shaft_w),
                   watts(d.power.electric_w), efficiency(d.power), whole(pump.year_kwh),
                   d.eei ? fixed(*d.eei, 2) : "not given"});
    }
    if (a.form.metres_head)
        duty.drop("m");
    return "\nPumps as the house stands\n" + duty.text(a.form) + "\nTheir power\n" +
           power.text(a.form) +
           "  speed: of the curve through the duty, by affinity; energy index: EEI, where the file "
           "gives it\n";
}

std::string setting(const PumpAnswer &a) {
    const CirculatorSetting &s = a.setting;
    Table table({{"the source's circulator alone", Align::Left},
                 {pressure_head(a.form)},
                 {"m"},
                 {in_pressure(a.form, "curve")},
                 {"speed"},
                 {"to water W"},
                 {"electric W"},
                 {"kWh a year"}});
    const auto add = [&](const std::string &what, const CirculatorPoint &point) {
        table.row({what, pressure(a.form, point.head_pa), metres_head(point.head_pa),
                   pressure(a.form, point.rise_pa), percent(point.speed),
                   watts(point.power.hydraulic_w), watts(point.power.electric_w),
                   whole(point.year_kwh)});
    };
    add("full speed, valves take the rest", s.full);
    add(s.enough ? "turned down" : "what it would have to give", s.set);
    if (a.form.metres_head)
        table.drop("m");
    std::string out = (s.below_least_flow() ? "\nSetting at the source's least flow of "
                                            : "\nSetting at the design flow of ") +
                      flow_words(a.form, s.flow_m3_s, 1) + "\n" + table.text(a.form);
    if (s.enough)
        out +=
            fmt::format("  saved against that flow throttled at full speed: {} W{}\n",
                        watts(s.full.power.electric_w - s.set.power.electric_w),
                        s.full.year_kwh && s.set.year_kwh
                            ? fmt::format(", {:.0f} kWh a year", *s.full.year_kwh - *s.set.year_kwh)
                            : "");
    out += a.form.metres_head ? "  m stands" : "  kPa and m stand";
    out += s.external ? " outside the source, and so does its curve\n"
                      : " outside the source; curve: with what its inner parts take\n";
    if (s.throttled_kwh)
        out += fmt::format("  kWh: at this duty all through the heating year; turned down and with "
                           "thermostats\n  that pass what the weather asks for: {:.0f} kWh\n",
                           *s.throttled_kwh);
    if (s.below_least_flow() && s.balanced_pa > 0.0)
        out += wrapped(fmt::format("  while the valves are set, with the source's heat off: {} "
                                   "with {}, each loop and radiator at its design flow (`headroom "
                                   "balance`)",
                                   both_pressures(a.form, s.balanced_pa),
                                   flow_words(a.form, s.design_m3_s, 1)),
                       "  ");
    if (s.below_least_flow())
        out += "  thermostats that close take it below the least flow again, unless a buffer, a "
               "bypass or loops\n  that stay open carry the rest\n";
    constexpr double least_real_w = 3.0;
    if (s.enough && s.set.power.electric_w < least_real_w)
        out += "  a real circulator draws a few watts even at its least speed (common practice, no "
               "source)\n";
    return out;
}

std::string curves(const PumpAnswer &a) {
    std::string out;
    for (const SystemCurve &curve : a.curves) {
        Table table({{flow_unit(a.form)},
                     {in_pressure(a.form, "system needs")},
                     {"full speed gives"},
                     {"set speed gives"},
                     {"meets", Align::Left}});
        for (const SystemPoint &point : curve.points)
            table.row({flow(a.form, point.flow_m3_s), pressure(a.form, point.needs_pa, 2),
                       pressure(a.form, point.full_pa, 2), pressure(a.form, point.set_pa, 2),
                       point.crossing});
        out += fmt::format("\nCurve against system, {}, running free\n", curve.state) +
               table.text(a.form);
    }
    return out;
}

std::string candidates(const PumpAnswer &a) {
    if (a.candidates.empty() || a.setting.flow_m3_s <= 0.0)
        return {};
    Table table({{"circulator", Align::Left},
                 {in_pressure(a.form, "gives")},
                 {in_pressure(a.form, "over need")},
                 {"set to speed"},
                 {"set W"},
                 {"full speed W"},
                 {"enough", Align::Left}});
    for (const Candidate &c : a.candidates)
        table.row({c.model, pressure(a.form, c.gives_pa), signed_pressure(a.form, c.excess_pa),
                   c.enough ? percent(c.speed) : "-", c.enough ? watts(c.set.electric_w) : "-",
                   watts(c.full.electric_w),
                   c.enough ? "yes"
                   : c.beyond_curve
                       ? "no, flow past its curve"
                       : fmt::format("no, {} short", pressure_words(a.form, -c.excess_pa))});
    return fmt::format("\nCirculators of the catalogue at {}, {} needed\n",
                       flow_words(a.form, a.setting.flow_m3_s, 1),
                       pressure_words(a.form, a.setting.needed_pa)) +
           table.text(a.form) +
           (a.setting.external
                ? "  what the source's inner parts would take of these curves is not "
                  "in the file and not taken off\n"
                : "");
}

std::string needs(const PumpAnswer &a) {
    if (a.needs.empty())
        return {};
    Table table({{"pump", Align::Left},
                 {flow_unit(a.form)},
                 {in_pressure(a.form, "needs")},
                 {"m"},
                 {"set to", Align::Left}});
    for (const PumpNeed &need : a.needs)
        table.row({need.name, flow(a.form, need.flow_m3_s),
                   need.needed_pa ? pressure(a.form, *need.needed_pa) : "-",
                   need.needed_pa ? metres_head(*need.needed_pa) : "-",
                   !need.driven           ? "too weak"
                   : need.setting.empty() ? "no loop or radiator of its own; see the header"
                                          : need.setting});
    if (a.form.metres_head)
        table.drop("m");
    return "\nWhat each pump has to do at the design flows, header and mixers kept, valves set\n" +
           table.text(a.form) + "  the valves' settings: `headroom balance`\n";
}

std::string header(const PumpAnswer &a, const HeaderFlows &h, const std::string &title) {
    const TextForm form = a.form;
    Table table({{h.name, Align::Left}, {flow_unit(form)}, {"flow degC"}, {"return degC"}});
    table.row({"primary, from the source", flow(form, h.primary_m3_s), fixed(h.primary_flow_c, 2),
               fixed(h.primary_return_c, 2)});
    table.row({"secondary", flow(form, h.secondary_m3_s), fixed(h.secondary_flow_c, 2),
               fixed(h.secondary_return_c, 2)});
    std::string out = "\n" + title + "\n" + table.text(form);
    if (h.through_m3_s > 0.0)
        out += fmt::format("  {} short-circuit from flow to return: the primary's return comes "
                           "back {:.2f} K warmer\n",
                           flow_words(form, h.through_m3_s, 1),
                           h.primary_return_c - h.secondary_return_c);
    else
        out += fmt::format("  {} short-circuit from return to flow: the secondary's flow is "
                           "{:.2f} K cooler than sent\n",
                           flow_words(form, -h.through_m3_s, 1),
                           h.primary_flow_c - h.secondary_flow_c);
    out +=
        fmt::format("  velocity in it {:.3f} m/s; the larger flow over its bore {:.3f} ({} {:g}, "
                    "common practice)\n",
                    h.velocity_m_s, h.whole_velocity_m_s,
                    h.whole_velocity_m_s > quiet_header_m_s ? "above" : "within", quiet_header_m_s);
    if (!h.balance_pa)
        return out + "  no head at the source's connections makes primary and secondary equal\n";
    out += fmt::format("  primary equals secondary at {} and {}: {:.2f} degC to the "
                       "secondary\n",
                       both_pressures(form, *h.balance_pa), flow_words(form, h.balance_m3_s, 1),
                       h.balance_flow_c);
    if (h.balance_m3_s < a.least_flow_m3_s.value_or(0.0))
        return out + fmt::format("  no setting for this source: its least flow is {}\n",
                                 flow_words(form, *a.least_flow_m3_s, 1));
    if (h.balance_available_pa < *h.balance_pa)
        return out + fmt::format("  the circulator gives {} there: it cannot\n",
                                 pressure_words(form, h.balance_available_pa));
    return out + fmt::format("  the circulator at {} of full speed does that, with {} W\n",
                             percent(h.balance_speed), watts(h.balance_power.electric_w));
}

std::string text_report(const PumpAnswer &a) {
    std::string out = first_lines(a) + duties(a);
    out += needs(a);
    if (a.header_set)
        out += header(a, *a.header_set, "Header, pumps and valves set so");
    if (a.header)
        out += header(a, *a.header, "Header, as the house stands, rooms at set temperature") +
               "  `headroom flows` lets rooms settle where output meets loss; its returns and what "
               "its\n  mixers draw differ by that\n";
    if (a.setting.flow_m3_s > 0.0)
        out += setting(a) + candidates(a) + curves(a);
    if (!a.assumed.empty())
        out += "\nAssumed\n" + bullets(a.assumed);
    if (!a.remarks.empty())
        out += "\nRemarks\n" + bullets(a.remarks);
    return out + "\nCautions\n" + bullets(a.cautions) +
           "  circulators of the catalogue are invented\n";
}

} // namespace

std::string report(const PumpAnswer &answer, Format format) {
    return report_in(format, answer, text_report, pump_json, pump_csv);
}

} // namespace headroom::solver
