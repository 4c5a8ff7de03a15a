// The equations in the two forms that peers solve. Both say f(x) = 0 with a Jacobian of symmetric
// pattern and values, so that compressed rows are compressed columns.
#pragma once

#include "benchmarks/peer_laws.hpp"

namespace headroom::benchmarks {

/// Indices of a square matrix, row by row.
struct Pattern {
    std::vector<int> start;
    std::vector<int> index;
};

/// Unknowns: the flow of each link, then the pressure of each node but the ground.
class FlowsAndPressures {
public:
    explicit FlowsAndPressures(const PeerTask &task);
    const Pattern &pattern() const { return pattern_; }
    const std::vector<double> &tolerance() const { return tolerance_; } ///< of each equation
    void start(double *x);
    void residual(const double *x, double *f);
    void jacobian(const double *x, double *values);
    std::vector<double> link_flows(const double *x);

private:
    const solver::BranchLosses &losses(const double *x);

    PeerLaws laws_;
    Pattern pattern_;
    std::vector<double> tolerance_, flow_;
};

/// Unknowns: the pressure of each node but the ground. A branch's flow is what its own law gives at
/// its pressure difference. A joint that loses next to nothing shares a branch with its neighbour:
/// pressures are too coarse to tell its flow from. What a pump holds is a held pressure.
class Pressures {
public:
    explicit Pressures(const PeerTask &task);
    const Pattern &pattern() const { return pattern_; }
    const std::vector<double> &tolerance() const { return tolerance_; }
    void start(double *x);
    void residual(const double *x, double *f);
    void jacobian(const double *x, double *values);
    std::vector<double> link_flows(const double *x);

private:
    void find_flows(const double *x);

    const PeerTask task_;
    const networks::Network network_;
    PeerLaws laws_;
    NodeLaplacian laplacian_;
    Pattern pattern_;
    double flow_tolerance_kg_s_;
    std::vector<double> tolerance_, at_, flow_, low_, high_, conductance_;
};

} // namespace headroom::benchmarks
