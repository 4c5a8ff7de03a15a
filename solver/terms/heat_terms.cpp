// Words of heat: rooms, emitters, sources, the year.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"heat loss", "loss of a room, fabric loss",
         "Heat a room loses on the design day, through its fabric and by air. Surveyed, or worked "
         "out by EN 12831 from `fabric:` and `air_changes:`. No room is sized without one: the "
         "flow of every loop comes from it.",
         "headroom losses; house file, rooms"},
    Term{"U-value", "thermal transmittance, thermal bridge",
         "Heat through a square metre of wall, window or roof for each kelvin across it, in W/(m2 "
         "K). Thermal bridges, where corners and edges let more through, are added to every "
         "U-value; 0.10 is assumed unless the file says otherwise.",
         "headroom losses; house file, fabric"},
    Term{"emitter", "loop or radiator",
         "What gives heat to a room: a floor loop, radiator, fan convector or towel rail. Each has "
         "a design heat, a drop and a balancing valve.",
         "headroom drive"},
    Term{"flow temperature", "sent, flow and return",
         "Temperature of the water a source sends out. Given in the file, or found: where every "
         "floor and radiator is described, the emitter that needs the warmest water at its own "
         "drop sets it, and is named.",
         "headroom drive, season, convert"},
    Term{"drop", "temperature drop, spread",
         "How much cooler water comes back than it went out, in K. Half the drop for the same heat "
         "takes twice the flow and some four times the pressure. Heat pumps usually want about 5 "
         "K, boilers more. A radiator, a loop, a manifold or the source may give it; the nearest "
         "counts.",
         "headroom drive; house file"},
    Term{
        "equal drop", "one temperature",
        "Balancing so that every emitter's water comes back equally cool. In a house where floors "
        "and radiators are described it is not what is asked: all get the same flow temperature, "
        "each takes the least flow that gives its room's heat, and only the emitter that sets the "
        "temperature has the design drop. Else each keeps the drop in the file. `greatest_drop` of "
        "the source brings them near each other, for more flow.",
        "headroom drive, convert"},
    Term{"floor output", "conduction, film, standard",
         "Heat up from a floor. Worked out by 2-D conduction in the section as described, with the "
         "film between water and pipe at its real flow; EN 1264-2's figure stands beside it. "
         "Decisions use conduction: the standard's diameter factor can rank 10 mm pipe above 16 "
         "mm, and it leaves the film out.",
         "headroom emitters, drive, bores, sheet"},
    Term{"K_H", "a_B, a_T, a_U, a_D, characteristic",
         "Heat up from a floor by EN 1264-2 for each kelvin of mean water above the room: a system "
         "constant B times factors for covering (a_B), spacing (a_T), cover over the pipe (a_U) "
         "and its diameter (a_D), each raised to an exponent of the section. For pipes in screed, "
         "types A and C; for groove boards (type B) its tables could not be sourced.",
         "headroom emitters"},
    Term{"limit curve", "q_G, B_G, n_G, base curve",
         "The heat at which the warmest place of a floor reaches its surface limit, by EN 1264-2: "
         "q_G, at a water temperature dT_G above the room. The base curve ties heat and even "
         "surface temperature of every floor.",
         "headroom emitters"},
    Term{"oversizing", "in hand, radiator factor",
         "How much more a radiator is rated for than its room needs, and how much it has to be at "
         "cooler water: at 45/40/20 instead of 75/65/20 an exponent of 1.3 leaves 35 %, so that it "
         "must be rated 2.8 times the room's heat.",
         "headroom emitters, drive"},
    Term{"surface temperature", "surface limit, edge zone",
         "How warm the floor's top gets over a loop. EN 1264-2 limits it to 29 degC where people "
         "stay, 33 in bathrooms and 35 along outer walls. A floor that would have to be warmer to "
         "heat its room makes the answer no, by name.",
         "headroom drive; house file, surface, surface_limit"},
    Term{"floor limit", "flow limit",
         "The warmest water a floor takes, for its screed, pipe and finish; 45 degC is assumed. "
         "Checked on the design day and, where hot water's after-run goes to the floors, against "
         "that too. On site a limit and an independent high-limit stat must hold it.",
         "headroom drive, drill; house file, flow_limit"},
    Term{"spacing", "spacing auto, pipe spacing",
         "Distance from pipe to pipe in a floor. With `auto` the program takes the widest of 300, "
         "250, 200, 150, 100, 75 and 50 mm that still heats the room at the house's flow "
         "temperature within the surface limit, never closer than `closest:` (100 mm assumed).",
         "headroom drive, bores; house file, manifolds, rooms"},
    Term{"laying", "laid by the program, laid anew",
         "Loops found by the program for a room's floor: the fewest equal ones no longer than "
         "`longest:` and within the loss a loop may have (20 kPa assumed). `bores` lays each bore "
         "that way once, and once at the lengths of the file, so that bores are compared like for "
         "like.",
         "headroom drive, bores, cost"},
    Term{"driven to", "length limit",
         "The length to which the index loop alone could grow, its floor and heat with it, until "
         "the circulator's head is used up. It says where a bore stops working, which is worth "
         "more than a yes or no at one length.",
         "headroom bores"},
    Term{"radiator", "exponent, rated output, 75/65/20",
         "Its output at flow, return and room temperature by EN 442, such as 1150 W at 75/65/20, "
         "and its exponent n: output goes with the excess temperature to that power. At low flow "
         "its outlet is worked out exactly; the usual mean temperature would flatter a throttled "
         "radiator.",
         "headroom drive; house file, radiators"},
    Term{"fan convector", "towel rail",
         "Emitters given like radiators, with `kind:`. A fan convector whose fan stands gives only "
         "the share its maker states. Each kind has a usual exponent, which is assumed and listed "
         "where the file gives none.",
         "house file, radiators"},
    Term{"heat source", "source, boiler, heat pump, solid fuel",
         "What warms the water. A heat pump has rated points of output and COP, a least share and "
         "a least flow; a boiler a range of output and an efficiency that follows the return "
         "temperature; solid fuel cannot be stopped and needs a heat leak.",
         "headroom drive, season, hotwater; house file, source"},
    Term{"COP", "coefficient of performance, rated points, carnot",
         "Heat a heat pump gives for each unit of electricity, at one outdoor and one flow "
         "temperature. Read between the maker's rated points, never promised beyond them; or a "
         "share of the Carnot limit. Cooler water raises it by some 2 to 3 % a kelvin (common "
         "practice, no source).",
         "headroom season, drive, hotwater"},
    Term{"seasonal performance", "season, SCOP",
         "Heat over a year divided by what the source takes, bin by bin of outdoor temperature; "
         "with pumps, by what source and pumps take. It is of this house on this weather, not a "
         "maker's label.",
         "headroom season, convert, bores"},
    Term{
        "least flow", "minimum flow",
        "The flow a source must have or it shuts down. Checked at the design flow, with every "
        "permitted set of zones, for hot water and at cold start. Where every loop is open the way "
        "to more flow is smaller drops (`greatest_drop` of the source); where zones are shut the "
        "rest must be carried by a bypass, a buffer or loops that stay open.",
        "headroom drive, convert; house file, source.least_flow"},
    Term{"open volume", "least open volume, always open, minimum volume",
         "Water that can circulate with every zone shut. A heat pump needs some for defrosting and "
         "so as not to start too often; its maker says how much. Without that figure it is shown "
         "and decides nothing.",
         "headroom fill, drive, convert"},
    Term{"cycling", "starts, on-off",
         "A source whose least output is more than the house takes runs and rests. How long "
         "depends on what takes up heat between: water in the system, in a buffer, and the screed. "
         "`season` gives starts for each outdoor temperature.",
         "headroom season; house file, cycling"},
    Term{"weather curve", "weather compensation, heating curve",
         "Flow temperature against outdoor temperature: what each circuit needs so that every room "
         "just gets its loss as it grows colder. Worked out at several temperatures from the real "
         "emitters; to be set at the source or at each mixer.",
         "headroom season, sheet, commission"},
    Term{"heating limit", "free heat",
         "Outdoor temperature above which nothing is heated, since sun, people and light make up "
         "the loss; 15.5 degC is assumed. Taken off as free heat at every outdoor temperature "
         "unless `free_heat: no`.",
         "headroom season; house file, year"},
    Term{"climate", "bins, hours",
         "Hours a year at each outdoor temperature: one of the three of EN 14825 (average, warmer, "
         "colder), or your own list under `hours:`.",
         "headroom season; house file, year"},
    Term{"tariff", "CO2",
         "Prices of electricity and gas and the CO2 they stand for. None are built in: without "
         "them energy is given and money is not.",
         "headroom season, bores, convert; house file, tariff"},
    Term{"cylinder", "store, coil, hot water, reheat",
         "The hot-water store, with a coil on the diverter. The coil's UA decides how warm the "
         "water must be: store, coil and source are stepped through a reheat, until the flow "
         "temperature holds the source back or it starts to cycle.",
         "headroom hotwater; house file, hot_water"},
    Term{"UA", "conductance, effectiveness",
         "What a coil passes for each kelvin between its water and the store, in W/K: area times "
         "conductance. Effectiveness is the share of the greatest possible that it reaches at its "
         "flow.",
         "headroom hotwater"},
    Term{"after-run", "after run",
         "Where the hot water left in the source goes when the cylinder is done: on into the coil, "
         "or into the heating. Water for a cylinder is too hot for most floors, so `after_run: "
         "heating` is checked against every floor's limit.",
         "headroom drive, hotwater; house file, hot_water"},
    Term{"pasteurising", "legionella, pasteurise",
         "Heating the store through to 60 degC or more now and then, against legionella. Its time, "
         "heat and cost are worked out; taps then need scald protection. Your code says how often.",
         "headroom hotwater; house file, hot_water"},
    Term{"time constant", "",
         "How slowly a room cools once nothing heats it: heat stored over heat loss, in hours. "
         "With it `hotwater` says how many degrees each room falls while the cylinder is heated.",
         "headroom hotwater; house file, rooms"},
};

} // namespace

std::span<const Term> heat_terms() {
    return terms;
}

} // namespace headroom::solver
