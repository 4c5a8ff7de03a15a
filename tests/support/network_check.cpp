#include "tests/support/network_check.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::tests {

using namespace networks;

models::Loss link_law(const Network &network, const models::FluidState &fluid, LinkId id,
                      double flow_kg_s) {
    const Link &link = network.links[id];
    double cold = 0.0;
    models::Loss law = component_loss(link.component, fluid, flow_kg_s, cold);
    if (network.buoyancy)
        law.pressure_pa +=
            (fluid.density_kg_m3 - network.reference_density_kg_m3) * models::gravity_m_per_s2 *
            (network.nodes[link.to].elevation_m - network.nodes[link.from].elevation_m);
    return law;
}

double link_fall_pa(const Network &network, const models::FluidState &fluid, LinkId id,
                    double flow_kg_s) {
    return link_law(network, fluid, id, flow_kg_s).pressure_pa;
}

AtBound at_bound(const Component &component, double flow_kg_s, double slack_kg_s) {
    const FlowBounds bounds = flow_bounds(component);
    const bool least = flow_kg_s <= bounds.least_kg_s + slack_kg_s;
    const bool most = flow_kg_s >= bounds.most_kg_s - slack_kg_s;
    return least && most ? AtBound::Both
           : least       ? AtBound::Least
           : most        ? AtBound::Most
                         : AtBound::No;
}

namespace {

double largest(const std::vector<double> &flows) {
    double most = 0.0;
    for (double flow : flows)
        most = std::max(most, std::abs(flow));
    return most;
}

double potential_of_pressure(const Network &network, NodeId node, double pressure_pa) {
    return pressure_pa + network.reference_density_kg_m3 * models::gravity_m_per_s2 *
                             network.nodes[node].elevation_m;
}

} // namespace

bool pressures_exist(const Network &network, const std::vector<models::FluidState> &fluid,
                     const std::vector<double> &flow_kg_s, double tolerance_pa) {
    // head[to] <= head[from] + length, one such constraint an arc.
    struct Arc {
        NodeId from, to;
        double length;
    };
    std::vector<Arc> arcs;
    const double slack = 1e-11 * largest(flow_kg_s);
    for (LinkId e = 0; e < network.links.size(); ++e) {
        const Link &link = network.links[e];
        const double fall = link_fall_pa(network, fluid[e], e, flow_kg_s[e]);
        const AtBound bound = at_bound(link.component, flow_kg_s[e], slack);
        if (bound == AtBound::No || bound == AtBound::Most) // falls by at least its law
            arcs.push_back({link.from, link.to, -fall + tolerance_pa});
        if (bound == AtBound::No || bound == AtBound::Least) // and by at most its law
            arcs.push_back({link.to, link.from, fall + tolerance_pa});
    }
    for (std::size_t i = 1; i < network.held.size(); ++i) {
        const NodePressure &a = network.held[0];
        const NodePressure &b = network.held[i];
        const double rise = potential_of_pressure(network, b.node, b.pressure_pa) -
                            potential_of_pressure(network, a.node, a.pressure_pa);
        arcs.push_back({a.node, b.node, rise + tolerance_pa});
        arcs.push_back({b.node, a.node, -rise + tolerance_pa});
    }
    // Arcs without a shortest way among them go round a cycle of negative length: no pressures.
    std::vector<double> head(network.nodes.size(), 0.0);
    for (std::size_t round = 0; round <= network.nodes.size(); ++round) {
        bool shortened = false;
        for (const Arc &arc : arcs)
            if (head[arc.from] + arc.length < head[arc.to]) {
                head[arc.to] = head[arc.from] + arc.length;
                shortened = true;
            }
        if (!shortened)
            return true;
    }
    return false;
}

Network as_solved(Network network, const solver::Solution &solution) {
    std::size_t k = 0;
    for (LinkId e = 0; e < network.links.size(); ++e) {
        Component &component = network.links[e].component;
        if (auto *pump = std::get_if<RunningPump>(&component))
            if (rises_with_flow(*pump))
                pump->limit_pa = solution.pump_limits_pa.at(k++);
        if (auto *leg = std::get_if<TeeLeg>(&component)) {
            leg->resistance = 0.0;
            leg->gain_pa = -solution.open_loss_pa[e];
        }
    }
    for (std::size_t m = 0; m < network.mixers.size(); ++m) {
        const MixerNode &mixer = network.mixers[m];
        const double travel = solution.mixers.at(m).travel;
        network.links[mixer.hot].component = FlowFactor{mixer.kv_m3_h * travel};
        network.links[mixer.cold].component = FlowFactor{mixer.kv_m3_h * (1.0 - travel)};
    }
    return network;
}

NetworkCheck check_network(const Network &network, const solver::Solution &solution) {
    NetworkCheck check;
    const std::vector<double> &flow = solution.flow_kg_s;
    const double largest_flow = largest(flow);
    check.mass_tolerance_kg_s = 1e-10 * largest_flow + 1e-18;

    std::vector<double> imbalance(network.nodes.size(), 0.0);
    for (const NodeFlow &fixed : network.fixed)
        imbalance[fixed.node] += fixed.in_kg_s;
    for (LinkId e = 0; e < network.links.size(); ++e) {
        imbalance[network.links[e].from] -= flow[e];
        imbalance[network.links[e].to] += flow[e];
        const FlowBounds bounds = flow_bounds(network.links[e].component);
        check.worst_bound_kg_s = std::max(
            {check.worst_bound_kg_s, flow[e] - bounds.most_kg_s, bounds.least_kg_s - flow[e]});
    }
    for (const NodePressure &held : network.held)
        imbalance[held.node] = 0.0;
    check.worst_mass_kg_s = largest(imbalance);

    double largest_loss = 0.0;
    for (LinkId e = 0; e < network.links.size(); ++e)
        largest_loss =
            std::max(largest_loss, std::abs(link_fall_pa(network, solution.fluid[e], e, flow[e])));
    check.law_tolerance_pa = std::max(1e-6, 1e-9 * largest_loss);
    for (LinkId e = 0; e < network.links.size(); ++e) {
        const Link &link = network.links[e];
        if (!solution.pressure_known[link.from] || !solution.pressure_known[link.to])
            continue;
        const double excess =
            potential_of_pressure(network, link.from, solution.pressure_pa[link.from]) -
            potential_of_pressure(network, link.to, solution.pressure_pa[link.to]) -
            link_fall_pa(network, solution.fluid[e], e, flow[e]);
        const AtBound bound = at_bound(link.component, flow[e], 1e-11 * largest_flow);
        const double wrong = bound == AtBound::No      ? std::abs(excess)
                             : bound == AtBound::Most  ? -excess
                             : bound == AtBound::Least ? excess
                                                       : 0.0;
        if (!(wrong <= check.worst_law_pa)) {
            check.worst_law_pa = wrong;
            check.where = link.name;
        }
    }
    for (const NodePressure &held : network.held)
        check.worst_held_pa = std::max(
            check.worst_held_pa, std::abs(solution.pressure_pa[held.node] - held.pressure_pa));
    check.pressures_exist = pressures_exist(network, solution.fluid, flow, check.law_tolerance_pa);
    return check;
}

} // namespace headroom::tests
