// A house as the engineer describes it, in SI, with names resolved to catalogue parts but nothing
// expanded yet. Questions are asked by changing a copy of this.
#pragma once

#include "models/boiler.hpp"
#include "models/climate.hpp"
#include "models/floor_output.hpp"
#include "models/floor_section.hpp"
#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/heat_pump.hpp"
#include "models/pump.hpp"
#include "models/radiator.hpp"
#include "models/room_loss.hpp"
#include "models/valve.hpp"
#include "networks/catalogue.hpp"
#include "networks/habit.hpp"
#include "networks/pipe_surroundings.hpp"
#include "networks/prices.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace headroom::networks {

/// Resistance stated as Kv, as zeta on the pipe's bore, or as a loss at one flow of water.
struct Resistance {
    std::string name;
    std::optional<double> kv_m3_h;
    std::optional<double> zeta;
    std::optional<double> loss_pa; ///< with at_m3_s
    double at_m3_s = 0.0;
};

enum class PumpMode { FixedSpeed, ConstantPressure, ProportionalPressure, ConstantFlow, Stopped };

struct Pump {
    std::string model; ///< words for it, may be empty
    models::PumpCurve curve;
    PumpMode mode = PumpMode::FixedSpeed;
    double speed = 1.0;                ///< relative to the curve
    double setting_pa = 0.0;           ///< of the pressure modes
    double flow_m3_s = 0.0;            ///< of constant flow
    std::optional<double> least_speed; ///< the lowest it can be set to
    std::optional<double> efficiency;  ///< wire to water: hydraulic over electric power
    std::vector<std::pair<double, double>> electric; ///< in its place: flow [m3/s], power [W]
    Place place;
};

enum class CurveStates { Gross, External };

struct Source {
    enum class Kind { Boiler, HeatPump, SolidFuel };
    Kind kind = Kind::Boiler;
    double flow_temperature_c = 45.0;
    bool flow_temperature_given = true; ///< else found from what the emitters need
    std::optional<double> drop_k;
    std::optional<double> least_flow_m3_s;
    std::optional<double> least_open_volume_m3; ///< water it must always be able to circulate
    std::variant<std::monostate, models::HeatPump, models::Boiler> heat; ///< empty: not described
    Pump circulator;
    CurveStates states = CurveStates::Gross;
    std::vector<Resistance> inner;  ///< exchanger, valves, strainer inside the source (gross curve)
    std::optional<double> derating; ///< share of residual head lost to a thicker liquid
    /// In place of circulator and inner parts: an ideal pressure rise between the connections.
    std::optional<double> ideal_rise_pa;
    std::optional<double> highest_c; ///< what it sends at most when its control fails
    std::string heat_leak;           ///< SolidFuel: run that takes its heat by gravity
    std::optional<double> slumber_w; ///< SolidFuel: what it gives even when shut down
    Place place;
    Place heat_leak_place;
};

enum class Side { Flow, Return };

struct FittingCount {
    std::string name;
    int count;
};

/// An independent stat strapped to a floor's pipe. It works without the controls: where the water
/// is too warm it stops it, until somebody resets it.
struct HighLimit {
    enum class Stops { Pump, Valve };
    double at_c = 0.0;
    Stops stops = Stops::Pump;
    std::string pump_run; ///< whose pump; empty: its own run's, or the nearest that feeds it
    std::string valve;    ///< name of the zone valve it lets fall shut
    bool stops_heat = false;
    Side side = Side::Flow;
    bool at_start = false; ///< of a run: at its `from` end
    Place place, pump_place, valve_place;
};

/// Something in a run that is not a fitting.
struct Part {
    enum class Kind { Check, Zone, Balancing, Limiter, Plain };
    Kind kind = Kind::Plain;
    std::string name;
    Side side = Side::Flow;
    Resistance resistance;   ///< open loss (all but Balancing)
    double opens_pa = 0.0;   ///< Check
    bool open = true;        ///< Zone
    bool falls_shut = false; ///< Zone: shuts by itself without power
    std::string zone;        ///< Zone
    double limit_m3_s = 0.0; ///< Limiter
    models::Characteristic characteristic = models::Characteristic::Linear; ///< Balancing
    double kvs_m3_h = 0.0;                                                  ///< Balancing
    double travel = 1.0;                                                    ///< Balancing
    double rangeability = 50.0;                                             ///< Balancing
};

