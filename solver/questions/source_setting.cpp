#include "solver/questions/source_setting.hpp"

#include "solver/questions/judge.hpp"
#include "solver/questions/pump_duty.hpp"
#include "solver/questions/variants.hpp"
#include "solver/root.hpp"
#include "solver/solve.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::Balancing;
using networks::House;

// Its curve with the tolerances and the derating that the network gives it.
networks::RunningPump circulator(const House &house) {
    const networks::Network network = networks::expand(house);
    return std::get<networks::RunningPump>(network.links[network.source->pump].component);
}

// The head at which the house with its valves set passes a flow, or what drives the most that the
// circulator can where that is less.
double head_for(const House &free, double flow_kg_s, double low_pa, double high_pa) {
    const auto excess = [&](double rise_pa) {
        return source_flow_kg_s(with_ideal_rise(free, rise_pa)).value_or(0.0) - flow_kg_s;
    };
    return bracketed_root(excess, low_pa, high_pa, 1e-6 * flow_kg_s);
}

} // namespace

double sent_density_kg_m3(const House &house) {
    return models::fluid_state(house.fluid, house.source->flow_temperature_c).density_kg_m3;
}

std::optional<double> source_flow_kg_s(const House &house) {
    const networks::Network network = networks::expand(house);
    const Solution solution = solve(network, &house);
    if (!solution.outcome.converged())
        return std::nullopt;
    return solution.flow_kg_s[network.source->pump];
}

double circulator_rise_pa(const House &house, double flow_kg_s) {
    const networks::RunningPump pump = circulator(house);
    return -models::running_pump_loss(pump.curve, pump.speed, models::no_limit,
                                      sent_density_kg_m3(house), flow_kg_s)
                .pressure_pa;
}

double circulator_speed_for(const House &house, double flow_kg_s, double rise_pa) {
    const double density = sent_density_kg_m3(house);
    return speed_for(circulator(house).curve, flow_kg_s / density,
                     std::max(0.0, rise_pa) * 1000.0 / density);
}

House as_set(const House &single, const DriveAnswer &driven) {
    House house = single;
    for (networks::Run &run : house.runs)
        for (networks::Part &part : run.parts)
            if (part.kind == networks::Part::Kind::Zone)
                part.open = true;
    for (std::size_t i = 0; i < driven.emitters.size(); ++i)
        for (networks::Emitter &emitter : house.emitters)
            if (emitter.name == driven.emitters[i].name && driven.emitters[i].heat_leak)
                emitter.balancing = {};
            else if (emitter.name == driven.emitters[i].name &&
                     driven.emitters[i].valve_kv_m3_h > 0.0)
                emitter.balancing = {Balancing::Kind::Kv, driven.emitters[i].valve_kv_m3_h};
    return house;
}

SourceSetting source_setting(const House &full, const House &free, const BalancedAt &balanced) {
    constexpr double most_pa = 5.0e6; // 50 bar
    const double density = sent_density_kg_m3(full);
    SourceSetting out;
    out.balanced = balanced;
    out.flow_m3_s = std::max(balanced.flow_m3_s, full.source->least_flow_m3_s.value_or(0.0));
    const double flow_kg_s = out.flow_m3_s * density;
    out.available_pa = residual_head_pa(full, flow_kg_s);
    out.inner_pa = circulator_rise_pa(full, flow_kg_s) - out.available_pa;
    out.needed_pa = balanced.needed_pa;
    out.set_pa = balanced.set_pa;
    if (out.below_least_flow()) {
        out.needed_pa = head_for(free, flow_kg_s, balanced.needed_pa, most_pa);
        out.set_pa = out.needed_pa <= out.available_pa ? out.needed_pa : 0.0;
    }
    out.speed = circulator_speed_for(full, flow_kg_s,
                                     (out.enough() ? out.set_pa : out.needed_pa) + out.inner_pa);
    return out;
}

} // namespace headroom::solver
