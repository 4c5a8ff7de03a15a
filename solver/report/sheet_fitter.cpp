// What the fitter takes along: settings, order of work, columns for readings.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

namespace headroom::solver {
namespace {

double l_min(double flow_m3_s) {
    return flow_m3_s * 6.0e4;
}

std::string valve_settings(const SiteSettings &settings) {
    HtmlTable table("Settings, in the order to make them", {{"loop or radiator", "", false},
                                                            {"design flow", "l/min"},
                                                            {"set Kv", "m³/h"},
                                                            {"takes", "kPa"},
                                                            {"turns set", "", false, true},
                                                            {"flow read", "l/min", false, true},
                                                            {"flow °C", "", false, true},
                                                            {"return °C", "", false, true}});
    for (const std::size_t i : settings.order) {
        const SiteValve &valve = settings.valves[i];
        if (valve.heat_leak)
            continue;
        table.row({valve.name, fixed(l_min(valve.design_m3_s), 2),
                   valve.kv_m3_h
                       ? fixed(*valve.kv_m3_h, 3) + (valve.in_range ? "" : " (below its range)")
                       : "–",
                   kpa(valve.takes_pa)});
    }
    return table.html();
}

// What the pumps are turned down to.
std::vector<std::string> pump_settings(const SheetAnswer &answer) {
    const SiteSettings &settings = answer.settings;
    std::vector<std::string> out;
    for (const SitePump &pump : settings.pumps)
        if (settings.least_flow)
            continue; // after the valves
        else if (settings.scope == BalanceScope::SingleCirculator)
            out.push_back(fmt::format("Set the circulator to give {} kPa ({} m) outside the "
                                      "source; at full speed it has {} kPa there.",
                                      kpa(pump.set_pa), metres_head(pump.set_pa),
                                      kpa(answer.drive.available_pa)));
        else if (pump.setting.empty())
            out.push_back(fmt::format("Leave {} as it is: {} l/min pass it.", pump.title,
                                      fixed(l_min(pump.flow_m3_s), 1)));
        else
            out.push_back(fmt::format("Set {} to {}: {} kPa at {} l/min{}.", pump.title,
                                      pump.setting, kpa(pump.set_pa),
                                      fixed(l_min(pump.flow_m3_s), 1),
                                      pump.driven ? "" : "; it does not drive all that it is for"));
    return out;
}

std::vector<std::string> work(const SheetAnswer &answer) {
    const DriveAnswer &drive = answer.drive;
    std::vector<std::string> out{
        "Before filling: check pipe sizes, loop lengths and the pump against this sheet. A loop "
        "that is longer, or a pipe that is narrower, changes the verdict.",
        "Flush, pressure-test, clean the strainer and the filter.",
        answer.glycol ? "Fill with " + drive.fluid + " and note the strength measured."
                      : "Fill with treated water and note its quality.",
        "Vent loop by loop with the others shut, then open all.",
        "Open every zone, valve and actuator by hand."};
    const std::vector<std::string> pumps = pump_settings(answer);
    out.insert(out.end(), pumps.begin(), pumps.end());
    const std::optional<SourceSetting> &least = answer.settings.least_flow;
    if (least)
        out.push_back(fmt::format("With the source's heat off, set the circulator to give {} kPa "
                                  "({} m) outside the source, for setting the valves.",
                                  kpa(least->balanced.set_pa),
                                  metres_head(least->balanced.set_pa)));
    if (!pumps.empty() || least) {
        out.push_back("Set each valve from the table, top to bottom, then read every flow meter. "
                      "Go round once more: each turn moves the others a little.");
        out.push_back(fmt::format("With all set, the source should pass {} l/min, and each loop or "
                                  "radiator its design flow within a tenth.",
                                  fixed(l_min(answer.settings.source_m3_s), 1)));
        if (least)
            out.push_back(
                least->enough()
                    ? fmt::format("Then turn the circulator up to {} kPa ({} m): the source gets "
                                  "its least flow of {} l/min.",
                                  kpa(least->set_pa), metres_head(least->set_pa),
                                  fixed(l_min(least->flow_m3_s), 1))
                    : fmt::format("Then turn the circulator up to its most; even that does not "
                                  "pass the source's least flow of {} l/min.",
                                  fixed(l_min(least->flow_m3_s), 1)));
    } else {
        out.push_back(
            "The circulator does not drive this house as planned; make the changes first. "
            "Flows are given, settings are not.");
    }
    out.push_back("Set the flow limit and the high-limit stat of the floors, and try the stat: it "
                  "must stop heat.");
    out.push_back("Set the weather curve, start up, read temperatures when steady, sign below.");
    return out;
}

std::string readings(const SheetAnswer &answer) {
    HtmlTable table("Readings of the whole",
                    {{"what", "", false}, {"planned", "", false}, {"read", "", false, true}});
    const SiteSettings &settings = answer.settings;
    table.row({"flow at the source, l/min", fixed(l_min(settings.source_m3_s), 1)});
    for (const SitePump &pump : settings.pumps)
        table.row({pump.title + ", setting or display", kpa(pump.set_pa) + " kPa"});
    if (settings.pumps.empty())
        table.row({"the source's circulator, setting or display", "–"});
    table.row({"flow temperature at the source, °C", fixed(settings.flow_c, 1)});
    table.row({"return temperature at the source, °C", fixed(settings.return_c, 1)});
    table.row({"outside temperature while reading, °C", "–"});
    if (answer.fill) {
        const FillPressure &pressure = answer.fill->pressure;
        table.row({"water in the system, l", fixed(answer.fill->system_m3 * 1e3, 0)});
        table.row({"vessel's precharge, bar", fixed(answer.fill->size.precharge_pa * 1e-5, 2)});
        table.row({"cold fill pressure at the vessel, bar",
                   fmt::format("{} to {}", fixed(pressure.range.least_pa * 1e-5, 2),
                               fixed(pressure.range.most_pa * 1e-5, 2))});
    } else {
        table.row({"cold fill pressure, bar", "–"});
    }
    table.row({"high-limit stat tried", "–"});
    table.row({"name, date", ""});
    return table.html();
}

std::string what_it_is_for(const SheetAnswer &answer) {
    std::string out;
    if (answer.drive.verdict != Verdict::Yes &&
        answer.settings.scope == BalanceScope::SingleCirculator)
        out += paragraph("The verdict is not a yes. Settle what has to change, and make this sheet "
                         "anew, before work begins.",
                         "caution");
    for (const SiteValve &row : answer.settings.valves)
        if (row.heat_leak)
            out +=
                paragraph(fmt::format("`{}` is the heat leak of the solid-fuel source. Its valves "
                                      "stay fully open: it is not in the table of settings.",
                                      row.name),
                          "caution");
    if (!answer.settings.pumps.empty() && !(answer.drawing && answer.drawing->as_set))
        out += paragraph("The settings are for " + answer.settings.house + ".", "caution");
    return out;
}

} // namespace

std::string sheet_fitter(const SheetAnswer &answer) {
    std::string out = "<section id=\"fitter\" class=\"page\">\n<h2>For the fitter</h2>\n";
    out += what_it_is_for(answer) + "<h3>Order of work</h3>\n" + bullets(work(answer), true);
    out += paragraph("The order is common practice, without a source.", "note");
    out += "<h3>Settings</h3>\n";
    out += paragraph("How to read it. Kv is the flow in m³/h that loses 1 bar; take the turns from "
                     "the maker's chart of the valve at hand. Takes: pressure that the valve "
                     "destroys beyond its open loss. Empty columns are for what you set and read.");
    out += valve_settings(answer.settings) + readings(answer);
    out += "<div class=\"caution\">\n" + bullets(answer.cautions) + "</div>\n";
    return out + "</section>\n";
}

} // namespace headroom::solver
