#include "solver/heat/temperatures.hpp"

#include "models/fluid.hpp"

#include <Eigen/SparseLU>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::Exchange;

constexpr double room_c = 20.0;
constexpr double still_kg_s = 1e-6;   // about 4 ml/h per K: far below any flow that heats a room
constexpr double ghost_share = 1e-13; // of the largest flow, to give still nodes a temperature

// Outlet temperature as a linear function of the inlet's.
struct Passage {
    double factor = 1.0;
    double constant = 0.0;
};

Passage passage(const Exchange &exchange, double flow_kg_s, double heat_capacity) {
    switch (exchange.kind) {
    case Exchange::Kind::Source:
        return {0.0, exchange.sent_c};
    case Exchange::Kind::Emitter: {
        const double keeps =
            std::exp(-exchange.conductance_w_k / (std::max(flow_kg_s, 1e-12) * heat_capacity));
        return {keeps, exchange.indoor_c * (1.0 - keeps)};
    }
    case Exchange::Kind::None:
        break;
    }
    return {};
}

double mean_along(const Exchange &exchange, double in_c, double out_c) {
    if (exchange.kind == Exchange::Kind::Source)
        return out_c;
    const double hot = in_c - exchange.indoor_c;
    const double cool = out_c - exchange.indoor_c;
    if (exchange.kind == Exchange::Kind::Emitter && hot > 0.0 && cool > 0.0 &&
        hot - cool > 1e-6 * hot)
        return exchange.indoor_c + (hot - cool) / std::log(hot / cool);
    return 0.5 * (in_c + out_c);
}

} // namespace

Temperatures temperatures(const networks::Network &network, const std::vector<double> &flow_kg_s) {
    const std::size_t nodes = network.nodes.size();
    const std::size_t links = network.links.size();
    Temperatures out;
    out.node_c.assign(nodes, room_c);
    out.in_c.resize(links);
    for (std::size_t e = 0; e < links; ++e)
        out.in_c[e] = network.links[e].expected_c;
    out.out_c = out.mean_c = out.in_c;
    if (!network.source)
        return out;

    double largest = 0.0;
    for (double flow : flow_kg_s)
        largest = std::max(largest, std::abs(flow));
    if (largest <= 0.0)
        return out;
    double mean_c = 0.0;
    for (double expected : out.in_c)
        mean_c += expected / static_cast<double>(links);
    const double c = models::fluid_state(network.fluid, mean_c).heat_capacity_j_kg_k;
    const double ghost = ghost_share * largest;

    std::vector<Passage> passages(links);
    std::vector<double> into(nodes, ghost);
    Eigen::VectorXd right_side =
        Eigen::VectorXd::Constant(static_cast<Eigen::Index>(nodes), ghost * room_c);
    std::vector<Eigen::Triplet<double>> terms;
    terms.reserve(links + nodes);
    for (std::size_t e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        const double flow = std::abs(flow_kg_s[e]);
        passages[e] = passage(link.exchange, flow, c);
        const std::size_t up = flow_kg_s[e] >= 0.0 ? link.from : link.to;
        const std::size_t down = flow_kg_s[e] >= 0.0 ? link.to : link.from;
        into[down] += flow;
        terms.emplace_back(static_cast<int>(down), static_cast<int>(up),
                           -flow * passages[e].factor);
        right_side[static_cast<Eigen::Index>(down)] += flow * passages[e].constant;
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
        out.node_c[v] = solved[static_cast<Eigen::Index>(v)];

    for (std::size_t e = 0; e < links; ++e) {
        const networks::Link &link = network.links[e];
        const double flow = flow_kg_s[e];
        out.in_c[e] = out.node_c[flow >= 0.0 ? link.from : link.to];
        out.out_c[e] = passages[e].factor * out.in_c[e] + passages[e].constant;
        const double moving = flow * flow / (flow * flow + still_kg_s * still_kg_s);
        out.mean_c[e] =
            room_c + moving * (mean_along(link.exchange, out.in_c[e], out.out_c[e]) - room_c);
    }
    return out;
}

} // namespace headroom::solver
