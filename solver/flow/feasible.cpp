#include "solver/flow/feasible.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/push_relabel_max_flow.hpp>
#include <cmath>
#include <fmt/format.h>
#include <queue>

namespace headroom::solver {
namespace {

using Traits = boost::adjacency_list_traits<boost::vecS, boost::vecS, boost::directedS>;
using FlowGraph = boost::adjacency_list<
    boost::vecS, boost::vecS, boost::directedS, boost::no_property,
    boost::property<
        boost::edge_capacity_t, long long,
        boost::property<boost::edge_residual_capacity_t, long long,
                        boost::property<boost::edge_reverse_t, Traits::edge_descriptor>>>>;

// Capacities are whole numbers of this share of all that flows, so that the algorithm is exact.
constexpr double units_per_total = 1e12;
constexpr double slack_share = 1e-9;

} // namespace

std::optional<Contradiction> find_contradiction(const networks::Network &network,
                                                const networks::House *house) {
    double total_in = 0.0;
    double total_out = 0.0;
    for (const networks::NodeFlow &fixed : network.fixed)
        (fixed.in_kg_s > 0.0 ? total_in : total_out) += std::abs(fixed.in_kg_s);
    const double total = std::max(total_in, total_out);
    if (total <= 0.0)
        return std::nullopt;
    const double unit = total / units_per_total;

    // Held nodes, all one ground, give and take what fixed flows leave over.
    const std::size_t nodes = network.nodes.size();
    const std::size_t ground = nodes;
    const std::size_t source = nodes + 1;
    const std::size_t sink = nodes + 2;
    FlowGraph graph(nodes + 3);
    const auto units = [&](double flow) {
        return static_cast<long long>(std::llround(std::min(flow / unit, 4.0 * units_per_total)));
    };
    const auto connect = [&](std::size_t a, std::size_t b, double forward, double backward) {
        const auto there = boost::add_edge(a, b, graph).first;
        const auto back = boost::add_edge(b, a, graph).first;
        boost::put(boost::edge_capacity, graph, there, units(forward));
        boost::put(boost::edge_capacity, graph, back, units(backward));
        boost::put(boost::edge_reverse, graph, there, back);
        boost::put(boost::edge_reverse, graph, back, there);
    };
    for (const networks::Link &link : network.links) {
        const networks::FlowBounds bounds = networks::flow_bounds(link.component);
        connect(link.from, link.to, std::max(bounds.most_kg_s, 0.0),
                std::max(-bounds.least_kg_s, 0.0));
    }
    for (const networks::NodePressure &held : network.held)
        connect(held.node, ground, 2.0 * total, 2.0 * total);
    for (const networks::NodeFlow &fixed : network.fixed) {
        if (fixed.in_kg_s > 0.0)
            connect(source, fixed.node, fixed.in_kg_s, 0.0);
        else
            connect(fixed.node, sink, -fixed.in_kg_s, 0.0);
    }
    if (!network.held.empty()) {
        connect(source, ground, std::max(total_out - total_in, 0.0), 0.0);
        connect(ground, sink, std::max(total_in - total_out, 0.0), 0.0);
    } else if (std::abs(total_in - total_out) > slack_share * total) {
        return Contradiction{
            "mass balance of the whole network",
            fmt::format("fixed flows bring in {:.6g} kg/s and take out {:.6g} kg/s, and no held "
                        "pressure or open vessel takes the difference",
                        total_in, total_out)};
    }
    const double reached =
        static_cast<double>(boost::push_relabel_max_flow(graph, source, sink)) * unit;
    if (reached >= total * (1.0 - slack_share))
        return std::nullopt;

    // The cut: what can still be reached from the source ends at the parts that are full.
    std::vector<char> reachable(nodes + 3, 0);
    std::queue<std::size_t> waiting;
    reachable[source] = 1;
    waiting.push(source);
    while (!waiting.empty()) {
        const std::size_t at = waiting.front();
        waiting.pop();
        for (auto [e, end] = boost::out_edges(at, graph); e != end; ++e) {
            const std::size_t next = boost::target(*e, graph);
            if (!reachable[next] && boost::get(boost::edge_residual_capacity, graph, *e) > 0) {
                reachable[next] = 1;
                waiting.push(next);
            }
        }
    }
    std::string cut;
    for (networks::LinkId e = 0; e < network.links.size(); ++e)
        if (reachable[network.links[e].from] != reachable[network.links[e].to])
            cut += fmt::format("{}`{}`", cut.empty() ? "" : ", ", network.link_name(house, e));
    return Contradiction{
        fmt::format("mass balance across {}", cut.empty() ? "a part with no way out" : cut),
        fmt::format("of {:.6g} kg/s that fixed flows demand, only {:.6g} kg/s can pass", total,
                    reached)};
}

} // namespace headroom::solver
