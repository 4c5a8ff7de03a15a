#include "solver/questions/settings.hpp"

#include "models/local_loss.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {

using networks::Balancing;
using networks::House;

double SolvedHouse::source_l_min() const {
    const networks::LinkId pump = network.source->pump;
    return litres_per_minute(solution.flow_kg_s[pump], solution.fluid[pump].density_kg_m3);
}

double SolvedHouse::share(const networks::EmitterLinks &links) const {
    return solution.flow_kg_s[links.links.front()] / links.design_flow_kg_s;
}

SolvedHouse solved(const House &house) {
    SolvedHouse out{networks::expand(house), {}};
    out.solution = solve(out.network, &house);
    return out;
}

double litres_per_minute(double flow_kg_s, double density_kg_m3) {
    return flow_kg_s / density_kg_m3 * 6.0e4;
}

namespace {

ValveSetting setting_of(const House &house, const SolvedHouse &limited,
                        const networks::EmitterLinks &links) {
    const Solution &solution = limited.solution;
    const networks::LinkId valve = *links.balancing;
    const auto &finest = house.emitters[links.emitter].least_kv_m3_h;
    ValveSetting out{};
    out.emitter = links.emitter;
    out.design_kg_s = links.design_flow_kg_s;
    out.flow_kg_s = solution.flow_kg_s[valve];
    out.loss_pa = solution.loss_pa[valve];
    out.surplus_pa = std::max(0.0, solution.loss_pa[valve] - solution.open_loss_pa[valve]);
    for (networks::LinkId id : links.links)
        out.circuit_pa += solution.loss_pa[id];
    const bool flows = out.flow_kg_s > 0.0 && out.loss_pa > 0.0;
    const networks::Component &component = limited.network.links[valve].component;
    const auto *limiter = std::get_if<networks::FlowLimiter>(&component);
    out.is_set = limiter != nullptr;
    out.kv_m3_h =
        flows && !out.stays_open()
            ? models::kv_for_loss(out.flow_kg_s, out.loss_pa, solution.fluid[valve].density_kg_m3)
        : limiter != nullptr ? limiter->kv_m3_h
                             : std::get<networks::FlowFactor>(component).kv_m3_h;
    out.finest_assumed = !finest;
    out.finest_kv_m3_h = finest ? *finest : house.habits[networks::Habit::LeastValveKv];
    return out;
}

} // namespace

Settings valve_settings(const House &ideal) {
    return valve_settings(ideal, solved(ideal));
}

Settings valve_settings(const House &ideal, const SolvedHouse &limited) {
    Settings out;
    out.outcome = limited.solution.outcome;
    out.state = "circulator turned down";
    if (!out.outcome.converged())
        return out;
    out.set = ideal;
    for (const networks::EmitterLinks &links : limited.network.emitters) {
        out.valves.push_back(setting_of(ideal, limited, links));
        if (out.valves.back().is_set)
            out.set.emitters[links.emitter].balancing = {Balancing::Kind::Kv,
                                                         out.valves.back().kv_m3_h};
    }
    out.free = solved(out.set);
    out.outcome = out.free.solution.outcome;
    out.state = "free-running with the settings";
    if (!out.outcome.converged())
        return out;
    for (std::size_t i = 0; i < out.valves.size(); ++i) {
        ValveSetting &valve = out.valves[i];
        valve.free_kg_s = out.free.solution.flow_kg_s[out.free.network.emitters[i].links.front()];
        if (valve.flow_kg_s > 0.0)
            out.worst_error =
                std::max(out.worst_error, std::abs(valve.free_kg_s / valve.flow_kg_s - 1.0));
    }
    return out;
}

double turned_down_pa(const House &ideal, const HeadNeeded &needed,
                      std::optional<std::size_t> run) {
    const double needed_pa = -needed.solution.loss_pa[pump_link(needed.network, run)];
    House slow = ideal;
    networks::Pump &pump = run ? *slow.runs[*run].pump : slow.source->circulator;
    if (!pump.least_speed)
        return needed_pa;
    pump.speed = *pump.least_speed;
    return std::max(needed_pa, residual_head_pa(slow, needed.source_flow_kg_s, run));
}

} // namespace headroom::solver
