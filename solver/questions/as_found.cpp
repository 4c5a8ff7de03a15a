#include "solver/questions/as_found.hpp"

#include "networks/network.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <iterator>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Owner;

const networks::Pump *pump_of(const House &house, const Owner &owner) {
    if (owner.kind == Owner::Kind::Source)
        return &house.source->circulator;
    if (owner.kind == Owner::Kind::Run && house.runs[owner.index].pump)
        return &*house.runs[owner.index].pump;
    return nullptr;
}

// Straight between the points of a power curve, held at its ends.
double drawn_w(const std::vector<std::pair<double, double>> &points, double flow_m3_s) {
    const auto above = std::upper_bound(
        points.begin(), points.end(), flow_m3_s,
        [](double flow, const std::pair<double, double> &point) { return flow < point.first; });
    if (above == points.begin())
        return above->second;
    const auto below = std::prev(above);
    if (above == points.end())
        return below->second;
    const double share = (flow_m3_s - below->first) / (above->first - below->first);
    return below->second + share * (above->second - below->second);
}

} // namespace

AsFound as_found(const House &house) {
    const networks::Network network = networks::expand(house);
    const Solution solution = solve(network, &house);
    AsFound out;
    out.solved = solution.outcome.converged();
    if (!out.solved)
        return out;
    if (network.source)
        out.source_kg_s = solution.flow_kg_s[network.source->pump];
    for (networks::LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        const networks::Pump *pump = pump_of(house, link.owner);
        if (pump == nullptr || !std::holds_alternative<networks::RunningPump>(link.component))
            continue;
        const double flow_m3_s = solution.flow_kg_s[id] / solution.fluid[id].density_kg_m3;
        const double assumed = house.habits[networks::Habit::PumpEfficiency];
        if (pump->electric.empty())
            out.electric_w +=
                -solution.loss_pa[id] * flow_m3_s / pump->efficiency.value_or(assumed);
        else
            out.electric_w += drawn_w(pump->electric, flow_m3_s);
        out.efficiency_assumed =
            out.efficiency_assumed || (pump->electric.empty() && !pump->efficiency);
    }
    out.inlet_c.resize(house.emitters.size());
    for (const networks::EmitterLinks &emitter : network.emitters)
        out.inlet_c[emitter.emitter] = solution.heat.in_c[emitter.links.front()];
    return out;
}

} // namespace headroom::solver
