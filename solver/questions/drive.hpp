// Can one circulator drive every loop?
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/heat_balance.hpp"
#include "solver/questions/how_sure.hpp"
#include "solver/questions/lay.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/source_heat.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

enum class Verdict {
    Yes,
    Marginal, ///< the sign of headroom changes within the band
    No,
    ThermalNo, ///< hydraulically yes, but a floor would get water it must not have
    NotSolved,
};

/// In words.
std::string verdict_word(Verdict verdict);

/// One piece of the index circuit, in the order the water meets it.
struct CircuitStep {
    std::string where; ///< "run primaries, flow"
    std::string what;  ///< "pipe 9 m copper 28x0.9"
    double flow_kg_s;
    double velocity_m_s; ///< 0 where there is no bore
    double loss_pa;
};

struct EmitterRow {
    std::string name;
    std::string kind; ///< "loop", "radiator", "fan convector" or "towel rail"
    double heat_w;
    double drop_k;
    double design_l_min;
    double velocity_m_s; ///< in its own pipe, at design flow; 0 without a pipe
    double reynolds;
    std::string regime;
    double own_loss_pa;   ///< through the emitter and its valves, open, at design flow
    double surplus_pa;    ///< to be throttled when the circulator gives the head needed
    double valve_kv_m3_h; ///< setting that takes the surplus at the head needed; 0 if none
    bool valve_in_range = true;
    bool heat_leak = false; ///< its valves stay fully open: it is neither set nor judged
    double reaches_share;   ///< flow with the circulator as it is over design flow
    double cold_share; ///< flow at cold start, running free with the settings, over design flow
};

/// Headroom under one state of the house.
struct StateRow {
    std::string state;
    std::string judged_by = "head"; ///< "head", "least flow" or "shown only"
    double source_l_min = 0.0;
    double needed_pa = 0.0; ///< 0 where the state is judged by flow alone
    double available_pa = 0.0;
    double headroom_pa = 0.0;
    double headroom_low_pa = 0.0; ///< ends of the band, of states judged by head
    double headroom_high_pa = 0.0;
    std::string remark;
    std::string fault;         ///< why the state says no; empty if it does not
    std::string doubt;         ///< why it may say no
    bool all_emitters = false; ///< every loop and radiator is open, and the coil shut
    bool decides() const { return judged_by != "shown only"; }
};

/// The house as found, or with only its header kept, beside the verdict.
struct BesideRow {
    std::string what;
    bool all_driven;
    std::string worst; ///< emitter farthest from its design flow
    double worst_share;
};

struct AssumptionRow {
    std::string what;
    std::string value;
    std::string range;
    /// Change of headroom at the two ends of the range; absent where it has none to show.
    std::optional<double> low_pa, high_pa;
};

struct ThermalLimit {
    std::string emitter;
    double limit_c;
    double water_c;
    std::string when;
};

/// How one emitter gives its heat, where the file says how it is built.
struct HeatRow {
    std::string name;
    double room_w;      ///< heat its room needs of it
    double down_w;      ///< what a floor loses to the space below
    double own_flow_c;  ///< flow temperature it needs at its own design drop
    double drop_k;      ///< at the house's flow temperature
    bool reaches;       ///< gives the room's heat at the house's flow temperature
    double gives_share; ///< of that heat, at the water that reaches it and its own design drop
    std::optional<double> rated_share; ///< of that heat, a radiator at its rating
    /// Rated output of a radiator that would just do, at the most flow it is given.
    std::optional<double> rated_needed_w;
    double design_drop_k = 0.0; ///< its own, from the file
    double short_w;             ///< what is missing even at the most flow
    double surface_c;           ///< highest on a floor; 0 for a radiator
    std::optional<double> surface_limit_c;
    std::optional<double> conduction_w_m2k, standard_w_m2k;
};

/// A set of changes that turns the verdict.
struct ChangeSet {
    std::vector<std::string> changes;
    double cost = 0.0;
    double headroom_pa = 0.0; ///< of the changed house
    double headroom_low_pa = 0.0;
    double flow_temperature_c = 0.0;
};

/// What the search for the least changes found (least_changes.hpp).
struct LeastChanges {
    std::vector<ChangeSet> sets; ///< cheapest first; empty if none was found
    bool proven = false;         ///< no cheaper set of the candidates works
    bool complete = false;       ///< every set of up to most_changes candidates was tried
    int candidates = 0;
    int judged = 0; ///< houses solved for it
    int most_changes = 0;
    std::string currency; ///< empty: relative figures
};

struct DriveAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    Verdict verdict = Verdict::NotSolved;
    std::string sentence;             ///< the verdict in words
    std::string decided_by;           ///< the state that decided
    std::vector<std::string> reasons; ///< all that speaks against a yes
    double needed_pa = 0.0;
    double available_pa = 0.0;
    double headroom_pa = 0.0;
    double headroom_low_pa = 0.0; ///< ends of the band
    double headroom_high_pa = 0.0;
    /// Where headroom is not available less needed: what limits it, for the headline; else empty.
    std::string headroom_note;
    double set_pa = 0.0; ///< pressure to turn the circulator down to; 0 if it is not enough
    double source_l_min = 0.0;
    std::optional<double> least_flow_l_min; ///< the source's, where the design flow is below it
    double flow_temperature_c = 0.0;
    double return_temperature_c = 0.0;
    std::string index;
    std::vector<CircuitStep> index_circuit;
    std::vector<EmitterRow> emitters;
    std::vector<StateRow> states;
    std::vector<BesideRow> beside;
    std::vector<std::string> band; ///< what the band is made of
    std::vector<AssumptionRow> assumed;
    std::vector<ThermalLimit> too_hot;
    std::vector<HeatRow> heat;
    std::vector<LaidRoom> laid; ///< rooms that the program laid
    std::string
        temperature_set_by; ///< the emitter that needs the warmest water; empty if not known
    double needed_temperature_c = 0.0;
    bool temperature_computed = false;
    double load_w = 0.0;              ///< source flow times heat capacity times (sent - return)
    std::optional<SourceHeat> source; ///< how it meets the design load
    std::vector<PipeLoss> pipe_losses;
    double pipe_loss_w = 0.0;
    int inlet_rounds = 0;                ///< Sizing::rounds
    double inlet_change_k = 0.0;         ///< Sizing::inlet_change_k
    std::optional<HowSure> how_sure;     ///< if asked for
    std::optional<LeastChanges> changes; ///< where they were sought
    std::vector<std::string> remarks;
    std::vector<std::string> cautions;
    double worst_setting_error = 0.0; ///< largest relative flow error of the computed settings
    Outcome outcome;
};

/// Answers for a house with a source and at least one emitter (why_not_driven).
DriveAnswer drive(const networks::House &house);

/// The same verdict without what only explains it: the worth of assumptions, the house as found,
/// the head at cold start.
DriveAnswer drive_verdict(const networks::House &house);

/// Empty if `drive` can be asked of the house, else why not.
std::string why_not_driven(const networks::House &house);

} // namespace headroom::solver
