// For the file: what went in, what was assumed, where the formulas come from, how exact it is.
#include "solver/report/figures.hpp"
#include "solver/report/html.hpp"
#include "solver/report/json.hpp"
#include "solver/report/sheet_parts.hpp"

#include <array>

namespace headroom::solver {
namespace {

struct FormulaSource {
    const char *what, *law, *source;
};

constexpr std::array formula_sources{
    FormulaSource{"pipe friction", "Darcy-Weisbach; 64/Re, Colebrook, a smooth join between",
                  "Colebrook 1939"},
    FormulaSource{"pipe in bends", "laminar and turbulent coil laws", "White 1929; Ito 1959"},
    FormulaSource{"fittings", "loss = zeta times velocity pressure",
                  "general engineering tables; Crane TP 410 for tests"},
    FormulaSource{"valves", "Kv; linear and equal-percentage travel", "IEC 60534-1; IEC 60534-2-4"},
    FormulaSource{"circulators", "affinity laws; monotone curve through the points given",
                  "the maker's points in the file"},
    FormulaSource{"water", "density, viscosity, heat capacity, conductivity",
                  "IAPWS R7-97 (IF97), R12-08, R15-11"},
    FormulaSource{"glycol", "properties of secondary fluids", "Melinder 2010"},
    FormulaSource{"floors", "two-dimensional conduction in the section; EN 1264-2 beside it",
                  "Patankar 1980, sec. 4.2-3; EN 1264-2"},
    FormulaSource{"water film", "Nusselt number, laminar and turbulent",
                  "Hausen 1943; Gnielinski 1976"},
    FormulaSource{"radiators", "power law of the mean over-temperature", "EN 442-2"},
    FormulaSource{"rooms", "fabric, thermal bridges, air", "EN 12831-1"},
    FormulaSource{"year", "hours by outdoor temperature", "EN 14825, or the file"},
};

std::string inputs(const SheetAnswer &answer) {
    HtmlTable table("What the file said", {{"of", "", false}, {"value", "", false}});
    for (const InputRow &row : answer.inputs)
        table.row({row.where, row.what});
    return table.html();
}

std::string assumed(const SheetAnswer &answer) {
    HtmlTable table("What the file did not say (common practice, no source, unless named)",
                    {{"what", "", false},
                     {"taken as", "", false},
                     {"could be", "", false},
                     {"headroom", "kPa"},
                     {"to", "kPa"}});
    for (const AssumptionRow &row : answer.drive.assumed)
        table.row({row.what, row.value, row.range, row.low_pa ? signed_kpa(*row.low_pa) : "",
                   row.high_pa ? signed_kpa(*row.high_pa) : ""});
    if (answer.season)
        for (const SeasonAssumption &row : answer.season->assumed)
            table.row({"year: " + row.what, row.value});
    return table.empty() ? "" : table.html();
}

std::string pipe_losses(const DriveAnswer &drive) {
    HtmlTable table("Heat that the pipes lose on the design day",
                    {{"pipe", "", false}, {"heat", "W"}});
    for (const PipeLoss &loss : drive.pipe_losses)
        table.row({loss.where, fixed(loss.heat_w, 0)});
    return table.empty() ? "" : table.html();
}

std::string points(const HouseDrawing &drawing) {
    HtmlTable table("Points of the network, in the state of the schematic",
                    {{"point", "", false},
                     {"water", "°C"},
                     {drawing.absolute ? "pressure, gauge" : "pressure above the return", "kPa"}});
    for (const DrawnPoint &point : drawing.points)
        table.row({point.name, fixed(point.temperature_c, 2),
                   point.known ? kpa2(point.pressure_pa) : "open"});
    return table.html();
}

std::string residuals(const std::string &what, const Outcome &outcome) {
    HtmlTable table("How exactly the equations close, " + what,
                    {{"equation", "", false}, {"reached", ""}, {"asked", ""}});
    table.row({"mass balance of every node, kg/s", fmt::format("{:.2g}", outcome.worst_mass_kg_s),
               fmt::format("{:.2g}", outcome.mass_tolerance_kg_s)});
    table.row({"law of every part, Pa", fmt::format("{:.2g}", outcome.worst_law_pa),
               fmt::format("{:.2g}", outcome.law_tolerance_pa)});
    return table.html();
}

std::string sources() {
    HtmlTable table("Where the formulas come from",
                    {{"of", "", false}, {"law", "", false}, {"source", "", false}});
    for (const FormulaSource &row : formula_sources)
        table.row({row.what, row.law, row.source});
    return table.html();
}

} // namespace

std::string sheet_record(const SheetAnswer &answer, std::string_view version) {
    std::string out = "<section id=\"record\" class=\"page\">\n<h2>For the file</h2>\n";
    out += paragraph(fmt::format("Made by headroom {} from the house file; the same file gives the "
                                 "same sheet.",
                                 version));
    out += inputs(answer) + assumed(answer) + pipe_losses(answer.drive);
    if (!answer.why_no_season.empty())
        out += paragraph("The year is left out: " + answer.why_no_season + ".");
    out += "<h3>What the band of the headroom is made of</h3>\n" + bullets(answer.drive.band);
    if (!answer.drive.remarks.empty())
        out += "<h3>Remarks</h3>\n" + bullets(answer.drive.remarks);
    out += residuals("design state", answer.drive.outcome);
    if (answer.drawing)
        out +=
            residuals("state of the schematic", answer.drawing->outcome) + points(*answer.drawing);
    out += sources();
    out += paragraph("Results support a decision by a competent person.", "note");
    return out + "</section>\n";
}

} // namespace headroom::solver