/// One pipe of a run.
struct RunSide {
    double length_m = 0.0;
    std::vector<FittingCount> fittings;
    double zeta = 0.0; ///< stated directly
};

/// Three-port valve on the flow side; its cold port draws from the return.
struct Mixer {
    double kv_m3_h = 0.0;
    double position = 1.0;       ///< share of travel towards the hot port, 0 to 1
    std::optional<double> set_c; ///< modulates to this temperature in place of a position
    bool at_start = false;       ///< at the run's `from` end instead of its `to` end
};

struct Run {
    std::string name;
    std::string from;
    std::string to;
    bool one_way = false;
    PipeChoice pipe;
    bool existing = false;
    RunSide flow;
    RunSide back; ///< the return pipe; unused when one_way
    std::vector<Part> parts;
    std::optional<Mixer> mixer;
    std::optional<Pump> pump;
    std::optional<PipeSurroundings> surroundings; ///< without it no heat is lost
    std::optional<HighLimit> high_limit;
    Place place; ///< of its name
    Place from_place;
    Place to_place;
};

/// A vessel, a pair of close tees or a buffer that joins flow and return between two circuits.
struct Separator {
    enum class Kind { Header, CloseTees, Buffer };
    Kind kind = Kind::Header;
    std::string name;
    double bore_m = 0.0;
    double height_m = 0.0; ///< between flow and return connections; length of common pipe for tees
    std::optional<double> volume_m3; ///< else bore and height
    Place place;
};

/// How a kind of floor is built, without the pipe in it.
struct FloorBuild {
    std::string name;
    models::FloorSection section; ///< spacing and pipe still empty
    double below_c = 10.0;        ///< temperature of the ground, cellar or room below
    Place place;
};

/// A floor loop's share of heated floor.
struct FloorPart {
    models::FloorSection section; ///< complete
    double area_m2 = 0.0;
    double below_c = 10.0;
    std::optional<models::FloorResponse> response; ///< worked out once, when first needed
};

/// What gives an emitter's heat to the room; without it the file's heat and drop stand.
using Emission = std::variant<std::monostate, FloorPart, models::Radiator>;

/// What a balancing valve at an emitter does in the network.
struct Balancing {
    enum class Kind {
        Open,    ///< fully open
        Kv,      ///< set to `kv_m3_h`, or open where that is more
        Limiter, ///< ideal: passes at most the design flow, takes at least the open loss
        Shut
    };
    Kind kind = Kind::Open;
    double kv_m3_h = 0.0;
};

struct Emitter {
    enum class Kind { FloorLoop, Radiator };
    enum class Body { Radiator, FanConvector, TowelRail };
    Kind kind = Kind::FloorLoop;
    Body body = Body::Radiator; ///< of a radiator
    std::string name;
    std::string room;
    std::string from;         ///< place whose flow and return it joins, or a node (one-pipe)
    std::string to;           ///< the second node of a one-pipe connection, else empty
    double heat_w = 0.0;      ///< heat it must carry from the water
    double room_heat_w = 0.0; ///< of that, what reaches its room
    Emission emission;
    double drop_k = 0.0;           ///< design temperature drop
    std::optional<double> inlet_c; ///< of the design; else the source's flow temperature
    double indoor_c = 20.0;
    PipeChoice pipe;       ///< loop pipe or radiator tails; bore 0 for none
    double length_m = 0.0; ///< port to port for a loop, one tail for a radiator
    double tails_m = 0.0;  ///< of a loop's length, what lies outside its room
    std::optional<PipeSurroundings> surroundings; ///< of the tails; without it they lose no heat
    bool existing = false;
    std::optional<double> curved_share;
    std::optional<double> bend_diameter_m;
    std::optional<double> valve_kv_m3_h;      ///< manifold valve and meter, or radiator valve
    std::optional<double> lockshield_kv_m3_h; ///< fully open; radiators
    std::optional<double> least_kv_m3_h;      ///< of the balancing valve at its finest setting
    std::optional<double> body_zeta;
    std::optional<double> volume_m3;       ///< water in a radiator
    bool exponent_assumed = false;         ///< of a radiator's output
    std::optional<double> flow_limit_c;    ///< highest water temperature a floor takes
    std::optional<double> surface_limit_c; ///< highest surface temperature of a floor
    std::string zone;
    std::optional<std::size_t> laying; ///< into House::layings, of a loop the program lays
    Balancing balancing;
    Place place; ///< of its name, if it has one
    Place from_place;
    Place to_place;
};

