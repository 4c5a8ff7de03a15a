#include "solver/questions/balance_words.hpp"
#include "solver/questions/figure_words.hpp"

#include "models/units.hpp"

#include <fmt/format.h>

namespace headroom::solver {

using networks::Emitter;
using networks::House;

std::string pump_name(const House &house, const Circuit &circuit) {
    return circuit.run ? house.runs[*circuit.run].name : "source";
}

std::string pump_title(const House &house, const Circuit &circuit) {
    return circuit.run ? fmt::format("the pump of `{}`", house.runs[*circuit.run].name)
                       : "the source's circulator";
}

std::string mode_words(const networks::Pump &pump) {
    switch (pump.mode) {
    case networks::PumpMode::FixedSpeed:
        return "fixed speed";
    case networks::PumpMode::ConstantPressure:
        return "constant pressure";
    case networks::PumpMode::ProportionalPressure:
        return "proportional pressure";
    case networks::PumpMode::ConstantFlow:
        return "constant flow";
    case networks::PumpMode::Stopped:
        break;
    }
    return "stopped";
}

const networks::Pump &pump_found(const Balanced &work, const BalancedPump &pump) {
    return pump.circuit.run ? *work.house.runs[*pump.circuit.run].pump
                            : work.house.source->circulator;
}

std::string setting_words(const Balanced &work, const BalancedPump &pump) {
    const networks::Pump &found = pump_found(work, pump);
    if (pump.circuit.emitters.empty())
        return {};
    if (found.mode == networks::PumpMode::ConstantFlow)
        return flow_words(work.house.text_form, pump.flow_m3_s, 1);
    if (pump.as_set.mode == networks::PumpMode::FixedSpeed)
        return fmt::format("{:.0f} % of its speed", 100.0 * pump.as_set.speed);
    constexpr double least_dial_m = 0.5; // common practice
    const double head_m = pump.as_set.setting_pa / models::pa_per_metre_head;
    return fmt::format("{:.2f} m of head{}", head_m,
                       head_m < least_dial_m && !found.least_speed
                           ? fmt::format(", or its lowest: few go below {:g} m", least_dial_m)
                           : "");
}

std::optional<double> turns_of(const Emitter &emitter, double kv_m3_h) {
    if (emitter.lockshield_table.empty())
        return std::nullopt;
    return models::turns_at_kv(emitter.lockshield_table, kv_m3_h);
}

bool meter_holds(const std::optional<networks::MeterRange> &meter, double flow_m3_s) {
    return !meter || (flow_m3_s >= meter->from_m3_s && flow_m3_s <= meter->to_m3_s);
}

double valve_m3_s(const SolvedHouse &house, std::size_t order) {
    const networks::LinkId valve = *house.network.emitters[order].balancing;
    return house.solution.flow_kg_s[valve] / house.solution.fluid[valve].density_kg_m3;
}

} // namespace headroom::solver
