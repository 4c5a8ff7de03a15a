#include "solver/flow/node_matrix.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {

NodeMatrix::NodeMatrix(std::size_t nodes, const std::vector<Ends> &branches)
    : slots_(branches.size()), diagonal_(nodes, -1) {
    const auto n = static_cast<Eigen::Index>(nodes - 1);
    std::vector<Eigen::Triplet<double>> pattern;
    const auto row = [](std::size_t node) { return static_cast<int>(node) - 1; };
    for (std::size_t v = 1; v < nodes; ++v)
        pattern.emplace_back(row(v), row(v), 1.0);
    for (const Ends &b : branches)
        if (b.from != 0 && b.to != 0 && b.from != b.to)
            pattern.emplace_back(row(std::max(b.from, b.to)), row(std::min(b.from, b.to)), 1.0);
    matrix_.resize(n, n);
    matrix_.setFromTriplets(pattern.begin(), pattern.end());
    matrix_.makeCompressed();
    right_side_.resize(n);

    const auto slot = [&](int i, int j) {
        const int *begin = matrix_.innerIndexPtr() + matrix_.outerIndexPtr()[j];
        const int *end = matrix_.innerIndexPtr() + matrix_.outerIndexPtr()[j + 1];
        return static_cast<int>(std::lower_bound(begin, end, i) - matrix_.innerIndexPtr());
    };
    for (std::size_t v = 1; v < nodes; ++v)
        diagonal_[v] = slot(row(v), row(v));
    for (std::size_t b = 0; b < branches.size(); ++b) {
        const auto [from, to] = branches[b];
        if (from == to)
            continue; // both ends in one node: its flow follows from its law alone
        slots_[b].from_diagonal = diagonal_[from];
        slots_[b].to_diagonal = diagonal_[to];
        if (from != 0 && to != 0)
            slots_[b].off_diagonal = slot(row(std::max(from, to)), row(std::min(from, to)));
    }
    if (n > 0)
        factor_.analyzePattern(matrix_);
}

bool NodeMatrix::factorise(const std::vector<double> &conductance,
                           const std::vector<double> &to_ground) {
    if (matrix_.rows() == 0)
        return true;
    double *values = matrix_.valuePtr();
    std::fill(values, values + matrix_.nonZeros(), 0.0);
    for (std::size_t b = 0; b < slots_.size(); ++b) {
        const Slots &s = slots_[b];
        if (s.from_diagonal >= 0)
            values[s.from_diagonal] += conductance[b];
        if (s.to_diagonal >= 0)
            values[s.to_diagonal] += conductance[b];
        if (s.off_diagonal >= 0)
            values[s.off_diagonal] -= conductance[b];
    }
    for (std::size_t v = 1; v < to_ground.size(); ++v)
        values[diagonal_[v]] += to_ground[v];
    for (Eigen::Index i = 0; i < matrix_.nonZeros(); ++i)
        if (!std::isfinite(values[i]))
            return false;
    factor_.factorize(matrix_);
    return factor_.info() == Eigen::Success;
}

void NodeMatrix::solve(const std::vector<double> &inflow, std::vector<double> &pressure) const {
    pressure.assign(inflow.size(), 0.0);
    const Eigen::Index n = matrix_.rows();
    if (n == 0)
        return;
    for (Eigen::Index i = 0; i < n; ++i)
        right_side_[i] = inflow[static_cast<std::size_t>(i) + 1];
    right_side_ = factor_.solve(right_side_);
    for (Eigen::Index i = 0; i < n; ++i)
        pressure[static_cast<std::size_t>(i) + 1] = right_side_[i];
}

} // namespace headroom::solver
