#include "solver/heat/temperatures.hpp"

#include "models/fluid.hpp"

#include <Eigen/SparseLU>
#include <cmath>

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
    std::vector<double> into(nodes, ghost);
    // Unknown is each node's excess over the room, so that a still circuit is at rest exactly.
    Eigen::VectorXd right_side = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(nodes));
    std::vector<Eigen::Triplet<double>> terms;
    terms.reserve(links + nodes);
    for (std::size_t e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        const double square = flow_kg_s[e] * flow_kg_s[e];
        const double flow = std::abs(flow_kg_s[e]) * square / (square + noise * noise);
        passages[e] = passage(link.exchange, std::abs(flow_kg_s[e]), c);
        const std::size_t up = flow_kg_s[e] >= 0.0 ? link.from : link.to;
        const std::size_t down = flow_kg_s[e] >= 0.0 ? link.to : link.from;
        into[down] += flow;
        terms.emplace_back(static_cast<int>(down), static_cast<int>(up),
                           -flow * passages[e].factor);
        right_side[static_cast<Eigen::Index>(down)] +=
            flow * (passages[e].constant + (passages[e].factor - 1.0) * room_c);
    }
    for (std::size_t v = 0; v < nodes; ++v)
        terms.emplace_back(static_cast<int>(v), static_cast<int>(v), into[v]);
    Eigen::SparseMatrix<double> matrix(static_cast<Eigen::Index>(nodes),
                                       static_cast<Eigen::Index>(nodes));
    matrix.setFromTriplets(terms.begin(), terms.end());
    // Scaled by row so that still nodes weigh as much as busy ones.
    for (int column = 0; column < matrix.outerSize(); ++column)
        for (Eigen::SparseMatrix<double>::InnerIterator it(matrix, column); it; ++it)
            it.valueRef() /= into[static_cast<std::size_t>(it.row())];
    for (std::size_t v = 0; v < nodes; ++v)
        right_side[static_cast<Eigen::Index>(v)] /= into[v];
    Eigen::SparseLU<Eigen::SparseMatrix<double>> factor(matrix);
    if (factor.info() != Eigen::Success)
        return out;
    const Eigen::VectorXd solved = factor.solve(right_side);
    for (std::size_t v = 0; v < nodes; ++v)
        out.node_c[v] = room_c + solved[static_cast<Eigen::Index>(v)];

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
