#include "solver/questions/circuit.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::Network;
using networks::NodeId;

// Bore of a component that has one, else 0.
double bore_of(const networks::Component &component) {
    if (const auto *pipe = std::get_if<networks::PipeFriction>(&component))
        return pipe->pipe.bore_m;
    if (const auto *fitting = std::get_if<networks::LocalLoss>(&component))
        return fitting->bore_m;
    return 0.0;
}

} // namespace

std::vector<LinkId> follow_water(const Network &network, const Solution &solution, NodeId start,
                                 NodeId end, bool downstream) {
    std::vector<LinkId> way;
    NodeId at = start;
    while (at != end && way.size() < network.links.size()) {
        LinkId best = network.links.size();
        double most = 0.0;
        for (LinkId e = 0; e < network.links.size(); ++e) {
            const networks::Link &link = network.links[e];
            double leaving = link.from == at ? solution.flow_kg_s[e]
                             : link.to == at ? -solution.flow_kg_s[e]
                                             : 0.0;
            if (!downstream)
                leaving = -leaving;
            if (leaving > most) {
                most = leaving;
                best = e;
            }
        }
        if (best == network.links.size())
            break;
        way.push_back(best);
        at = network.links[best].from == at ? network.links[best].to : network.links[best].from;
    }
    return way;
}

std::string regime_name(models::Regime regime) {
    switch (regime) {
    case models::Regime::Still:
        return "still";
    case models::Regime::Laminar:
        return "laminar";
    case models::Regime::Transition:
        return "transition";
    case models::Regime::Turbulent:
        return "turbulent";
    }
    return "";
}

std::vector<CircuitStep> circuit_steps(const networks::House &house, const Network &network,
                                       const Solution &solution,
                                       const networks::EmitterLinks &emitter) {
    std::vector<LinkId> way = follow_water(
        network, solution, network.links[emitter.links.front()].from, network.source->flow, false);
    std::reverse(way.begin(), way.end());
    way.insert(way.end(), emitter.links.begin(), emitter.links.end());
    const std::vector<LinkId> back = follow_water(
        network, solution, network.links[emitter.links.back()].to, network.source->back, true);
    way.insert(way.end(), back.begin(), back.end());
    std::vector<CircuitStep> steps;
    for (LinkId e : way) {
        const networks::Link &link = network.links[e];
        const auto *joint = std::get_if<networks::FlowFactor>(&link.component);
        if (joint != nullptr && joint->kv_m3_h >= networks::no_loss_kv_m3_h)
            continue; // joins two nodes and takes nothing
        const double flow = solution.flow_kg_s[e];
        const double bore = bore_of(link.component);
        steps.push_back(
            {network.owner_name(house, link.owner), link.name, std::abs(flow),
             bore > 0.0 ? std::abs(models::velocity_m_s(bore, solution.fluid[e], flow)) : 0.0,
             flow >= 0.0 ? solution.loss_pa[e] : -solution.loss_pa[e]});
    }
    return steps;
}

} // namespace headroom::solver
