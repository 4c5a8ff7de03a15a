// Words of pipes, valves and pumps.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"circulator", "pump",
         "The pump that drives water round a closed circuit. It lifts nothing: what goes up comes "
         "down, so it only makes up for friction. Modes are fixed speed, constant pressure, "
         "proportional pressure, constant flow, and stopped. The source's is the one `drive` asks "
         "about.",
         "headroom pump, drive"},
    Term{"pump curve", "curve, shut-off head, run-out",
         "Head against flow at full speed, from the head at no flow to where it runs out. Other "
         "speeds follow by the affinity laws. Between the points a smooth falling curve is drawn; "
         "one that rises first (a droop) is a warning, as it may have two working points.",
         "headroom pump, sheet"},
    Term{"affinity laws", "speed",
         "How a pump's curve moves with speed: flow with it, head with its square, power with its "
         "cube. The program uses them for every speed and setting, and names the speed that puts "
         "the curve through the duty.",
         "headroom pump, balance"},
    Term{"constant pressure", "proportional pressure, constant flow, fixed speed, pump mode",
         "How a pump's electronics hold it: the same head at every flow, a head that falls to half "
         "its setting as flow falls to none, the same flow, or simply a speed. None of them gives "
         "more than its full-speed curve. Proportional pressure can meet a system in two points; "
         "then both are told and the worse one counts.",
         "headroom pump, flows; house file, pump.mode"},
    Term{"duty point", "duty",
         "Where a pump's curve and what the system takes meet: the flow and head at which it "
         "really runs.",
         "headroom pump"},
    Term{
        "authority", "valve authority",
        "Share of the pressure between the loop's own connections that the set valve takes. With "
        "much authority a turn of the valve moves the flow; with little it hardly does until it "
        "is almost shut. The index circuit's valve, fully open, has least. Of a mixer: the loss of "
        "its open hot port over that and the loss of its run's pipes.",
        "headroom balance, flows"},
    Term{"balancing", "balance, balancing valve",
         "Setting each loop's and radiator's valve so that all get their design flow at once. In "
         "the verdict each valve is taken as ideal: it lets no more than the design flow through "
         "and takes at least what it takes fully open. The settings worked out are then checked "
         "with the whole house running free.",
         "headroom balance, drive"},
    Term{"limiter", "flow limiter, pressure-independent valve",
         "A part that lets no more than a stated flow pass, whatever the pressure, and only its "
         "own loss below that. Written as a part with its `limit:`. The ideal balancing valves of "
         "the verdict are limiters too; what one destroys is its surplus.",
         "house file, parts; headroom drive"},
    Term{"Kv", "kvs, flow factor",
         "Flow in m3/h that a part passes at a loss of 1 bar; losses grow with flow squared, so "
         "half the Kv takes four times the pressure. Kvs is the Kv fully open. `drive` and "
         "`balance` give the Kv each balancing valve must stand at.",
         "headroom drive, balance"},
    Term{
        "zeta", "loss coefficient, local loss, fittings",
        "Loss of a fitting in units of the velocity head, half density times velocity squared, at "
        "the bore of its run. The shipped figures are those of general tables; a file may add its "
        "own. Tees that are described follow how the flow splits, and may even give pressure back.",
        "headroom drive (index circuit); house file, fittings"},
    Term{"lockshield", "turns",
         "The radiator valve under a cap that balances it. With the maker's table of turns against "
         "Kv in the file, settings come out in turns; otherwise as Kv.",
         "headroom balance; house file, lockshield"},
    Term{"flow meter", "meter, meter range",
         "The sight glass on a manifold's port. Its range, `meter: {from: ..., to: ...}`, matters: "
         "small loops run at 0.3 to 0.6 l/min, which many scales cannot show. `balance` says what "
         "each reads at each step of setting.",
         "headroom balance"},
    Term{"manifold", "bar",
         "Where loops join: a flow bar and a return bar with a valve and often a meter for each "
         "loop. Bars described by bore and pitch are solved port by port; else they take nothing.",
         "headroom drive, flows; house file, manifolds"},
    Term{"loop", "",
         "One pipe from a manifold's flow port through a floor and back to its return port. Its "
         "`length` is port to port with the tails. It is coiled in part, and that part rubs more "
         "than straight pipe.",
         "headroom drive, bores; house file, loops"},
    Term{"tails", "",
         "The part of a loop outside the room it heats, there and back. It is included in the "
         "loop's length: it takes pressure but heats no floor of its room. With `surroundings` it "
         "loses heat.",
         "house file, loops"},
    Term{"run", "primaries, riser",
         "A stretch of pipework from one place to another: a flow and a return pipe side by side "
         "unless it says `one_way`. Its length and fittings are those of one pipe, and are counted "
         "for both.",
         "headroom drive, flows; house file, pipework"},
    Term{"header", "low-loss header, separator, close tees, buffer",
         "A wide short vessel between source and circuits, so that their pumps do not push each "
         "other's water. Nearly no pressure is lost across it; water mixes wherever the two sides "
         "differ in flow. `drive` bridges it out and shows the house with it beside.",
         "headroom pump, drive, convert"},
    Term{"short-circuit", "short circuit, header mixing",
         "In a header: water of the larger side that goes straight back without having done its "
         "work. Too much primary flow returns warm to the source; too much secondary flow draws "
         "return water in and reaches the emitters cooler than it was sent. `pump` gives how much, "
         "what it costs in degrees, and what would end it.",
         "headroom pump"},
    Term{"mixer", "mixing valve, three-port valve",
         "A valve that adds cooler return water to a circuit's flow. It needs a pump behind it: "
         "without one its cold port may run backwards and it cannot mix, so `drive` takes it out "
         "with its pump. It stands at a `position` or holds a temperature, `set`, as far as its "
         "travel reaches.",
         "headroom pump, drive, drill"},
    Term{"diverter", "diverter valve",
         "The valve that sends the source's water to the cylinder's coil or to the heating, never "
         "both. It stands where `hot_water.from` says; coil and heating use the same circulator.",
         "headroom hotwater, drive"},
    Term{"bypass", "bypass valve",
         "A way from flow to return past the emitters, so that the source keeps its least flow "
         "when zones close. Open always, or a valve that opens at a set pressure. An open one "
         "takes flow from the loops all the time, and the head needed counts it.",
         "headroom drive, flows; house file, bypasses"},
    Term{"zone", "zone valve, all zones shut",
         "Emitters that close together, by a zone valve or by `zone:` on each. Every permitted set "
         "of open zones is solved: the source must keep its least flow and least volume, and a "
         "shut valve must hold the pressure across it.",
         "headroom drive"},
    Term{"check valve", "creep, gravity circulation",
         "A valve that lets water pass one way only. Without it warm water can creep through a "
         "circuit whose pump stands still, by its own weight difference, and heat rooms that asked "
         "for none.",
         "headroom drill, flows"},
    Term{"buoyancy", "level, thermosiphon",
         "Warm water is lighter than cold, so a warm riser helps and a warm drop hinders. It is "
         "solved where the file gives levels, and is otherwise off, which is said. The middle "
         "estimate of a verdict leaves it out; the band has it.",
         "headroom drive, drill, flows"},
    Term{"regime", "laminar, turbulent, transition, Reynolds number, Re",
         "How water flows in a pipe: laminar, in smooth threads, below a Reynolds number of 2300; "
         "turbulent above 4000; between them in transition, where nobody can say which. Losses are "
         "joined smoothly there and the band has both limits. Coiled pipe stays laminar longer.",
         "headroom drive, flows"},
    Term{"friction", "roughness, aged",
         "Loss along a pipe by Darcy and Weisbach: 64/Re where laminar, Colebrook's law where "
         "turbulent. Existing pipe is taken as aged (copper 0.05 mm, steel 0.2 mm rough), new pipe "
         "as new.",
         "headroom drive, flows"},
    Term{"bore", "inside diameter",
         "The inside diameter of a pipe; a name such as `pex 16x2` gives outside diameter and "
         "wall, so its bore is 12 mm. Loss falls steeply with bore, but length decides as much: a "
         "short narrow loop can beat a long wide one.",
         "headroom bores"},
    Term{"velocity", "carries air, flushing",
         "Speed of water in a pipe. Above some 1 m/s pipework is heard; below some 0.5 m/s it "
         "carries no air down with it, so air has to be driven out by flushing (common practice, "
         "no source).",
         "headroom drive, fill, convert"},
    Term{"readings", "suspects, chi2, off by",
         "What was read on site, each with its accuracy. `balance` solves the house as drawn, "
         "compares, and then tries single faults (a kinked loop, a valve further shut, a worn "
         "pump): the one that fits best is named with its probability. Misses are counted in "
         "accuracies; chi2 is the sum of their squares.",
         "headroom balance; house file, readings"},
};

} // namespace

std::span<const Term> circuit_terms() {
    return terms;
}

} // namespace headroom::solver