/// A room's floor for the program to lay with equal loops. Until it is laid (solver/questions/lay),
/// one loop stands for all of them; as emitters they carry the index of their laying.
struct Laying {
    std::string name;                   ///< of its loops, followed by a number
    double area_m2 = 0.0;               ///< floor the loops cover, tails left out
    std::optional<double> spacing_m;    ///< else the program chooses
    std::optional<double> closest_m;    ///< spacing it may go down to
    double tails_m = 0.0;               ///< of each loop, from the manifold to the floor and back
    std::optional<double> longest_m;    ///< a loop may be, tails included
    std::optional<double> loop_head_pa; ///< a loop's pipe may take at its design flow
    Place place;
};

struct Manifold {
    std::string name;
    std::optional<double> bar_bore_m; ///< with bar_pitch_m: losses along the bars
    double bar_pitch_m = 0.05;
    std::vector<std::size_t> loops; ///< into House::emitters, along the bar from its inlet
    std::optional<HighLimit> high_limit;
    Place place;
};

struct Bypass {
    std::string name;
    std::string at;
    double kv_m3_h = 0.0;
    std::optional<double> opens_pa; ///< absent: an open pipe or valve, always passing
    Place place;
    Place at_place;
};

/// Some warm water at the tap, a day.
struct Draw {
    double volume_m3 = 0.0;
    double at_c = 40.0;
};

/// The store heated through from time to time, against legionella.
struct Pasteurising {
    double to_c = 60.0;
    double every_h = 0.0;
    std::optional<double> source_to_c; ///< what the source does of it; else the usual store_to
};

/// The cylinder behind a coil; each part as far as the file gives it.
struct Cylinder {
    std::optional<double> volume_m3;
    std::optional<double> coil_area_m2;
    std::optional<double> coil_u_w_m2_k; ///< with the area
    std::optional<double> coil_ua_w_k;   ///< stated, or their product
    std::optional<double> cold_c;        ///< of the mains
    std::optional<double> store_to_c;
    std::optional<double> reheat_from_c; ///< store at which the reheat is called for
    std::optional<Draw> draw;
    std::optional<double> immersion_w; ///< electric heater in the store
    std::optional<Pasteurising> pasteurising;
};

struct HotWater {
    std::string from; ///< place of the diverter
    Resistance coil;
    double flow_m3_s = 0.0; ///< flow the coil needs
    double flow_temperature_c = 60.0;
    double drop_k = 5.0;
    bool after_run_to_floors = false; ///< hot water left in the source goes to the heating side
    Cylinder cylinder;
    Place place;
    Place from_place;
};

/// A tee whose losses follow the split (three runs meet).
struct Tee {
    std::string at; ///< a place or a node
    double bore_m = 0.0;
    double branch_bore_m = 0.0;
    std::string combined, through, branch; ///< run or emitter names
    Place place;
    Place at_place, combined_place, through_place, branch_place;
};

struct HeldPressure {
    std::string at;
    double pressure_pa;
    Place place;
};
struct OpenVessel {
    std::string at;
    double level_m;
    Place place;
};
struct FixedFlow {
    std::string at;
    double in_m3_s; ///< negative for flow out
    Place place;
};

/// Where pressure is set: expansion vessel and cold fill pressure at its connection.
struct Fill {
    std::string at;
    double pressure_pa = 0.0; ///< gauge
    std::optional<double> safety_valve_pa;
    std::optional<double> vessel_m3; ///< of the vessel there is
    std::optional<double> other_m3;  ///< water that no part of the house holds
    std::optional<double> highest_c; ///< water at its hottest, the limiter's setting
    std::optional<double> inhibitor_share;
    std::optional<double> flush_m_s;
    std::string safety_valve_at;
    Place place;
    Place safety_valve_place;
};

