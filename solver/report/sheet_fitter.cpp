// What the fitter takes along: settings, order of work, columns for readings.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

// The most throttled first: its setting moves the others most.
std::vector<std::size_t> setting_order(const DriveAnswer &drive) {
    std::vector<std::size_t> order(drive.emitters.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return drive.emitters[a].surplus_pa > drive.emitters[b].surplus_pa;
    });
    return order;
}

std::string settings(const DriveAnswer &drive) {
    HtmlTable table("Settings, in the order to make them", {{"loop or radiator", "", false},
                                                            {"design flow", "l/min"},
                                                            {"set Kv", "m³/h"},
                                                            {"takes", "kPa"},
                                                            {"turns set", "", false, true},
                                                            {"flow read", "l/min", false, true},
                                                            {"flow °C", "", false, true},
                                                            {"return °C", "", false, true}});
    for (const std::size_t i : setting_order(drive)) {
        const EmitterRow &row = drive.emitters[i];
        if (row.heat_leak)
            continue;
        table.row({row.name, fixed(row.design_l_min, 2),
                   row.valve_kv_m3_h > 0.0 ? fixed(row.valve_kv_m3_h, 3) +
                                                 (row.valve_in_range ? "" : " (below its range)")
                                           : "–",
                   kpa(row.surplus_pa)});
    }
    return table.html();
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
    if (drive.set_pa > 0.0) {
        out.push_back(fmt::format("Set the circulator to give {} kPa ({} m) outside the source; at "
                                  "full speed it has {} kPa there.",
                                  kpa(drive.set_pa), metres_head(drive.set_pa),
                                  kpa(drive.available_pa)));
        out.push_back("Set each valve from the table, top to bottom, then read every flow meter. "
                      "Go round once more: each turn moves the others a little.");
        out.push_back(fmt::format("With all set, the source should pass {} l/min, and each loop or "
                                  "radiator its design flow within a tenth.",
                                  fixed(drive.source_l_min, 1)));
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
    const DriveAnswer &drive = answer.drive;
    table.row({"flow at the source, l/min", fixed(drive.source_l_min, 1)});
    table.row(
        {"circulator, setting or display", drive.set_pa > 0.0 ? kpa(drive.set_pa) + " kPa" : "–"});
    table.row({"flow temperature at the source, °C", fixed(drive.flow_temperature_c, 1)});
    table.row({"return temperature at the source, °C", fixed(drive.return_temperature_c, 1)});
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
    if (answer.drive.verdict != Verdict::Yes)
        out += paragraph("The verdict is not a yes. Settle what has to change, and make this sheet "
                         "anew, before work begins.",
                         "caution");
    for (const EmitterRow &row : answer.drive.emitters)
        if (row.heat_leak)
            out +=
                paragraph(fmt::format("`{}` is the heat leak of the solid-fuel source. Its valves "
                                      "stay fully open: it is not in the table of settings.",
                                      row.name),
                          "caution");
    if (answer.drawing && !answer.drawing->as_set && answer.drive.set_pa > 0.0)
        out += paragraph("The settings are for the source's circulator alone: other pumps and "
                         "mixers taken out, a header bridged.",
                         "caution");
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
    out += settings(answer.drive) + readings(answer);
    out += "<div class=\"caution\">\n" + bullets(answer.cautions) + "</div>\n";
    return out + "</section>\n";
}

} // namespace headroom::solver
