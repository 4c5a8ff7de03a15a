// Everything that is handed over with a house, gathered from the other questions.
#pragma once

#include "models/floor_conduction.hpp"
#include "solver/questions/bores.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/least_changes.hpp"
#include "solver/questions/losses.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/site_settings.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// A place of the drawing, where pipes meet.
struct DrawnPlace {
    enum class Kind { Source, Separator, Manifold, Junction };
    Kind kind = Kind::Junction;
    std::string name;
};

/// What stands between two places of the drawing, with what flows through it.
struct DrawnPart {
    enum class Kind { Run, Loop, Radiator, HotWater, Bypass };
    Kind kind = Kind::Run;
    std::string name;
    std::string from;    ///< the end nearer to the source; a place, or with `single` a point
    std::string to;      ///< empty for what hangs on both sides of `from`
    bool single = false; ///< one pipe from point to point, not a flow and a return
    bool on_index = false;
    bool closes_ring = false; ///< a run between places that the drawing has reached already
    std::string pipe;
    double flow_m3_s = 0.0;          ///< at its flow end
    double design_share = 0.0;       ///< of an emitter's design flow; 0 for others
    double flow_c = 0.0;             ///< where it enters, of a run with a mixer behind it
    double return_c = 0.0;           ///< where it leaves
    std::optional<double> hot_share; ///< of a mixer: travel towards its hot port
    std::optional<double> mixed_c;
    std::string pump; ///< its mode; empty without a pump
    std::string zone; ///< of a zone valve or zoned emitter
};

struct DrawnPoint {
    std::string name;
    double temperature_c;
    double pressure_pa; ///< relative to the source's return, or gauge
    bool known;
};

/// The house as pipes and places, solved in one state.
struct HouseDrawing {
    bool as_set = false;   ///< one circulator, valves set, turned down; else as the file has it
    bool absolute = false; ///< pressures are true gauge pressures
    std::string source;    ///< "boiler", "heat pump", ...
    double source_m3_s = 0.0;
    double sent_c = 0.0;
    double back_c = 0.0;
    std::optional<double> separator_m3_s; ///< from its flow to its return side
    std::vector<DrawnPlace> places;       ///< the source first
    std::vector<DrawnPart> parts;         ///< loops in the order of their manifold
    std::vector<DrawnPoint> points;
    Outcome outcome;
};

struct FlowPressure {
    double flow_m3_s;
    double pressure_pa;
};

/// Pressure between the source's connections against flow.
struct PressureCurve {
    enum class Kind { Circulator, Design, ColdStart, PartLoad };
    Kind kind;
    std::string name;
    std::vector<FlowPressure> points;
};

/// One build of floor, at the state of one of its loops on the design day.
struct FloorDrawing {
    std::string emitter;
    std::vector<std::string> others; ///< loops of the same section
    models::FloorSection section;
    double room_c, below_c;
    double water_c; ///< mean, along the loop
    double wall_c;  ///< inside of the pipe
    double surface_mean_c, surface_highest_c;
    double up_w_m2;
    std::optional<models::FloorField> field;
};

/// What the file said, for the record.
struct InputRow {
    std::string where;
    std::string what;
};

struct SheetAnswer {
    std::string house;
    std::string note;
    bool glycol = false;
    std::string source; ///< "boiler", "heat pump" or "solid-fuel boiler"
    DriveAnswer drive;
    std::optional<BoresAnswer> bores; ///< without changes for those refused
    std::optional<LossesAnswer> losses;
    std::optional<SeasonAnswer> season;
    std::string why_no_season;
    std::optional<HouseDrawing> drawing;
    std::vector<PressureCurve> curves;
    std::vector<FloorDrawing> floors;
    std::optional<FillAnswer> fill;
    SiteSettings settings;
    std::vector<InputRow> inputs;
    std::vector<std::string> cautions;
};

/// Of a house that drive() can be asked of.
SheetAnswer sheet(const networks::House &house, const SearchLimits &limits,
                  const Progress &progress = {});

// Its steps, one file each. `sized` is the house after size().

std::string source_word(const networks::Source &source);

/// The house with one circulator and the valves set for it where `drive` says that they can be, and
/// as the file has it where it has pumps, mixers or a header, or lacks head.
HouseDrawing draw_house(const networks::House &sized, const DriveAnswer &drive);

/// The circulator's residual head, and what the single-circulator house asks for at the design day,
/// at cold start and with all zones shut, its valves set for the head needed.
std::vector<PressureCurve> pressure_curves(const networks::House &sized, const DriveAnswer &drive);

/// Each different section once.
std::vector<FloorDrawing> draw_floors(const networks::House &sized);

std::vector<InputRow> sheet_inputs(const networks::House &house);

/// The single-circulator house with the rise given and each balancing valve at the Kv that passes
/// its design flow then.
networks::House set_for_rise(const networks::House &sized, double rise_pa);

} // namespace headroom::solver
