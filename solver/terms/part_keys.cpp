// Keys of the house file: source, hot water, pipework and its parts, filling.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"source", "kind, flow_temperature, drop, greatest_drop, least_flow, least_open_volume",
         "The heat source: `heat_pump`, `boiler` or `solid_fuel`, the water it sends on the design "
         "day, the drop it is run at, the flow and the open water it must have. Flow temperature "
         "may be left out where all emitters are described: what they need, up to "
         "`highest_temperature`. `greatest_drop` is for a source that "
         "needs more flow than the rooms do: no loop or radiator is left a larger drop.",
         "source: {kind: heat_pump, flow_temperature: 40 degC, drop: 5 K, ...}"},
    Term{"circulator of the source", "circulator, states, derating, inner, name, loss, at_flow, kv",
         "`states: external` for residual head outside the casing, `gross` for the pump's own "
         "curve with what lies inside listed under `inner:`. `derating` is the share of an "
         "external curve lost with a liquid thicker than water.",
         "circulator: {states: external, curve: [[0 m3/h, 68 kPa], ...]}"},
    Term{"pump", "model, curve, mode, setting, flow, speed, least_speed, efficiency, power, eei",
         "Any circulator: a `model` of the catalogue or a `curve` of flow and head, how it is "
         "controlled with its setting, and what it draws, as power against flow or as an "
         "efficiency from electricity to water.",
         "pump: {model: generic 6 m, mode: constant_pressure, setting: 2.5 m}"},
    Term{"performance", "carnot, output, fraction, least_share, defrost, below, lost",
         "What a heat pump gives: rows of outdoor temperature, flow temperature, output and COP, "
         "or an output and its share of the Carnot COP; its lowest steady output over the "
         "greatest; what defrosting costs.",
         "performance: [[-7 degC, 35 degC, 5.2 kW, 2.9], ...]"},
    Term{"greatest_output", "least_output, condensing, least_return",
         "A boiler's range of output and whether it condenses. One that does not corrodes where "
         "water comes back cooler than its `least_return`, which answers then warn of.",
         "greatest_output: 18 kW"},
    Term{"heat_leak", "slumber, highest_temperature",
         "For solid fuel: the run that takes its heat by gravity, and the heat it gives when shut "
         "down, which the leak must take in `drill`. No answer throttles the leak's radiator. "
         "`highest_temperature` is the most that any source can send, its control failing too.",
         "heat_leak: gravity pair"},
    Term{"high_limit", "at, stops, pump_of, valve, stops_heat, side, end",
         "An independent stat on a run or manifold: the temperature it trips at, and whether it "
         "stops a pump (which run's) or lets a named zone valve fall shut and the heat stop.",
         "high_limit: {at: 45 degC, stops: pump}"},
    Term{"header", "kind, bore, height, volume, level",
         "The separator between source and circuits: a `vessel`, `close_tees` or a four-port "
         "`buffer`, with its inside diameter and the height between flow and return connections.",
         "header: {bore: 80 mm, height: 0.6 m}"},
    Term{"pipework", "run, from, to, length, fittings, zeta, return, flow, one_way, existing",
         "Runs of pipe. Length and fittings are of one pipe and count for both; `flow:` or "
         "`return:` overrides a side. `existing: yes` takes aged walls and puts the pipe on no "
         "bill.",
         "pipework: [{run: primaries, from: source, to: header, pipe: copper 28, length: 7 m}]"},
    Term{"pipe", "bore, roughness, friction_factor, wall, conductivity",
         "A pipe of the catalogue by family and size, or a bore with its roughness. A name that "
         "fits several walls is refused and the walls listed.",
         "pipe: pex 16x2"},
    Term{"surroundings", "insulation, thickness, conductivity",
         "Temperature round a pipe, and its insulation or `bare`: with them it loses heat on the "
         "way, and every emitter is sized at the water that reaches it.",
         "surroundings: 15 degC"},
    Term{"parts",
         "part, name, kv, loss, at_flow, zeta, opens, open, zone, without_power, kvs, travel, "
         "characteristic, rangeability, limit, side",
         "What else stands in a run: `check_valve`, `zone_valve`, `balancing_valve`, "
         "`flow_limiter` or `resistance`, each with its loss as Kv, zeta, or loss at a flow, on "
         "the flow or return side.",
         "parts: [{part: check_valve, kv: 7 m3/h, opens: 1 kPa, side: return}]"},
    Term{
        "mixer", "kv, position, set, end",
        "A three-port mixer of a run: its Kv and either where it stands, as share of its travel "
        "towards the hot port, or the temperature it holds. `end:` says at which end of the run it "
        "stands with the pump behind it: `to` (assumed where it is left out), the run's pipes "
        "before them, or `from`, where the pump pushes the water through these pipes too.",
        "mixer: {kv: 4 m3/h, set: 40 degC}"},
    Term{"bypasses", "bypass, at, kv, opens",
         "Ways from flow to return of a place; with `opens:` a valve that opens at that pressure.",
         "bypasses: [{bypass: end of line, at: manifold, kv: 2.5 m3/h, opens: 12 kPa}]"},
    Term{"tees", "at, combined, through, branch, branch_bore",
         "Tees whose loss follows how the flow splits: which run carries it all, which goes "
         "straight on, which leaves at a right angle.",
         "tees: [{at: cupboard.flow, combined: primaries, through: a, branch: b, bore: 20 mm}]"},
    Term{"ends", "held_pressure, open_vessel, fixed_flow, in, out",
         "Where an open network ends: a pressure held, an open water surface at a level, or a flow "
         "in or out. A heating system has none; it is closed and has a fill.",
         "ends: [{at: main, held_pressure: 2 bar}]"},
    Term{"fill",
         "pressure, vessel_at, safety_valve, safety_valve_at, vessel, other_water, highest, "
         "inhibitor, flush_velocity",
         "The closed system's cold pressure and where its vessel joins; vessel and safety valve as "
         "fitted, water in source and other parts, the warmest it gets.",
         "fill: {pressure: 1.2 bar, vessel_at: source.return}"},
    Term{"hot_water",
         "from, flow, flow_temperature, drop, after_run, store, cold, store_to, reheat_from, "
         "immersion",
         "The cylinder on the diverter: where the diverter stands, flow and temperature while it "
         "is heated, where the water left over goes; store, cold water, and when a reheat is "
         "called for.",
         "hot_water: {coil: {loss: 12 kPa, at_flow: 1.2 m3/h}, flow: 17 l/min, ...}"},
    Term{"coil", "area, conductance, ua",
         "The cylinder's coil: its loss, and for a reheat its UA or its area with a conductance "
         "from water to water.",
         "coil: {loss: 12 kPa, at_flow: 1.2 m3/h, ua: 900 W/K}"},
    Term{"draw", "pasteurise, volume, at, to, every, source_to",
         "Warm water drawn in a day, and how often and how far the store is heated through; beyond "
         "`source_to` the immersion heater does it.",
         "draw: {volume: 150 l, at: 40 degC}"},
    Term{"catalogue", "pipes, circulators, standard, aged_roughness, sizes, filter, fittings",
         "Your own pipes, fittings and circulators beside the shipped ones; a name given here "
         "hides the shipped one. `filter: yes` marks a fitting that gathers dirt.",
         "catalogue: {circulators: {ours: {curve: [[0 m3/h, 5 m], ...]}}}"},
    Term{"unit", "units, quantity",
         "Every value that has a dimension carries its unit: `22 m2`, `12 mm`, `-3 degC`, `5 K` "
         "for a difference, `1.2 m3/h`, `18 l/min`, `6 kPa` or `4 m` of head, `25 %`. A bare "
         "number is refused and the unit suggested.",
         "length: 92 m"},
};

} // namespace

std::span<const Term> part_keys() {
    return terms;
}

} // namespace headroom::solver
