// The source's circulator as the only pump: its setting, its curve against the system's, others in
// its place.
#include "solver/questions/judge.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/source_setting.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <tuple>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;
using networks::Pump;

double residual_at_speed_pa(House house, double flow_kg_s, double speed) {
    house.source->circulator.mode = networks::PumpMode::FixedSpeed;
    house.source->circulator.speed = speed;
    return residual_head_pa(house, flow_kg_s);
}

CirculatorPoint point_at(const House &house, const Pump &as_found, double flow_m3_s, double head_pa,
                         double inner_pa, double density) {
    CirculatorPoint out;
    out.head_pa = head_pa;
    out.rise_pa = head_pa + inner_pa;
    out.speed = circulator_speed_for(house, flow_m3_s * density, out.rise_pa);
    out.power = pump_power_at(house, as_found, flow_m3_s, out.rise_pa, out.speed);
    return out;
}

SystemCurve system_curve(const House &single, const House &free, const CirculatorSetting &setting,
                         std::string state, double density) {
    SystemCurve out{std::move(state), {}};
    const auto add = [&](double flow_kg_s, double needs_pa, std::string crossing) {
        out.points.push_back({flow_kg_s / density, needs_pa, residual_head_pa(single, flow_kg_s),
                              residual_at_speed_pa(single, flow_kg_s, setting.set.speed),
                              std::move(crossing)});
    };
    constexpr std::array heads{0.05, 0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0};
    for (const double share : heads) {
        const double rise_pa = share * setting.needed_pa;
        if (const auto flow = source_flow_kg_s(with_ideal_rise(free, rise_pa)))
            add(*flow, rise_pa, "");
    }
    const auto cross = [&](double speed, const char *words) {
        House running = free;
        running.source->circulator.speed = speed;
        if (const auto flow = source_flow_kg_s(running))
            add(*flow, residual_at_speed_pa(single, *flow, speed), words);
    };
    cross(single.source->circulator.speed, "full speed");
    if (setting.enough)
        cross(setting.set.speed, "setting");
    const std::vector<SystemPoint> all = out.points;
    // A crossing stands for a head that happens to be its own.
    std::erase_if(out.points, [&](const SystemPoint &point) {
        return point.crossing.empty() &&
               std::any_of(all.begin(), all.end(), [&](const SystemPoint &other) {
                   return !other.crossing.empty() &&
                          std::abs(other.flow_m3_s - point.flow_m3_s) < 1e-4 * point.flow_m3_s;
               });
    });
    std::sort(out.points.begin(), out.points.end(),
              [](const SystemPoint &a, const SystemPoint &b) { return a.flow_m3_s < b.flow_m3_s; });
    return out;
}

Candidate candidate(const House &single, const networks::CirculatorModel &model,
                    const CirculatorSetting &setting, double density) {
    House house = single;
    Pump &pump = house.source->circulator;
    pump = {};
    pump.model = model.name;
    pump.curve = models::make_pump_curve(model.curve);
    pump.efficiency = model.efficiency;
    house.source->states = networks::CurveStates::Gross; // the pump's own curve
    const double flow_kg_s = setting.flow_m3_s * density;
    Candidate out;
    out.model = model.name;
    out.gives_pa = residual_head_pa(house, flow_kg_s);
    out.excess_pa = out.gives_pa - setting.needed_pa;
    out.beyond_curve = setting.flow_m3_s > pump.curve.points.back().flow_m3_s * (1.0 + 1e-9);
    out.enough = out.excess_pa >= 0.0 && !out.beyond_curve;
    const CirculatorPoint full =
        point_at(house, pump, setting.flow_m3_s, out.gives_pa, setting.inner_pa, density);
    const CirculatorPoint set =
        point_at(house, pump, setting.flow_m3_s, setting.needed_pa, setting.inner_pa, density);
    out.speed = set.speed;
    out.full = full.power;
    out.set = set.power;
    return out;
}

void add_candidates(const House &single, PumpAnswer &out, double density) {
    for (const networks::CirculatorModel &model : single.catalogue.circulators)
        out.candidates.push_back(candidate(single, model, out.setting, density));
    // Rounded to a milliwatt, so that equal efficiencies compare equal.
    const auto rank = [](const Candidate &a) {
        return std::tuple(!a.enough, a.enough ? std::llround(a.set.electric_w * 1e3) : 0LL,
                          std::abs(a.excess_pa), a.model);
    };
    std::sort(out.candidates.begin(), out.candidates.end(),
              [&](const Candidate &a, const Candidate &b) { return rank(a) < rank(b); });
}

} // namespace

void add_setting(const House &given, const House &sized, PumpAnswer &out) {
    const DriveAnswer driven = drive_verdict(given);
    CirculatorSetting &setting = out.setting;
    setting.verdict = driven.verdict;
    setting.sentence = driven.sentence;
    if (driven.verdict == Verdict::NotSolved) {
        out.outcome = driven.outcome;
        return;
    }
    if (driven.states.empty())
        return; // no head drives them all
    const Pump as_found = sized.source->circulator;
    const House single = single_circulator(sized);
    const double density = sent_density_kg_m3(sized);
    setting.external = sized.source->states == networks::CurveStates::External;
    const House free = as_set(single, driven);
    const SourceSetting found = source_setting(
        single, free, {driven.source_l_min / 6.0e4, driven.needed_pa, driven.set_pa});
    setting.design_m3_s = found.balanced.flow_m3_s;
    setting.balanced_pa = found.balanced.set_pa;
    setting.flow_m3_s = found.flow_m3_s;
    setting.needed_pa = found.needed_pa;
    setting.inner_pa = found.inner_pa;
    setting.enough = found.enough();
    const double available_pa = found.available_pa;
    setting.full =
        point_at(single, as_found, setting.flow_m3_s, available_pa, setting.inner_pa, density);
    setting.set =
        point_at(single, as_found, setting.flow_m3_s,
                 setting.enough ? found.set_pa : setting.needed_pa, setting.inner_pa, density);
    out.curves.push_back(system_curve(single, free, setting, "design", density));
    House cold = free;
    const double cold_c = given.cold_start_c.value_or(given.habits[Habit::ColdStart]);
    cold.condition.all_water_c = cold_c;
    House cold_single = single;
    cold_single.condition.all_water_c = cold_c;
    out.curves.push_back(system_curve(cold_single, cold, setting,
                                      fmt::format("cold start, water at {:g} degC", cold_c),
                                      models::fluid_state(sized.fluid, cold_c).density_kg_m3));
    add_candidates(single, out, density);
}

} // namespace headroom::solver
