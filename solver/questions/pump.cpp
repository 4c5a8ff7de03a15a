#include "solver/questions/pump.hpp"

#include "networks/quantity.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/questions/mixer_authority.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/source_setting.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

constexpr double w_per_kw = 1000.0;

void add_assumed(const House &house, Habit habit, PumpAnswer &out) {
    const networks::HabitInfo &info = networks::habit_info(habit);
    out.assumed.push_back(fmt::format("{}: {} ({} to {}), {}", info.name,
                                      networks::written(house.habits[habit], info.dimension),
                                      networks::written(info.low, info.dimension),
                                      networks::written(info.high, info.dimension), info.remark));
}

void add_duties(const House &house, const networks::Network &network, const Solution &solution,
                PumpAnswer &out) {
    for (PumpDuty &duty : pump_duties(house, network, solution)) {
        out.electric_w += duty.power.electric_w;
        if (duty.running && duty.rise_pa < 0.0)
            out.remarks.push_back(
                fmt::format("{}: other pumps push the water through this one", duty.where));
        out.pumps.push_back({std::move(duty), std::nullopt});
    }
}

// Energy at the setting while the emitters take only what the weather asks of them.
double held_kwh(const HeatingHouse &house, const CirculatorSetting &setting,
                const Operation &operation) {
    double kwh = 0.0;
    for (const models::TemperatureBin &bin : season_hours(house.house)) {
        const WeatherState state = at_outdoor(house, bin.outdoor_c, operation);
        if (!state.on)
            continue;
        double flow_kg_s = 0.0;
        for (const CircuitState &circuit : state.circuits)
            flow_kg_s += circuit.on ? circuit.flow_kg_s : 0.0;
        const double density = models::fluid_state(house.house.fluid, state.source_c).density_kg_m3;
        const double flow_m3_s = std::min(flow_kg_s / density, setting.flow_m3_s);
        const double share = flow_m3_s / setting.flow_m3_s;
        const double rise_pa = setting.set.head_pa + setting.inner_pa * share * share;
        const double speed = circulator_speed_for(house.house, flow_m3_s * density, rise_pa);
        kwh += bin.hours / w_per_kw *
               pump_power_at(house.house, house.house.source->circulator, flow_m3_s, rise_pa, speed)
                   .electric_w;
    }
    return kwh;
}

void add_year(const House &given, PumpAnswer &out) {
    out.no_year = why_no_season(given);
    if (!out.no_year.empty())
        return;
    const HeatingHouse house = heating_house(given);
    const Operation operation{true, 0.0, given.year.free_heat};
    const double hours = season_totals(house, operation).hours;
    out.heating_h = hours;
    for (PumpReport &pump : out.pumps)
        pump.year_kwh = pump.duty.power.electric_w * hours / w_per_kw;
    out.year_kwh = out.electric_w * hours / w_per_kw;
    if (out.setting.verdict == Verdict::NotSolved || !out.setting.enough)
        return;
    for (CirculatorPoint *point : {&out.setting.full, &out.setting.set})
        point->year_kwh = point->power.electric_w * hours / w_per_kw;
    out.setting.throttled_kwh = held_kwh(house, out.setting, operation);
}

} // namespace

PumpAnswer pumps(const House &given) {
    PumpAnswer out;
    out.house = given.name;
    out.form = given.text_form;
    const Sizing single = size(given);
    const Sizing sizing = size_as_found(given, single);
    const House &house = sizing.house;
    out.cautions = cautions(given);
    out.outcome = sizing_outcome(sizing);
    if (!out.outcome.converged())
        return out;
    const networks::Network network = networks::expand(house);
    const Solution solution = solve(network, &house);
    out.outcome = solution.outcome;
    if (!out.outcome.converged())
        return out;
    out.remarks = solution.remarks;
    for (std::string &words : unpumped_mixer_words(given))
        out.remarks.push_back(std::move(words));
    for (std::string &words : low_authority_words(house, network, solution))
        out.remarks.push_back(std::move(words));
    add_duties(house, network, solution, out);
    out.header = header_flows(house, network, solution);
    out.least_flow_m3_s = house.source->least_flow_m3_s;
    add_needs(house, out);
    add_setting(given, single.house, out);
    if (!out.outcome.converged())
        return out;
    add_year(given, out);
    if (std::any_of(out.pumps.begin(), out.pumps.end(),
                    [](const PumpReport &pump) { return pump.duty.power.assumed; }) ||
        std::any_of(out.candidates.begin(), out.candidates.end(),
                    [](const Candidate &candidate) { return candidate.set.assumed; }))
        add_assumed(house, Habit::PumpEfficiency, out);
    add_assumed(house, Habit::MotorEfficiency, out);
    for (std::string &words : assumed_mixer_ends(given))
        out.assumed.push_back(std::move(words));
    return out;
}

} // namespace headroom::solver
