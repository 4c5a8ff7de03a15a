// How to balance a house: every valve's setting, every pump's, the order, what the meters then
// read; and, with readings from site, what is not as drawn.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/source_setting.hpp"
#include "solver/questions/suspects.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// Which house is balanced.
enum class BalanceScope {
    AsDrawn,          ///< the file's: header, mixers and secondary pumps stay
    SingleCirculator, ///< the source's circulator alone (variants.hpp)
};

struct BalanceValve {
    std::string name;
    std::string kind; ///< "loop" or "radiator"
    std::string pump; ///< what drives it: "source", or the run with its pump
    double design_m3_s;
    double now_share;       ///< flow in the house as the file has it, over the design flow
    double set_share;       ///< flow with all set, over the design flow
    double surplus_pa;      ///< what the valve takes beyond its open loss
    double valve_loss_pa;   ///< what it takes in all
    double circuit_pa;      ///< between the emitter's flow and return connections
    double authority_share; ///< of circuit_pa that the set valve takes
    double kv_m3_h;         ///< the setting
    double now_kv_m3_h;     ///< where the file has it; 0 shut
    bool open;              ///< an index: its valve stays open
    bool driven;            ///< its pump gives it the design flow
    bool blocked;          ///< no head would: a part on the way is shut, or turned against the flow
    bool in_range;         ///< its valve can be set so finely
    double finest_kv_m3_h; ///< the least it can be set to
    std::optional<double> turns;               ///< of its lockshield, where the file has its table
    std::optional<networks::MeterRange> meter; ///< its scale, where the file gives it
    bool meter_holds;                          ///< the scale shows the design flow
};

struct BalancePump {
    std::string name;  ///< "source" or the run's
    std::string title; ///< "the source's circulator", "the pump of `riser`"
    std::string mode;
    std::string setting; ///< what to set it to, in words; empty if it stays as it is
    std::string index;   ///< the emitter that decides; empty without emitters of its own
    std::size_t emitters;
    bool driven; ///< it can drive all of them
    double flow_m3_s;
    double needed_pa;    ///< at that flow; outside the source
    double available_pa; ///< on its highest curve
    double found_pa;     ///< as the file has it set
    double set_pa;
    /// Electrical, with the same flows throttled from found_pa, and set; absent where the pump
    /// would not give the water that flow: others push it through.
    std::optional<double> found_power_w, set_power_w;
};

/// One turn of one valve.
struct BalanceStep {
    std::string valve;
    double kv_m3_h;
    std::optional<double> turns;
    bool open;          ///< nothing to turn: an index, read it only
    double before_m3_s; ///< its meter before the turn
    double reads_m3_s;  ///< and after it
    bool meter_holds;   ///< the scale shows that
    double others_m3_s; ///< the next valve's meter at that moment; 0 after the last
    double final_m3_s;  ///< its meter once all are set
};

/// The valve to turn next, seen from the readings.
struct NextTurn {
    std::string valve;
    double now_kv_m3_h;
    double kv_m3_h;
    std::optional<double> turns;
    double now_m3_s;                ///< its flow now, as fitted
    double reads_m3_s;              ///< turn until its meter reads this
    std::vector<std::string> pumps; ///< to be set first, with their settings
};

struct BalanceAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    std::string sentence;
    std::string rule; ///< which house, and which pump balances what
    Outcome outcome;
    std::string state; ///< the state that was not solved, if one was not
    std::vector<BalancePump> pumps;
    std::vector<BalanceValve> valves;
    std::vector<BalanceStep> steps;
    double worst_error_share = 0.0; ///< flow error of the settings in the free-running house
    double efficiency = 0.0;        ///< of the pumps, hydraulic power over electrical
    double saved_w = 0.0;           ///< electrical, over all pumps
    /// Of the source's circulator, where with every valve set it is below the source's least flow.
    std::optional<SourceSetting> least_flow;
    std::vector<std::string> assumed;
    std::vector<std::string> remarks;
    std::optional<Diagnosis> diagnosis; ///< with readings
    std::optional<NextTurn> next;       ///< with readings
};

/// Answers for a house with a source and at least one emitter (why_not_driven).
BalanceAnswer balance(const networks::House &house, BalanceScope scope);

} // namespace headroom::solver
