// Words of filling, protecting, commissioning, converting and paying.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{
        "expansion vessel", "vessel, precharge, reserve",
        "Takes up the water's growth as it warms. Its size, precharge and fill pressure are worked "
        "out by EN 12828 from the water in the system, its warmest temperature, the height above "
        "it and the safety valve. Where it joins, pressure does not change when the pump starts.",
        "headroom fill, commission; house file, fill"},
    Term{"fill pressure", "filled to, high point",
         "Pressure of the cold system with the pump off. Too low and the highest point sucks air, "
         "too high and the safety valve drips when warm; `fill` gives the range between.",
         "headroom fill"},
    Term{
        "safety valve", "relief valve",
        "Opens before the pressure bursts anything. Nothing that shuts may part it or the vessel "
        "from the source; the pipes are searched for such a valve. Its discharge must hurt nobody.",
        "headroom fill, drill; house file, fill"},
    Term{"inhibitor", "glycol, antifreeze, additives",
         "What goes into the water against corrosion or frost. Glycol thickens it: more head, less "
         "heat carried. A share is by mass or by volume, and has to say which. `fill` gives "
         "litres; the label decides.",
         "headroom fill; house file, water"},
    Term{"high-limit stat", "high limit, stat, independent stat",
         "An independent thermostat on a floor's flow pipe that stops its pump, or shuts a valve "
         "and the heat, if the mixer or the control fails. `drill` lets each part fail and sees "
         "whether a stat stops the too-hot water; where none does, or none is there though the "
         "source "
         "can send more than the floor takes, protection is missing.",
         "headroom drill; house file, high_limit"},
    Term{"single fault", "drill, protection missing",
         "One part fails, all else works: a mixer stuck, a pump or sensor dead, a check valve "
         "leaking. Each is put into a copy of the house and solved. Rooms may go cold; water too "
         "hot for a floor must be stopped by something. If it is not, the exit code is 1; if some "
         "fault could not be solved, so that it is not known, 3.",
         "headroom drill"},
    Term{"heat leak", "gravity circulation of a solid-fuel source",
         "A radiator that takes a solid-fuel source's heat by gravity when no pump runs. No pump "
         "or valve may stand in its way, and it needs levels to be judged. It is never removed by "
         "a proposed change, and its valves stay fully open: it is set by no answer, and what it "
         "takes then counts in the settings of all others.",
         "headroom drill; house file, source.heat_leak"},
    Term{
        "frost protection", "anti-freeze valve",
        "Water in outdoor pipes freezes when the power fails. Either glycol, or valves that let "
        "the water out when it nears freezing; both together drain the glycol, which is a warning.",
        "house file, fittings, water"},
    Term{"commissioning", "set points, pressure test, screed warm-up",
         "What is done once all is built: tests for leaks, flushing, filling, warming the screed "
         "up slowly by EN 1264-4, setting valves and circulator, reading every meter. `commission` "
         "prints it with a table to fill in by hand.",
         "headroom commission"},
    Term{"conversion", "convert, feasible",
         "A boiler house turned to a heat pump's one circulator: header, secondary pumps and "
         "mixers out, the proposal's source in. The house as found stands beside it. Feasible as "
         "it is ends with 0, only after changes with 1.",
         "headroom convert"},
    Term{"proposal", "base, overlay",
         "A named set of changes laid over the base house, in the same file. It holds only what "
         "differs: `none` takes a key away, `replace: yes` puts a whole map in place, an item of a "
         "list is found by its name. `--proposal NAME` answers for it.",
         "headroom convert, compare, cost; house file, proposals"},
    Term{
        "bill", "quantities, price list, invented",
        "What a house is made of, counted and priced. Without `prices:` the figures are relative, "
        "a metre of 16 mm floor pipe being 1, and are invented: they rank things and are no offer.",
        "headroom cost, bores; house file, prices"},
    Term{"energy index", "EEI, wire to water",
         "A circulator's energy efficiency index as its label has it. The program reckons with a "
         "power curve or an efficiency from electricity to water; if neither is given it assumes "
         "30 % and says so.",
         "headroom pump"},
    Term{"sheet", "hand-over",
         "One HTML page with drawings, settings, columns for readings, inputs and sources, to be "
         "left with the house. It needs no network and prints on A4.",
         "headroom sheet"},
    Term{"exit code", "exit codes",
         "How the program ended, for scripts. 0 answered, and where there is a verdict a yes; 1 "
         "no, marginal, thermally no, only after changes, or protection missing; 2 bad input; 3 "
         "could not solve; 4 a fault of the program; 5 cannot write.",
         "headroom --help"},
    Term{"format", "text, JSON, CSV",
         "An answer's form. Text is for reading; JSON has everything, in SI units named in the "
         "keys (`headroom_pa`, `design_flow_m3_s`), under a layout version; CSV has the main "
         "table. Same input, same bytes.",
         "every command's --format"},
};

} // namespace

std::span<const Term> site_terms() {
    return terms;
}

} // namespace headroom::solver
