#include "solver/flow/pressures.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <queue>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::Network;
using networks::NodeId;

// Whether the link's flow stands at one of its own bounds, so that its pressure drop is free.
enum class AtBound { No, Least, Most, Both };

AtBound at_bound(const networks::Component &component, double flow_kg_s, double slack) {
    const networks::FlowBounds bounds = networks::flow_bounds(component);
    const bool least = flow_kg_s <= bounds.least_kg_s + slack;
    const bool most = flow_kg_s >= bounds.most_kg_s - slack;
    if (least && most)
        return AtBound::Both;
    return least ? AtBound::Least : most ? AtBound::Most : AtBound::No;
}

} // namespace

void recover_pressures(const Network &network, const networks::House *house,
                       const FlowEquations &equations, Solution &solution) {
    const std::size_t nodes = network.nodes.size();
    const std::size_t links = network.links.size();
    double largest_flow = 0.0;
    for (double flow : solution.flow_kg_s)
        largest_flow = std::max(largest_flow, std::abs(flow));
    const double slack = 1e-11 * std::max(largest_flow, 1e-9);

    std::vector<double> loss(links);
    std::vector<AtBound> bound(links);
    std::vector<std::vector<LinkId>> around(nodes);
    double largest_loss = 0.0;
    for (LinkId e = 0; e < links; ++e) {
        loss[e] = equations.laws().link_loss(e, solution.flow_kg_s[e]).pressure_pa;
        bound[e] = at_bound(network.links[e].component, solution.flow_kg_s[e], slack);
        largest_loss = std::max(largest_loss, std::abs(loss[e] - equations.laws().held_pa(e)));
        around[network.links[e].from].push_back(e);
        around[network.links[e].to].push_back(e);
    }

    // Potentials p + rho_ref g z, less the constants that link_loss folds in for held nodes, whose
    // potential is therefore zero.
    std::vector<double> potential(nodes);
    std::vector<int> part(nodes, -1);
    const auto spread = [&](NodeId start, double value, int number) {
        std::queue<NodeId> waiting;
        potential[start] = value;
        part[start] = number;
        waiting.push(start);
        while (!waiting.empty()) {
            const NodeId at = waiting.front();
            waiting.pop();
            for (LinkId e : around[at]) {
                if (bound[e] != AtBound::No)
                    continue;
                const networks::Link &link = network.links[e];
                const NodeId other = link.from == at ? link.to : link.from;
                if (part[other] >= 0)
                    continue;
                potential[other] = potential[at] + (link.from == at ? -loss[e] : loss[e]);
                part[other] = number;
                waiting.push(other);
            }
        }
    };
    const double still = network.reference_density_kg_m3 * models::gravity_m_per_s2;
    solution.absolute = network.fill || !network.held.empty();
    int parts = 0;
    if (!network.held.empty()) {
        // All held nodes are one ground at zero potential.
        for (const networks::NodePressure &held : network.held)
            if (part[held.node] < 0)
                spread(held.node, 0.0, 0);
    } else if (network.fill) {
        spread(network.fill->node,
               network.fill->pressure_pa + still * network.nodes[network.fill->node].elevation_m,
               0);
    } else if (nodes > 0) {
        spread(network.source ? network.source->back : 0, 0.0, 0);
    }
    for (NodeId v = 0; v < nodes; ++v)
        if (part[v] < 0)
            spread(v, 0.0, ++parts);

    // The check on the whole network.
    Outcome &outcome = solution.outcome;
    outcome.worst_law_pa = 0.0;
    outcome.law_tolerance_pa = std::max(law_tolerance_pa, law_tolerance_relative * largest_loss);
    LinkId worst_link = 0;
    for (LinkId e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        if (part[link.from] != part[link.to])
            continue;
        const double excess = potential[link.from] - potential[link.to] - loss[e];
        double residual = 0.0; // beyond what the bound leaves free
        if (bound[e] == AtBound::No)
            residual = std::abs(excess);
        else if (bound[e] == AtBound::Most)
            residual = std::max(0.0, -excess);
        else if (bound[e] == AtBound::Least)
            residual = std::max(0.0, excess);
        if (worse(residual, outcome.worst_law_pa)) {
            outcome.worst_law_pa = residual;
            worst_link = e;
        }
    }
    std::vector<double> imbalance(nodes);
    for (const networks::NodeFlow &fixed : network.fixed)
        imbalance[fixed.node] += fixed.in_kg_s;
    for (LinkId e = 0; e < links; ++e) {
        imbalance[network.links[e].from] -= solution.flow_kg_s[e];
        imbalance[network.links[e].to] += solution.flow_kg_s[e];
    }
    for (const networks::NodePressure &held : network.held)
        imbalance[held.node] = 0.0;
    outcome.worst_mass_kg_s = 0.0;
    outcome.mass_tolerance_kg_s = mass_tolerance * largest_flow + 1e-18;
    NodeId worst_node = 0;
    for (NodeId v = 0; v < nodes; ++v)
        if (worse(std::abs(imbalance[v]), outcome.worst_mass_kg_s)) {
            outcome.worst_mass_kg_s = std::abs(imbalance[v]);
            worst_node = v;
        }
    const bool mass_fails = !(outcome.worst_mass_kg_s <= outcome.mass_tolerance_kg_s);
    const bool law_fails = !(outcome.worst_law_pa <= outcome.law_tolerance_pa);
    if (mass_fails)
        outcome.worst_equation =
            fmt::format("mass balance at `{}`", network.nodes[worst_node].name);
    else if (links > 0)
        outcome.worst_equation = fmt::format("law of `{}`", network.link_name(house, worst_link));
    if (outcome.converged() && (mass_fails || law_fails))
        outcome.reason = StopReason::CheckFailed;

    // Outputs: gauge pressures, and what each link takes with hydrostatic parts left out.
    std::vector<double> offset(
        nodes, network.held.empty() ? 0.0 : held_potential_pa(network, network.held.front()));
    for (const networks::NodePressure &held : network.held)
        offset[held.node] = held_potential_pa(network, held);
    solution.pressure_pa.resize(nodes);
    solution.pressure_known.resize(nodes);
    for (NodeId v = 0; v < nodes; ++v) {
        solution.pressure_pa[v] = potential[v] + offset[v] - still * network.nodes[v].elevation_m;
        solution.pressure_known[v] = part[v] == 0 ? 1 : 0;
    }
    solution.loss_pa.resize(links);
    solution.open_loss_pa.resize(links);
    for (LinkId e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        double warm = 0.0;
        solution.open_loss_pa[e] =
            networks::component_loss(link.component, solution.fluid[e], solution.flow_kg_s[e], warm)
                .pressure_pa;
        solution.loss_pa[e] = solution.open_loss_pa[e];
        if (bound[e] != AtBound::No && part[link.from] == part[link.to])
            solution.loss_pa[e] += potential[link.from] - potential[link.to] - loss[e];
    }
}

} // namespace headroom::solver
