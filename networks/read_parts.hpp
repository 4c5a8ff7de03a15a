// Reading of the parts that several sections of a house file share.
#pragma once

#include "networks/fields.hpp"
#include "networks/house.hpp"
#include "networks/names.hpp"

namespace headroom::networks {

namespace limits {
inline constexpr Range length{0.0, 5000.0};
inline constexpr Range bore{1e-3, 2.0};
inline constexpr Range kv{1e-3, 1e4};
inline constexpr Range pressure{0.0, 1e7};
inline constexpr Range flow{1e-8, 10.0};
inline constexpr Range head{0.0, 3e5, "no circulator of a house gives 30 m; check the unit"};
inline constexpr Range loop_kv{1e-3, 100.0, "a loop's valve has some m3/h; check the unit"};
inline constexpr Range heat{0.0, 1e6};
inline constexpr Range emitter_heat{1.0, 1e5, "no loop or radiator gives 100 kW; check the unit"};
inline constexpr Range drop{0.5, 60.0};
inline constexpr Range water_c{0.0, 110.0};
inline constexpr Range indoor_c{-5.0, 40.0};
inline constexpr Range water_volume{1e-5, 100.0};
inline constexpr Range level{-100.0, 1000.0};
} // namespace limits

/// What the section readers need to know and fill.
struct Reading {
    House &house;
    Diagnostics &diagnostics;
    /// False once a section could not be read: what refers to it is then not judged, as one cause
    /// gives one message.
    bool rooms_known = true;
    bool source_known = true;
    bool places_known = true;
    bool outdoor_known = true;
    std::vector<Text> junction_levels{}; ///< names under `junctions:`
    Place outdoor_place{};
    Range head = limits::head; ///< of a pump; of a network without a source any
};

/// `pipe: copper 28`, or `pipe: {bore: 13 mm, roughness: 0.007 mm}`.
PipeChoice read_pipe(Fields &fields, Reading &reading);

/// Kv, zeta, or `loss` with `at`, of the map in `fields`; `must` demands one of them.
Resistance read_resistance(Fields &fields, bool must);

/// `surroundings: 15 degC` and `insulation: {thickness: 19 mm, conductivity: 0.035 W/(m K)}` or
/// `insulation: bare` of a pipe that loses heat.
std::optional<PipeSurroundings> read_surroundings(Fields &fields, Reading &reading);

/// Points of a pump curve whose heads lie in a range.
std::vector<models::CurvePoint> read_curve(const Entry &entry, const Range &head,
                                           Diagnostics &diagnostics);

/// A pump's curve or model, mode and setting.
Pump read_pump(Fields &fields, Reading &reading);

std::vector<FittingCount> read_fittings(Fields &fields, Reading &reading);

/// A level in metres, or the name of one of `levels`.
std::optional<double> read_level(Fields &fields, std::string_view key, Reading &reading);

/// The source's temperature drop, if it gives one.
std::optional<double> source_drop(const House &house);

void read_rooms(Fields &root, Reading &reading);
/// Kinds of floor, under `floors:`.
void read_floors(Fields &root, Reading &reading);
/// `floor:` of a loop or manifold by name; null without one.
const FloorBuild *find_floor(Fields &fields, Reading &reading);
/// What the source gives: rated points or a share of Carnot, or a boiler's range.
void read_heat(Fields &fields, Source &source, Reading &reading);
void read_source(const Entry &entry, Place place, Reading &reading);
/// What limits a source: its highest temperature, a solid-fuel source's heat leak.
void read_source_safety(Fields &fields, Source &source, Reading &reading);
/// `high_limit` of a run or, without a choice of end, of a manifold.
std::optional<HighLimit> read_high_limit(Fields &fields, bool of_run, Reading &reading);
void read_hot_water(const Entry &entry, Place place, Reading &reading);
/// `year:`, `cycling:` and `tariff:`.
void read_year(Fields &root, Reading &reading);
/// `area` and `conductance`, or `ua`, of a cylinder coil.
void read_coil_heat(Fields &coil, Cylinder &cylinder, Reading &reading);
/// Store, temperatures, draw and pasteurising, beside the coil in `hot_water:`.
void read_cylinder(Fields &fields, HotWater &hot_water, Reading &reading);
void read_runs(Fields &root, Reading &reading);
/// A lockshield: turns open against Kv, and the turns it stands at.
void read_lockshield(const Entry &entry, Place place, Emitter &radiator, Reading &reading);
/// `meter: {from: 0.5 l/min, to: 5 l/min}` of a loop or manifold.
std::optional<MeterRange> read_meter(Fields &fields, Reading &reading);
void read_manifolds(const Entry &entry, Reading &reading);
void read_radiators(Fields &root, Reading &reading);
/// What was read on site, under `readings:`.
void read_readings(Fields &root, Reading &reading);
/// Gives emitters without a stated heat their share of the room's loss.
void share_room_losses(Reading &reading);
/// Every emitter needs a temperature drop, its own, its manifold's or the source's.
void check_drops(Reading &reading);

/// Refuses a house whose answers would take minutes; false if it did.
bool check_size(Reading &reading);
/// The house of a tree; its faults are told, not thrown.
House read_document(const Entry &document, Diagnostics &diagnostics);
/// Takes `proposals` out of the tree and reads each as a house of its own: the rest with its
/// changes laid over. Faults that the base has too are not told again.
void read_proposals(Entry &document, House &base, Diagnostics &diagnostics);

/// A reference must be a junction of one-way runs or one side of a place.
void check_junction(const std::string &name, Place place, const Names &names,
                    Diagnostics &diagnostics);
/// The readings' places, meters and pumps must be those of the house.
void check_readings(const House &house, const Names &names, Diagnostics &diagnostics);

/// Rules over the whole house: names, connections, references, loops with no return.
void validate(Reading &reading);
/// Design temperatures and heats that only a slip of the unit explains.
void check_slips(Reading &reading);
/// The floors of a room's loops, together, fit into the room.
void check_floor_areas(Reading &reading);
/// A surveyed room that nothing heats, or not wholly, is worth a question.
void warn_of_cold_rooms(Reading &reading);
/// The rules of stats, heat leak, safety valve and vessel; of a house otherwise without faults.
void validate_protection(Reading &reading);

} // namespace headroom::networks
