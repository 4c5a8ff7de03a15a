// Drawings of the system with the tables behind them.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/sheet_parts.hpp"

namespace headroom::solver {
namespace {

std::string dash_if_zero(double value, const std::string &text) {
    return value == 0.0 ? "–" : text;
}

std::string drawing_part(const HouseDrawing &drawing) {
    const std::string state =
        drawing.as_set
            ? "Drawn with the valves set as in the fitter's table and the circulator turned down."
            : "Drawn as the file has the house, with its own pumps, mixers and valves, all running "
              "free.";
    std::string out = figure(
        "figure-schematic", "The system", draw_schematic(drawing),
        state +
            " Water leaves the source at the left. Solid lines carry flow, dashed lines return; "
            "the thicker, the more water. Figures are l/min and °C. The band "
            "marks the index circuit, the one that is hardest to drive.",
        true);
    if (const std::string single = draw_single_pipes(drawing); !single.empty())
        out +=
            figure("figure-single-pipes", "Pipes from point to point", single,
                   "An upright bar is a point where pipes meet; a level line joins two points "
                   "only where it has a dot. A run of two pipes that closes a ring is drawn by its "
                   "flow alone. Figures are l/min and °C.",
                   true);
    return out;
}

std::string circuit_table(const DriveAnswer &drive) {
    HtmlTable table("The index circuit, piece by piece, at the design flow",
                    {{"no.", ""},
                     {"along the circuit", "", false},
                     {"piece", "", false},
                     {"speed", "m/s"},
                     {"loss", "kPa"},
                     {"sum", "kPa"}});
    double sum = 0.0;
    int number = 0;
    for (const CircuitStep &step : drive.index_circuit) {
        sum += step.loss_pa;
        table.row({fmt::format("{}", ++number), step.where, step.what,
                   dash_if_zero(step.velocity_m_s, fixed(step.velocity_m_s, 2)), kpa2(step.loss_pa),
                   kpa2(sum)});
    }
    return table.html();
}

std::string emitters_table(const DriveAnswer &drive) {
    HtmlTable table("Every loop and radiator at its design flow", {{"loop or radiator", "", false},
                                                                   {"heat", "W"},
                                                                   {"at a drop of", "K"},
                                                                   {"drop", "K"},
                                                                   {"flow", "l/min"},
                                                                   {"speed", "m/s"},
                                                                   {"loss open", "kPa"},
                                                                   {"throttled", "kPa"},
                                                                   {"gets", "of design"},
                                                                   {"cold start", "of design"}});
    for (const EmitterRow &row : drive.emitters)
        table.row({row.name, fixed(row.heat_w, 0), fixed(row.drop_k, 1), fixed(row.design_l_min, 2),
                   dash_if_zero(row.velocity_m_s, fixed(row.velocity_m_s, 2)),
                   kpa2(row.own_loss_pa), kpa2(row.surplus_pa), percent(row.reaches_share),
                   percent(row.cold_share)});
    return table.html() +
           paragraph("Gets: share of the design flow with the circulator at full speed and the "
                     "others throttled to theirs. Cold start: with the settings and the circulator "
                     "turned down.",
                     "note");
}

std::string states_table(const DriveAnswer &drive) {
    HtmlTable table("States of the house", {{"state", "", false},
                                            {"flow", "l/min"},
                                            {"needed", "kPa"},
                                            {"available", "kPa"},
                                            {"headroom", "kPa"},
                                            {"judged by", "", false},
                                            {"result", "", false}});
    std::vector<std::string> remarks;
    for (const StateRow &row : drive.states) {
        table.row({row.state, fixed(row.source_l_min, 1),
                   dash_if_zero(row.needed_pa, kpa(row.needed_pa)),
                   dash_if_zero(row.available_pa, kpa(row.available_pa)),
                   dash_if_zero(row.headroom_pa, signed_kpa(row.headroom_pa)), row.judged_by,
                   !row.decides()       ? "–"
                   : !row.fault.empty() ? "fails"
                   : !row.doubt.empty() ? "in doubt"
                                        : "good"});
        for (const std::string *text : {&row.fault, &row.doubt, &row.remark})
            if (!text->empty())
                remarks.push_back(row.state + ": " + *text);
    }
    return table.html() + bullets(remarks);
}

std::string changes_table(const DriveAnswer &drive) {
    if (!drive.changes || drive.changes->sets.empty())
        return {};
    HtmlTable table(
        "Least changes that make it a yes: any one of these",
        {{"changes", "", false},
         {"cost", drive.changes->currency.empty() ? "relative" : drive.changes->currency},
         {"headroom", "kPa"},
         {"at least", "kPa"},
         {"water sent", "°C"}});
    for (const ChangeSet &set : drive.changes->sets) {
        std::string words;
        for (const std::string &change : set.changes)
            words += (words.empty() ? "" : "; and ") + change;
        table.row({words, fixed(set.cost, 0), signed_kpa(set.headroom_pa),
                   signed_kpa(set.headroom_low_pa), fixed(set.flow_temperature_c, 1)});
    }
    return table.html() + paragraph("Costs rank the changes and are no offer; those the file does "
                                    "not give are invented.",
                                    "note");
}

std::string heat_table(const DriveAnswer &drive) {
    if (drive.heat.empty())
        return {};
    HtmlTable table("Heat of described floors and radiators", {{"loop or radiator", "", false},
                                                               {"to the room", "W"},
                                                               {"downwards", "W"},
                                                               {"needs water at", "°C"},
                                                               {"drop", "K"},
                                                               {"surface", "°C"},
                                                               {"limit", "°C"},
                                                               {"short", "W"}});
    for (const HeatRow &row : drive.heat)
        table.row({row.name, fixed(row.room_w, 0),
                   dash_if_zero(row.surface_c, fixed(row.down_w, 0)), fixed(row.own_flow_c, 1),
                   fixed(row.design_drop_k, 1), fixed(row.drop_k, 1),
                   dash_if_zero(row.surface_c, fixed(row.surface_c, 1)),
                   row.surface_limit_c ? fixed(*row.surface_limit_c, 0) : "–",
                   row.reaches ? "–" : fixed(row.short_w, 0)});
    return table.html();
}

std::string floors_part(const SheetAnswer &answer) {
    std::string out;
    for (std::size_t i = 0; i < answer.floors.size(); ++i) {
        const FloorDrawing &floor = answer.floors[i];
        std::string heading = "Floor of " + floor.emitter;
        for (std::size_t k = 0; k < floor.others.size(); ++k)
            heading += (k == 0 ? "; the same section: " : ", ") + floor.others[k];
        out +=
            figure(fmt::format("figure-floor-{}", i + 1), heading, draw_floor_section(floor, i + 1),
                   "A cut across two pipes, to scale but for the covering and what lies below "
                   "the insulation. Each red line joins points of one temperature, in °C, worked "
                   "out by conduction in this section with the mean water of the first loop "
                   "named, on the design day.");
    }
    return out;
}

} // namespace

std::string sheet_system(const SheetAnswer &answer) {
    const DriveAnswer &drive = answer.drive;
    std::string out = "<section id=\"system\" class=\"page\">\n<h2>The system</h2>\n";
    if (!drive.index.empty())
        out += states_table(drive) + changes_table(drive);
    if (answer.drawing)
        out += drawing_part(*answer.drawing);
    if (!drive.index.empty()) {
        out +=
            figure("figure-index", "Pressure along the index circuit", draw_index_pressure(drive),
                   "The line starts at the head needed and falls by the loss of each piece to "
                   "nothing at the source's return; solid in the flow, dashed in the return. The "
                   "level line is what the circulator has at this flow. Its distance from the "
                   "start is the headroom.");
        out += circuit_table(drive);
        out +=
            figure("figure-pump", "Circulator against pipes", draw_pump_curves(answer),
                   "The falling line is what the circulator gives at full speed outside the "
                   "source, the rising lines what the pipes take with the valves set. Where they "
                   "cross it would run if it were not turned down.");
        out += figure("figure-loops", "Loop by loop", draw_loop_bars(drive),
                      "The dark part is what a loop or radiator needs at its design flow with its "
                      "valve open, the light part what its valve must take so that no other goes "
                      "short. The figures behind each bar are both parts in kPa.");
        out += emitters_table(drive);
    }
    if (answer.bores)
        out += bores_part(*answer.bores);
    out += heat_table(drive) + floors_part(answer);
    if (answer.drawing)
        out += figure("figure-temperatures", "Temperatures", draw_temperatures(*answer.drawing),
                      "One row a place, in the state of the schematic. A full dot is its flow, an "
                      "open one its return, in °C.");
    return out + "</section>\n";
}

} // namespace headroom::solver
