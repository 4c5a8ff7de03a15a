#include "solver/heat/temperatures.hpp"

#include "models/fluid.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <cmath>
#include <numeric>
#include <span>
#include <utility>

namespace headroom::solver {
namespace {

using networks::Exchange;

constexpr double room_c = still_room_c;
constexpr double ghost_share = 1e-13; // of the largest flow, to give still nodes a temperature
constexpr double noise_share = 1e-12; // of the largest flow; less than this carries no heat

// Outlet and mean temperature as linear functions of the inlet's: factor * in + constant.
struct Passage {
    double factor = 1.0;
    double constant = 0.0;
    double mean_factor = 1.0;
    double mean_constant = 0.0;
};

// Along an emitter or a pipe that loses heat the water's excess over its rest falls as exp(-N x), x
// from 0 to 1, with N = UA/(m c); its mean is (1 - exp(-N))/N of the inlet's.
Passage passage(const Exchange &exchange, double flow_kg_s, double heat_capacity) {
    switch (exchange.kind) {
    case Exchange::Kind::Source:
        return {0.0, exchange.sent_c, 0.0, exchange.sent_c};
    case Exchange::Kind::Emitter:
    case Exchange::Kind::Loses: {
        const double n = exchange.conductance_w_k / (std::max(flow_kg_s, 1e-12) * heat_capacity);
        const double keeps = std::exp(-n);
        const double mean = n > 0.0 ? -std::expm1(-n) / n : 1.0;
        return {keeps, exchange.rest_c * (1.0 - keeps), mean, exchange.rest_c * (1.0 - mean)};
    }
    case Exchange::Kind::None:
        break;
    }
    return {};
}

// What comes into a node, and brings along apart from the excess of other nodes' water.
struct NodeBalance {
    double into;
    double brings;
};

// Water of one node that reaches another: its flow times the share of its excess that arrives.
struct Inflow {
    std::size_t from;
    std::size_t to;
    double weight;
};

// Each node's excess over the room: into * x = brings + sum of weight * x over what flows in. Nodes
// take their turn along the flow, and those that water comes round to (a strong component of the
// graph of inflows) are solved together.
class UpwindMixing {
public:
    UpwindMixing(const std::vector<NodeBalance> &balances, const std::vector<Inflow> &inflows)
        : balances_(balances), first_(balances.size() + 1, 0), inflows_(inflows.size()),
          component_(balances.size()), excess_(balances.size()) {
        for (const Inflow &inflow : inflows)
            ++first_[inflow.to + 1];
        std::partial_sum(first_.begin(), first_.end(), first_.begin());
        std::vector<std::size_t> next(first_.begin(), first_.end() - 1);
        for (const Inflow &inflow : inflows)
            inflows_[next[inflow.to]++] = inflow;
    }

    std::vector<double> solve() {
        // Looking upstream, components are numbered from those that no other flows into.
        std::vector<std::pair<std::size_t, std::size_t>> upstream;
        upstream.reserve(inflows_.size());
        for (const Inflow &inflow : inflows_)
            upstream.emplace_back(inflow.to, inflow.from);
        const boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS> graph(
            upstream.begin(), upstream.end(), balances_.size());
        boost::strong_components(
            graph, boost::make_iterator_property_map(component_.begin(),
                                                     boost::get(boost::vertex_index, graph)));
        std::vector<std::size_t> order(balances_.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return std::pair(component_[a], a) < std::pair(component_[b], b);
        });
        for (std::size_t i = 0; i < order.size();) {
            std::size_t end = i + 1;
            while (end < order.size() && component_[order[end]] == component_[order[i]])
                ++end;
            mix({order.data() + i, end - i});
            i = end;
        }
        return std::move(excess_);
    }

private:
    // What reaches a node from components already mixed; `within` is called with the other inflows.
    template <class Within> double brings(std::size_t node, Within within) const {
        double sum = balances_[node].brings;
        for (std::size_t k = first_[node]; k < first_[node + 1]; ++k) {
            const Inflow &inflow = inflows_[k];
            if (component_[inflow.from] == component_[node])
                within(inflow);
            else
                sum += inflow.weight * excess_[inflow.from];
        }
        return sum;
    }

