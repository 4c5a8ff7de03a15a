// What the pumps do: duty and power of each, the setting of the one circulator, its curve against
// the system's, other circulators in its place, and the flows of a header.
#pragma once

#include "solver/outcome.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/pump_duty.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// A pump as the house stands.
struct PumpReport {
    PumpDuty duty;
    std::optional<double> year_kwh; ///< at that duty whenever there is heating
};

/// The circulator at one way of running it.
struct CirculatorPoint {
    double head_pa = 0.0; ///< between the source's connections
    double rise_pa = 0.0; ///< of the pump's curve: with what the source's inner parts take
    double speed = 0.0;   ///< at which the curve passes through it, affinity laws
    PumpPower power;
    std::optional<double> year_kwh; ///< at this duty whenever there is heating
};

/// The source's circulator as the only pump, at the design flow or, where that is less than the
/// source's least flow, at the least flow with the valves as they are set for the design flow.
struct CirculatorSetting {
    Verdict verdict = Verdict::NotSolved;
    std::string sentence;
    double flow_m3_s = 0.0;
    double design_m3_s = 0.0; ///< of loops and radiators; flow_m3_s is above it by a least flow
    double balanced_pa = 0.0; ///< that gives design_m3_s, to set the valves at; 0: not enough
    double needed_pa = 0.0;   ///< at flow_m3_s
    double inner_pa = 0.0;    ///< that the source's inner parts take of a gross curve
    bool external = false;    ///< the curve is what is left outside the source
    CirculatorPoint full;     ///< on its highest curve, the balancing valves taking the rest
    /// Turned down to what is needed, or to its least speed; where it is not enough, what it would
    /// have to give.
    CirculatorPoint set;
    bool enough = false;
    /// A year at the setting with thermostats that let each emitter take only what the weather
    /// asks of it.
    std::optional<double> throttled_kwh;

    bool below_least_flow() const { return flow_m3_s > design_m3_s; } ///< by the design flow
};

/// One flow on the system's curve.
struct SystemPoint {
    double flow_m3_s;
    double needs_pa;      ///< between the source's connections
    double full_pa;       ///< what the circulator gives there at its highest curve
    double set_pa;        ///< at the speed of the setting, not held to a pressure
    std::string crossing; ///< "full speed", "setting" where curve and system meet
};

struct SystemCurve {
    std::string state;
    std::vector<SystemPoint> points; ///< flow rising
};

/// A circulator of the catalogue in the place of the source's.
struct Candidate {
    std::string model;
    bool enough = false;
    bool beyond_curve = false; ///< the design flow lies past the last point of its curve
    double gives_pa = 0.0;     ///< between the connections at the design flow, full speed
    double excess_pa = 0.0;    ///< over the head needed; negative: what it lacks
    double speed = 0.0;        ///< that gives the head needed
    PumpPower full, set;
};

/// What a header, close tees or a buffer between two circuits pass on and mix.
struct HeaderFlows {
    std::string name;
    double primary_m3_s = 0.0;   ///< from the source's side
    double secondary_m3_s = 0.0; ///< drawn by the other side
    /// What short-circuits: above zero from flow to return, below from return to flow.
    double through_m3_s = 0.0;
    double primary_flow_c = 0.0; ///< arriving from the source
    double secondary_flow_c = 0.0;
    double secondary_return_c = 0.0; ///< arriving, mixed
    double primary_return_c = 0.0;
    double velocity_m_s = 0.0;         ///< of what passes through
    double whole_velocity_m_s = 0.0;   ///< of the larger flow, as headers are sized
    std::optional<double> balance_pa;  ///< head between the source's connections that ends it
    double balance_m3_s = 0.0;         ///< both flows then
    double balance_available_pa = 0.0; ///< the circulator's at that flow, highest curve
    double balance_speed = 0.0;
    double balance_flow_c = 0.0; ///< to the secondary then
    PumpPower balance_power;
};

/// What a pump has to do in the house as its file has it, every balancing valve set.
struct PumpNeed {
    std::string name; ///< "source" or the run's
    double flow_m3_s = 0.0;
    std::optional<double> needed_pa; ///< by its own loops and radiators, if it has any
    bool driven = true;              ///< it can drive all of them
    std::string setting;             ///< in words; empty if it stays as it is
};

struct PumpAnswer {
    std::string house;
    networks::TextForm form;
    std::vector<PumpReport> pumps;
    double electric_w = 0.0; ///< of all, as the house stands
    std::optional<double> year_kwh;
    std::optional<double> heating_h; ///< hours of heating a year
    std::string no_year;             ///< why there is none
    CirculatorSetting setting;
    std::vector<SystemCurve> curves;
    std::vector<Candidate> candidates; ///< enough ones first, then by electric power and excess
    std::vector<PumpNeed> needs;       ///< of a house with pumps besides the source's
    std::optional<HeaderFlows> header;
    std::optional<HeaderFlows> header_set; ///< with pumps and valves set to those needs
    std::optional<double> least_flow_m3_s; ///< the source's
    std::vector<std::string> assumed;
    std::vector<std::string> remarks;
    std::vector<std::string> cautions;
    Outcome outcome;
};

/// Vertical velocity up to which a header parts its circuits well (common practice, no source).
inline constexpr double quiet_header_m_s = 0.2;

/// Answers for a house that why_not_driven() accepts. Duties are those of the house as the file
/// leaves it, without buoyancy; the setting and the curves those of its single-circulator house
/// with the balancing valves as `drive` sets them.
PumpAnswer pumps(const networks::House &house);

/// Setting, curves and candidates, into an answer; `sized` is the file's house with heats, drops
/// and flow temperature filled in.
void add_setting(const networks::House &given, const networks::House &sized, PumpAnswer &answer);

/// Needs, and the header with all set to them, where the house has other pumps; `as_found` is sized
/// so (size_as_found).
void add_needs(const networks::House &as_found, PumpAnswer &answer);

/// The header's part in a solved house, where it has one.
std::optional<HeaderFlows> header_flows(const networks::House &house,
                                        const networks::Network &network, const Solution &solution);

} // namespace headroom::solver
