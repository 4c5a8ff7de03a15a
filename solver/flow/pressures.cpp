#include "solver/flow/pressures.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <queue>
#include <utility>
#include <vector>

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

// The network at the flows found. Potentials are p + rho_ref g z less the constants that link_loss
// folds in for held nodes, whose potential is therefore zero.
struct Walk {
    double largest_flow_kg_s = 0.0;
    double largest_loss_pa = 0.0;
    std::vector<double> loss; // of each link
    std::vector<AtBound> bound;
    std::vector<double> potential;
    std::vector<int> part; // of each node, 0: joined with the reference
};

Walk link_states(const Network &network, const FlowEquations &equations,
                 const std::vector<double> &flow_kg_s) {
    Walk walk;
    for (double flow : flow_kg_s)
        walk.largest_flow_kg_s = std::max(walk.largest_flow_kg_s, std::abs(flow));
    const double slack = 1e-11 * std::max(walk.largest_flow_kg_s, 1e-9);
    for (LinkId e = 0; e < network.links.size(); ++e) {
        const double loss = equations.laws().link_loss(e, flow_kg_s[e]).pressure_pa;
        walk.loss.push_back(loss);
        walk.bound.push_back(at_bound(network.links[e].component, flow_kg_s[e], slack));
        walk.largest_loss_pa =
            std::max(walk.largest_loss_pa, std::abs(loss - equations.laws().held_pa(e)));
    }
    return walk;
}

// From nodes whose potential and part are known to all that links of single-valued law join them
// to.
void spread(const Network &network, const std::vector<std::vector<LinkId>> &around,
            std::queue<NodeId> from, Walk &walk) {
    while (!from.empty()) {
        const NodeId at = from.front();
        from.pop();
        for (LinkId e : around[at]) {
            if (walk.bound[e] != AtBound::No)
                continue;
            const networks::Link &link = network.links[e];
            const NodeId other = link.from == at ? link.to : link.from;
            if (walk.part[other] >= 0)
                continue;
            walk.potential[other] =
                walk.potential[at] + (link.from == at ? -walk.loss[e] : walk.loss[e]);
            walk.part[other] = walk.part[at];
            from.push(other);
        }
    }
}

// Held nodes are known all at once, so that every way between two of them has a link where the
// walks from both meet, and its law is checked there.
void walk_nodes(const Network &network, Walk &walk) {
    const std::size_t nodes = network.nodes.size();
    std::vector<std::vector<LinkId>> around(nodes);
    for (LinkId e = 0; e < network.links.size(); ++e) {
        around[network.links[e].from].push_back(e);
        around[network.links[e].to].push_back(e);
    }
    walk.potential.assign(nodes, 0.0);
    walk.part.assign(nodes, -1);
    std::queue<NodeId> from;
    const auto start = [&](NodeId node, double potential, int part) {
        walk.potential[node] = potential;
        walk.part[node] = part;
        from.push(node);
    };
    if (!network.held.empty())
        for (const networks::NodePressure &held : network.held)
            start(held.node, 0.0, 0);
    else if (network.fill)
        start(network.fill->node,
              network.fill->pressure_pa + network.reference_density_kg_m3 *
                                              models::gravity_m_per_s2 *
                                              network.nodes[network.fill->node].elevation_m,
              0);
    else if (nodes > 0)
        start(network.source ? network.source->back : 0, 0.0, 0);
    spread(network, around, std::move(from), walk);
    int parts = 0;
    for (NodeId v = 0; v < nodes; ++v)
        if (walk.part[v] < 0) {
            from = {};
            start(v, 0.0, ++parts);
            spread(network, around, std::move(from), walk);
        }
}

// By how much a link's law is missed beyond what a bound leaves free.
double law_residual_pa(const networks::Link &link, LinkId e, const Walk &walk) {
    const double excess = walk.potential[link.from] - walk.potential[link.to] - walk.loss[e];
    switch (walk.bound[e]) {
    case AtBound::No:
        return std::abs(excess);
    case AtBound::Most:
        return std::max(0.0, -excess);
    case AtBound::Least:
        return std::max(0.0, excess);
    case AtBound::Both:
        break;
    }
    return 0.0;
}

