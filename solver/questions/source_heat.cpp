#include "solver/questions/source_heat.hpp"

#include <fmt/format.h>

namespace headroom::solver {
namespace {

SourceHeat of_heat_pump(const models::HeatPump &pump, double outdoor_c, double flow_c,
                        double load_w) {
    const models::HeatPumpState state = models::heat_pump_state(pump, outdoor_c, flow_c);
    const models::HeatPumpLoad load = models::heat_pump_load(pump, state, load_w);
    SourceHeat out;
    out.load_w = load_w;
    out.heat_pump = true;
    out.greatest_w = state.output_w;
    out.least_w = state.least_output_w;
    out.short_w = load.short_w;
    out.efficiency = load.cop;
    out.input_w = load.electrical_w;
    out.cycles = load.load == models::LoadStatus::Cycles;
    out.within_rating = models::within_rating(state);
    out.flattered =
        state.flow == models::RangeStatus::Above || state.source == models::RangeStatus::Below;
    return out;
}

SourceHeat of_boiler(const models::Boiler &boiler, double return_c, double load_w) {
    const models::BoilerState state = models::boiler_state(boiler, return_c, load_w);
    SourceHeat out;
    out.load_w = load_w;
    out.greatest_w = boiler.greatest_w;
    out.least_w = boiler.least_w;
    out.short_w = state.short_w;
    out.efficiency = state.efficiency;
    out.input_w = state.gas_w;
    out.cycles = state.load == models::LoadStatus::Cycles;
    out.within_rating = state.flue == models::RangeStatus::Inside;
    return out;
}

} // namespace

SourceHeat source_heat_at(const networks::Source &source, double outdoor_c, double flow_c,
                          double return_c, double load_w) {
    if (const auto *pump = std::get_if<models::HeatPump>(&source.heat))
        return of_heat_pump(*pump, outdoor_c, flow_c, load_w);
    return of_boiler(std::get<models::Boiler>(source.heat), return_c, load_w);
}

std::optional<SourceHeat> source_heat(const networks::House &house, double flow_c, double return_c,
                                      double load_w) {
    const auto &heat = house.source->heat;
    const bool needs_outdoor = std::holds_alternative<models::HeatPump>(heat);
    if (std::holds_alternative<std::monostate>(heat) || (needs_outdoor && !house.outdoor_c))
        return std::nullopt;
    return source_heat_at(*house.source, house.outdoor_c.value_or(0.0), flow_c, return_c, load_w);
}

std::optional<double> least_return_c(const networks::House &house) {
    const auto *boiler = std::get_if<models::Boiler>(&house.source->heat);
    if (boiler == nullptr || boiler->condensing)
        return std::nullopt;
    return house.source->least_return_c.value_or(house.habits[networks::Habit::LeastReturn]);
}

std::string cold_return(const networks::House &house, double return_c) {
    const std::optional<double> least_c = least_return_c(house);
    if (!least_c || return_c >= *least_c)
        return {};
    const networks::HabitInfo &habit = networks::habit_info(networks::Habit::LeastReturn);
    return fmt::format(
        "water comes back to the boiler at {:.1f} degC, below {:g} degC{}: one not made for "
        "condensate sweats inside and corrodes; it wants a valve that holds its return up, or a "
        "boiler made for condensate in its place",
        return_c, *least_c,
        house.source->least_return_c
            ? ""
            : fmt::format(" (common practice, {:g} to {:g})", habit.low, habit.high));
}

std::optional<double> least_flow_l_min(const networks::House &house) {
    if (!house.source->least_flow_m3_s)
        return std::nullopt;
    return *house.source->least_flow_m3_s * 6.0e4;
}

} // namespace headroom::solver