struct FabricPart {
    std::string what; ///< "wall", "window", ...
    models::FabricElement element;
};

struct Room {
    std::string name;
    std::optional<double> floor_area_m2;
    double indoor_c = 20.0;
    double loss_w = 0.0; ///< the surveyed figure, or else worked out from what follows
    std::optional<double> surveyed_w;
    std::vector<FabricPart> fabric;
    std::optional<double> thermal_bridge_w_m2k;
    std::optional<double> volume_m3;
    std::optional<double> air_changes_per_h;
    std::optional<double> time_constant_h; ///< heat stored over heat loss coefficient
    Place place;
};

/// The weather of a year, and how the house is run through it.
struct Year {
    std::optional<models::ClimateKind> climate;
    std::vector<models::TemperatureBin> hours; ///< in place of a climate
    std::optional<double> heating_limit_c;     ///< no heat at or above it
    /// Sun and people give all year what the house loses at the heating limit.
    bool free_heat = true;
    std::optional<double> lowest_flow_c; ///< ends of the weather curve
    std::optional<double> highest_flow_c;
};

/// What takes up the heat of a source whose least output is above the load.
struct CycleStore {
    std::optional<double> added_water_m3; ///< beyond the pipes: buffer, source, radiators
    std::optional<double> water_swing_k;
    std::optional<double> floor_swing_k;
};

/// Prices and CO2 factors of energy.
struct Tariff {
    std::optional<double> electricity_per_kwh;
    std::optional<double> gas_per_kwh; ///< of gross heat
    std::optional<double> electricity_kg_kwh;
    std::optional<double> gas_kg_kwh;
    std::string currency; ///< words for it, may be empty
};

/// Tolerances that make headroom a band.
struct Margin {
    double curve = 0.05;  ///< of the circulator's head
    double bore = 0.01;   ///< of every bore
    double filter = 0.50; ///< growth of strainer and filter losses by dirt
    bool stated = false;
};

/// What `drive` and others do to the whole network.
struct Condition {
    bool buoyancy = false;
    bool rooms_float =
        false;              ///< rooms settle where output meets loss, not at their set temperature
    bool hot_water = false; ///< diverter over to the coil
    models::Transition transition = models::Transition::Middle;
    double bore_factor = 1.0;
    double filter_factor = 1.0;
    double curve_factor = 1.0;
    std::optional<double> all_water_c; ///< cold start: every link at this temperature
    std::optional<double> sent_c;      ///< what the source sends while emitters stay as designed
};

struct House;

/// A named set of changes laid over the base of the file: a house of its own.
struct Proposal {
    std::string name;
    std::shared_ptr<const House> house;
};

struct House {
    std::string name;
    std::string note;
    models::Fluid fluid;
    bool fluid_stated = false;
    std::optional<double> outdoor_c;
    double air_heat = models::air_heat_standard; ///< W/(m3 K) per air change an hour
    double open_water_c = 20.0;                  ///< of a network without a source
    std::optional<double> cold_start_c;
    std::map<std::string, double> storeys; ///< level names
    std::map<std::string, double> levels;  ///< of places and nodes [m]
    bool levels_given = false;
    std::vector<Room> rooms;
    std::vector<FloorBuild> floors;
    std::optional<Source> source;
    std::vector<Run> runs;
    std::optional<Separator> separator;
    std::vector<Manifold> manifolds;
    std::vector<Emitter> emitters;
    std::vector<Laying> layings;
    std::vector<Bypass> bypasses;
    std::optional<HotWater> hot_water;
    std::vector<Tee> tees;
    std::vector<HeldPressure> held;
    std::vector<OpenVessel> vessels;
    std::vector<FixedFlow> fixed;
    std::optional<Fill> fill;
    Margin margin;
    Year year;
    CycleStore cycle_store;
    Tariff tariff;
    Prices prices;
    Habits habits;
    Catalogue catalogue;
    Condition condition;
    std::vector<Proposal> proposals;
};

} // namespace headroom::networks