LinkId check_laws(const Network &network, const Walk &walk, Outcome &outcome) {
    outcome.worst_law_pa = 0.0;
    outcome.law_tolerance_pa =
        std::max(law_tolerance_pa, law_tolerance_relative * walk.largest_loss_pa);
    LinkId worst_link = 0;
    for (LinkId e = 0; e < network.links.size(); ++e) {
        const networks::Link &link = network.links[e];
        if (walk.part[link.from] != walk.part[link.to])
            continue;
        if (const double residual = law_residual_pa(link, e, walk);
            worse(residual, outcome.worst_law_pa)) {
            outcome.worst_law_pa = residual;
            worst_link = e;
        }
    }
    return worst_link;
}

NodeId check_mass(const Network &network, const std::vector<double> &flow_kg_s, const Walk &walk,
                  Outcome &outcome) {
    std::vector<double> imbalance(network.nodes.size());
    for (const networks::NodeFlow &fixed : network.fixed)
        imbalance[fixed.node] += fixed.in_kg_s;
    for (LinkId e = 0; e < network.links.size(); ++e) {
        imbalance[network.links[e].from] -= flow_kg_s[e];
        imbalance[network.links[e].to] += flow_kg_s[e];
    }
    for (const networks::NodePressure &held : network.held)
        imbalance[held.node] = 0.0;
    outcome.worst_mass_kg_s = 0.0;
    outcome.mass_tolerance_kg_s = mass_tolerance * walk.largest_flow_kg_s + 1e-18;
    NodeId worst_node = 0;
    for (NodeId v = 0; v < imbalance.size(); ++v)
        if (worse(std::abs(imbalance[v]), outcome.worst_mass_kg_s)) {
            outcome.worst_mass_kg_s = std::abs(imbalance[v]);
            worst_node = v;
        }
    return worst_node;
}

void check_whole(const Network &network, const networks::House *house, const Walk &walk,
                 Solution &solution) {
    Outcome &outcome = solution.outcome;
    const LinkId worst_link = check_laws(network, walk, outcome);
    const NodeId worst_node = check_mass(network, solution.flow_kg_s, walk, outcome);
    const bool mass_fails = !(outcome.worst_mass_kg_s <= outcome.mass_tolerance_kg_s);
    const bool law_fails = !(outcome.worst_law_pa <= outcome.law_tolerance_pa);
    if (mass_fails)
        outcome.worst_equation =
            fmt::format("mass balance at `{}`", network.nodes[worst_node].name);
    else if (!network.links.empty())
        outcome.worst_equation = fmt::format("law of `{}`", network.link_name(house, worst_link));
    if (outcome.converged() && (mass_fails || law_fails))
        outcome.reason = StopReason::CheckFailed;
}

// Gauge pressures, and what each link takes with hydrostatic parts left out.
void fill_pressures(const Network &network, const Walk &walk, Solution &solution) {
    const std::size_t nodes = network.nodes.size();
    const double still = network.reference_density_kg_m3 * models::gravity_m_per_s2;
    std::vector<double> offset(
        nodes, network.held.empty() ? 0.0 : held_potential_pa(network, network.held.front()));
    for (const networks::NodePressure &held : network.held)
        offset[held.node] = held_potential_pa(network, held);
    solution.absolute = network.fill || !network.held.empty();
    solution.pressure_pa.resize(nodes);
    solution.pressure_known.resize(nodes);
    for (NodeId v = 0; v < nodes; ++v) {
        solution.pressure_pa[v] =
            walk.potential[v] + offset[v] - still * network.nodes[v].elevation_m;
        solution.pressure_known[v] = walk.part[v] == 0 ? 1 : 0;
    }
    const std::size_t links = network.links.size();
    solution.loss_pa.resize(links);
    solution.open_loss_pa.resize(links);
    for (LinkId e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        double warm = 0.0;
        solution.open_loss_pa[e] =
            networks::component_loss(link.component, solution.fluid[e], solution.flow_kg_s[e], warm)
                .pressure_pa;
        solution.loss_pa[e] = solution.open_loss_pa[e];
        if (walk.bound[e] != AtBound::No && walk.part[link.from] == walk.part[link.to])
            solution.loss_pa[e] +=
                walk.potential[link.from] - walk.potential[link.to] - walk.loss[e];
    }
}

} // namespace

void recover_pressures(const Network &network, const networks::House *house,
                       const FlowEquations &equations, Solution &solution) {
    Walk walk = link_states(network, equations, solution.flow_kg_s);
    walk_nodes(network, walk);
    check_whole(network, house, walk, solution);
    fill_pressures(network, walk, solution);
}

} // namespace headroom::solver