    void mix(std::span<const std::size_t> ring) {
        if (ring.size() > 1)
            return mix_round(ring);
        double own = 0.0; // a part from a node to itself
        const double sum = brings(ring[0], [&](const Inflow &inflow) { own += inflow.weight; });
        excess_[ring[0]] = sum / (balances_[ring[0]].into - own);
    }

    // Rows are scaled so that still nodes weigh as much as busy ones.
    void mix_round(std::span<const std::size_t> ring) {
        const auto row = [&](std::size_t node) {
            return std::lower_bound(ring.begin(), ring.end(), node) - ring.begin();
        };
        const auto size = static_cast<Eigen::Index>(ring.size());
        Eigen::MatrixXd matrix = Eigen::MatrixXd::Identity(size, size);
        Eigen::VectorXd right(size);
        for (Eigen::Index i = 0; i < size; ++i) {
            const std::size_t node = ring[static_cast<std::size_t>(i)];
            const double into = balances_[node].into;
            right[i] = brings(node,
                              [&](const Inflow &inflow) {
                                  matrix(i, row(inflow.from)) -= inflow.weight / into;
                              }) /
                       into;
        }
        const Eigen::VectorXd solved = matrix.partialPivLu().solve(right);
        for (Eigen::Index i = 0; i < size; ++i)
            excess_[ring[static_cast<std::size_t>(i)]] = solved[i];
    }

    const std::vector<NodeBalance> &balances_;
    std::vector<std::size_t> first_; // of a node's inflows
    std::vector<Inflow> inflows_;    // sorted by node
    std::vector<int> component_;
    std::vector<double> excess_;
};

} // namespace

double mean_heat_capacity_j_kg_k(const networks::Network &network) {
    double mean_c = 0.0;
    for (const networks::Link &link : network.links)
        mean_c += link.expected_c / static_cast<double>(network.links.size());
    return models::fluid_state(network.fluid, mean_c).heat_capacity_j_kg_k;
}

Temperatures temperatures(const networks::Network &network, const std::vector<double> &flow_kg_s) {
    const std::size_t nodes = network.nodes.size();
    const std::size_t links = network.links.size();
    Temperatures out;
    out.node_c.assign(nodes, room_c);
    out.in_c.resize(links);
    for (std::size_t e = 0; e < links; ++e)
        out.in_c[e] = network.links[e].expected_c;
    out.out_c = out.mean_c = out.full_c = out.in_c;
    if (!network.source)
        return out;

    double largest = 0.0;
    for (double flow : flow_kg_s)
        largest = std::max(largest, std::abs(flow));
    if (largest <= 0.0)
        return out;
    const double c = mean_heat_capacity_j_kg_k(network);
    const double ghost = ghost_share * largest;
    const double noise = noise_share * largest;

    std::vector<Passage> passages(links);
    std::vector<NodeBalance> balances(nodes, {ghost, 0.0});
    std::vector<Inflow> inflows;
    inflows.reserve(links);
    for (std::size_t e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        const double square = flow_kg_s[e] * flow_kg_s[e];
        const double flow = std::abs(flow_kg_s[e]) * square / (square + noise * noise);
        passages[e] = passage(link.exchange, std::abs(flow_kg_s[e]), c);
        const std::size_t up = flow_kg_s[e] >= 0.0 ? link.from : link.to;
        const std::size_t down = flow_kg_s[e] >= 0.0 ? link.to : link.from;
        balances[down].into += flow;
        balances[down].brings +=
            flow * (passages[e].constant + (passages[e].factor - 1.0) * room_c);
        if (flow * passages[e].factor > 0.0)
            inflows.push_back({up, down, flow * passages[e].factor});
    }
    const std::vector<double> excess = UpwindMixing(balances, inflows).solve();
    for (std::size_t v = 0; v < nodes; ++v)
        out.node_c[v] = room_c + excess[v];

    for (std::size_t e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        const double flow = flow_kg_s[e];
        out.in_c[e] = out.node_c[flow >= 0.0 ? link.from : link.to];
        out.out_c[e] = passages[e].factor * out.in_c[e] + passages[e].constant;
        out.full_c[e] = passages[e].mean_factor * out.in_c[e] + passages[e].mean_constant;
        out.mean_c[e] = room_c + moving_share(flow) * (out.full_c[e] - room_c);
    }
    return out;
}

} // namespace headroom::solver
