// Pipework as the engineer describes it: runs with their parts, pumps, header, ends.
#pragma once

#include "models/pump.hpp"
#include "models/valve.hpp"
#include "networks/catalogue.hpp"
#include "networks/pipe_surroundings.hpp"

#include <optional>
#include <string>
#include <utility>
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
    std::optional<double> eei; ///< energy efficiency index, from its plate (EN 16297)
    Place place;
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
    bool end_assumed = false;    ///< the file does not say at which
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

struct Bypass {
    std::string name;
    std::string at;
    double kv_m3_h = 0.0;
    std::optional<double> opens_pa; ///< absent: an open pipe or valve, always passing
    Place place;
    Place at_place;
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

} // namespace headroom::networks
