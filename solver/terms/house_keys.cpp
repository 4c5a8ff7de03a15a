// Keys of the house file: the house, its rooms, floors and emitters, its year.
#include "solver/terms/groups.hpp"

#include <array>

namespace headroom::solver {
namespace {

constexpr std::array terms{
    Term{"house", "note",
         "The house's name, on top of every answer; `note:` is text for people that nothing reads. "
         "Quote a name that holds `: ` or ` #`.",
         "house: Quayside Cottage"},
    Term{"design_day", "outdoor, air_heat",
         "The outdoor temperature the house is sized for. `air_heat: standard` counts 0.34 W/(m3 "
         "K) for an air change an hour (EN 12831-1), `british` the older third.",
         "design_day: {outdoor: -3 degC}"},
    Term{"water", "plain, glycol, share, by, density, viscosity, kinematic_viscosity",
         "What is in the pipes: plain water, a glycol with its share by mass or by volume, or a "
         "liquid of stated density and viscosity. In a network without a source, `plain:` may give "
         "the temperature.",
         "water: {glycol: propylene, share: 25 %, by: mass}"},
    Term{"cold_start", "", "Water temperature at a cold start; 10 degC is assumed.",
         "cold_start: 8 degC"},
    Term{"levels", "junctions, level",
         "Heights: storeys by name, and where places and junctions of pipework stand. They matter "
         "for buoyancy and for pressure at the highest point, and for nothing else. Without any, "
         "buoyancy is off.",
         "levels: {ground: 0 m, upstairs: 2.6 m}"},
    Term{"rooms", "floor_area, indoor, loss",
         "Each room with its indoor temperature and either its surveyed loss on the design day or "
         "its fabric and air. Floor area is needed where the program lays loops.",
         "rooms: {kitchen: {floor_area: 22 m2, indoor: 21 degC, loss: 1180 W}}"},
    Term{"fabric",
         "wall, window, door, roof, ceiling, floor, party_wall, u, to, beyond, factor, "
         "thermal_bridges",
         "A room's outer parts: area and U-value each. What does not face outside air says `to: "
         "ground` or `to: unheated` with the share of the temperature difference it sees "
         "(`factor:`), or the temperature there (`beyond:`).",
         "fabric: [{wall: 14 m2, u: 0.45 W/(m2 K)}]"},
    Term{"air_changes", "volume, tightness, site",
         "Least air changes an hour, with the room's volume; or a tightness measured at 50 Pa with "
         "how the site stands (sheltered, ordinary, exposed). Of both, the greater counts; beside "
         "a tightness alone at least 0.5 /h is assumed.",
         "air_changes: 0.6 /h"},
    Term{"time_constant", "",
         "Heat stored over heat loss of a room, in hours: how slowly it cools.",
         "time_constant: 70 h"},
    Term{"floors",
         "cover, conductivity, covering, gap, insulation, insulation_conductivity, slab, below, "
         "on_ground",
         "Kinds of floor by name, from the top: covering (resistance), screed or dry layer over "
         "the pipe (`cover`, `conductivity`), a gap, insulation, slab, and the temperature below. "
         "Loops in a described floor get their output from conduction.",
         "floors: {tiled screed: {cover: 45 mm, conductivity: 1.2 W/(m K), ...}}"},
    Term{"groove_board", "plate, thickness, width",
         "Dry floors: the board whose grooves hold the pipe, and the metal plate that spreads the "
         "heat, both flats of one pipe wide.",
         "groove_board: {thickness: 25 mm, conductivity: 0.035 W/(m K)}"},
    Term{"manifolds", "bar, bore, pitch, valve_kv, meter, from, to",
         "Each manifold with its loops. `valve_kv` is the open valve with its flow meter; `bar` "
         "the bars' bore and the distance of ports; `meter` the ends of its scale. Drop, floor, "
         "spacing and limits given here hold for all its loops.",
         "manifolds: {ground: {valve_kv: 1.1 m3/h, loops: [...]}}"},
    Term{"loops", "loop, room, heat, length, tails, area, spacing, floor, drop, curved, bends",
         "Loops as they lie: pipe, length from port to port with tails, the room they heat. A "
         "room's loss is shared between its loops by length unless `heat:` is given. `curved` and "
         "`bends` say how much of it is bent and how tightly.",
         "loops: [{room: kitchen, pipe: pex 16x2, length: 88 m, tails: 8 m}]"},
    Term{
        "rooms of a manifold", "longest, loop_head, closest, edge, area, rooms",
        "Rooms for the program to lay: floor to cover, spacing or `auto`, the longest loop allowed "
        "or the head it may take, the closest spacing, and a closer-laid edge along outer walls.",
        "rooms: [{room: kitchen, pipe: pex 16x2, spacing: auto, longest: 100 m}]"},
    Term{"flow_limit", "surface_limit, surface",
         "The warmest water a floor takes, and how warm its top may get, as a temperature or by "
         "what the floor is for: `occupied`, `bathroom` or `edge`.",
         "flow_limit: 45 degC"},
    Term{"set_kv", "least_kv, open, zone",
         "Where a balancing valve stands as found, the least Kv it can be set to, whether it is "
         "open at all, and which zone closes it. A verdict has all open, each throttled as far as "
         "it must be.",
         "set_kv: 0.4 m3/h"},
    Term{"radiators",
         "radiator, output, rated_at, exponent, kind, connection, fan, stopped_share, volume, "
         "length",
         "Radiators, fan convectors and towel rails: where from, the tails' pipe and the length of "
         "one, output at flow/return/room temperatures. `connection` takes a share off for how it "
         "is piped.",
         "radiators: [{radiator: landing, from: upstairs, output: 1150 W, rated_at: 75/65/20}]"},
    Term{"lockshield", "lockshield_kv, table, turns",
         "The radiator's balancing valve: its Kv fully open as `lockshield_kv: 1.2 m3/h`, or the "
         "maker's table of turns against Kv and how many turns it stands open now.",
         "lockshield: {table: [[0.5, 0.12 m3/h], [3, 0.8 m3/h]], turns: 2}"},
    Term{"year",
         "climate, hours, heating_limit, free_heat, lowest_flow_temperature, "
         "highest_flow_temperature",
         "The weather of the year and the ends of the weather curve.",
         "year: {climate: average, heating_limit: 15.5 degC}"},
    Term{"cycling", "added_water, water_swing, floor_swing",
         "What takes up heat between on and off: water that no pipe, radiator or header holds, "
         "such as "
         "the source's own, and by how many kelvin water and screed may swing.",
         "cycling: {added_water: 30 l, water_swing: 5 K}"},
    Term{"tariff", "electricity, gas, electricity_co2, gas_co2, currency",
         "What energy costs and the CO2 it stands for. Nothing is assumed.",
         "tariff: {electricity: 0.27 /kWh, currency: GBP}"},
    Term{"readings",
         "pump, pressure_between, temperature_at, accuracy, flow, head, difference, temperature",
         "What was read on site and how far each may be off (one standard deviation): a meter, a "
         "pump's display, a pressure between two points, a temperature.",
         "readings: [{meter: kitchen 1, flow: 1.55 l/min, accuracy: 0.05 l/min}]"},
    Term{"margin", "filter, heat_loss",
         "Tolerances. The band rests on the circulator's curve, bores, and how much dirtier a "
         "filter may get: 5 %, 1 % and 50 % are assumed. `drive --tolerance` also draws lengths "
         "(5 %), fittings (20 %), roughness (50 %) and each room's heat (10 %).",
         "margin: {curve: 5 %, bore: 1 %, filter: 50 %, length: 5 %, heat_loss: 10 %}"},
    Term{"pipe_limits", "velocity, loss_per_metre",
         "What pipework may carry, by which `convert` judges existing pipe: noise limits the "
         "velocity.",
         "pipe_limits: {velocity: 1 m/s, loss_per_metre: 300 Pa}"},
    Term{"prices",
         "pipe_per_metre, laying_per_metre, repiping_per_metre, fitting, valve, loop_port, "
         "actuator, thermostat, circulator, secondary_pump, mixer, header, bypass, removal, "
         "radiator_per_kilowatt, radiator_swap, glycol_per_litre, setting, warmer_per_kelvin, "
         "hour, balancing_time, zone_time, mixer_time",
         "Your price list: plain figures in the `currency`, the last three in hours of work. What "
         "is left out keeps its invented figure and is marked.",
         "prices: {currency: GBP, valve: 38}"},
    Term{"proposals", "builds_on, replace, remove, none",
         "Named sets of changes laid over the base; one may build on another above it.",
         "proposals: {heat pump: {header: none, source: {replace: yes, ...}}}"},
};

} // namespace

std::span<const Term> house_keys() {
    return terms;
}

} // namespace headroom::solver
