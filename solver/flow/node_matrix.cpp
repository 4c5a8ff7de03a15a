#include "solver/flow/node_matrix.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>
#include <cmath>

namespace headroom::solver {

NodeMatrix::NodeMatrix(std::size_t nodes, std::vector<Ends> branches)
    : rows_(nodes - 1), ends_(std::move(branches)), row_of_(nodes, none), slot_(ends_.size(), none),
      row_start_(rows_ + 1, 0), column_start_(rows_ + 1, 0), diagonal_(rows_, 0.0),
      filled_(rows_, 0), work_(rows_, 0.0) {
    const std::vector<std::uint32_t> order = elimination_order();
    for (std::uint32_t row = 0; row < rows_; ++row)
        row_of_[order[row] + 1] = row;
    analyse();
}

// The nodes, less one, in the order in which they are eliminated.
std::vector<std::uint32_t> NodeMatrix::elimination_order() const {
    std::vector<std::uint32_t> order(rows_);
    const auto n = static_cast<Eigen::Index>(rows_);
    std::vector<Eigen::Triplet<char>> terms;
    terms.reserve(rows_ + ends_.size());
    for (int v = 0; v < n; ++v)
        terms.emplace_back(v, v, 1);
    for (const Ends &b : ends_)
        if (b.from != 0 && b.to != 0 && b.from != b.to)
            terms.emplace_back(static_cast<int>(std::max(b.from, b.to)) - 1,
                               static_cast<int>(std::min(b.from, b.to)) - 1, 1);
    Eigen::SparseMatrix<char> pattern(n, n);
    pattern.setFromTriplets(terms.begin(), terms.end());
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation;
    Eigen::AMDOrdering<int>()(pattern.selfadjointView<Eigen::Lower>(), permutation);
    for (std::size_t i = 0; i < rows_; ++i)
        order[i] = static_cast<std::uint32_t>(permutation.indices()[static_cast<Eigen::Index>(i)]);
    return order;
}

// L's pattern: row i holds column j if j is on the way in the elimination tree from a neighbour of
// i up to i.
void NodeMatrix::analyse() {
    std::vector<std::uint32_t> start(rows_ + 1, 0), neighbour;
    const auto rows = [&](const Ends &b) {
        return std::minmax(row_of_[b.from], row_of_[b.to]); // first eliminated, later
    };
    const auto inner = [](const Ends &b) { return b.from != 0 && b.to != 0 && b.from != b.to; };
    for (const Ends &b : ends_)
        if (inner(b))
            ++start[rows(b).second + 1];
    for (std::size_t i = 0; i < rows_; ++i)
        start[i + 1] += start[i];
    neighbour.resize(start[rows_]);
    std::vector<std::uint32_t> next(start.begin(), start.end() - 1);
    for (const Ends &b : ends_)
        if (inner(b))
            neighbour[next[rows(b).second]++] = rows(b).first;

    std::vector<std::uint32_t> parent(rows_, none), seen(rows_, none);
    for (std::uint32_t i = 0; i < rows_; ++i) {
        seen[i] = i;
        for (std::uint32_t k = start[i]; k < start[i + 1]; ++k)
            for (std::uint32_t j = neighbour[k]; seen[j] != i; j = parent[j]) {
                if (parent[j] == none)
                    parent[j] = i;
                seen[j] = i;
                column_.push_back(j);
                ++column_start_[j + 1];
            }
        row_start_[i + 1] = static_cast<std::uint32_t>(column_.size());
        std::sort(column_.begin() + row_start_[i], column_.end());
    }
    for (std::size_t j = 0; j < rows_; ++j)
        column_start_[j + 1] += column_start_[j];
    row_.resize(column_.size());
    std::copy(column_start_.begin(), column_start_.end() - 1, filled_.begin());
    for (std::uint32_t i = 0; i < rows_; ++i)
        for (std::uint32_t k = row_start_[i]; k < row_start_[i + 1]; ++k)
            row_[filled_[column_[k]]++] = i;
    entry_.resize(column_.size());
    factor_.resize(column_.size());
    for (std::size_t b = 0; b < ends_.size(); ++b) {
        if (!inner(ends_[b]))
            continue;
        const auto [first, later] = rows(ends_[b]);
        const auto begin = column_.begin() + row_start_[later];
        const auto end = column_.begin() + row_start_[later + 1];
        slot_[b] =
            static_cast<std::uint32_t>(std::lower_bound(begin, end, first) - column_.begin());
    }
    find_runs();
}

// Column j + 1 holds the same rows as j, but for itself, if it is the first of them and they are as
// many.
void NodeMatrix::find_runs() {
    run_.assign(rows_, 1);
    const auto size = [&](std::size_t j) { return column_start_[j + 1] - column_start_[j]; };
    for (std::size_t j = rows_; j-- > 1;) {
        const std::size_t before = j - 1;
        if (size(before) == size(j) + 1 && row_[column_start_[before]] == j)
            run_[before] = std::min<std::uint8_t>(widest, run_[j] + 1);
    }
}

// Takes `Width` columns that hold the same rows out of the row in `work_`, each as soon as those
// before it are out, and notes the row's entries in them; what they leave of its pivot.
template <std::uint32_t Width> double NodeMatrix::eliminate(std::uint32_t first) {
    double value[Width];
    const double *below[Width]; // entries in rows that all columns hold
    for (std::uint32_t a = 0; a < Width; ++a) {
        const double *column = factor_.data() + column_start_[first + a];
        value[a] = work_[first + a];
        for (std::uint32_t b = a + 1; b < Width; ++b)
            work_[first + b] -= column[b - a - 1] * value[a];
        below[a] = column + (Width - 1 - a);
    }
    const std::uint32_t last = first + Width - 1;
    const std::uint32_t *row = row_.data() + column_start_[last];
    const std::uint32_t filled = filled_[last] - column_start_[last];
    for (std::uint32_t p = 0; p < filled; ++p) {
        double left = work_[row[p]];
        for (std::uint32_t a = 0; a < Width; ++a)
            left -= below[a][p] * value[a];
        work_[row[p]] = left;
    }
    double taken = 0.0;
    for (std::uint32_t a = 0; a < Width; ++a) {
        const double share = value[a] * diagonal_[first + a]; // which holds 1/D by now
        taken += share * value[a];
        factor_[filled_[first + a]++] = share;
    }
    return taken;
}

bool NodeMatrix::factorise(const std::vector<double> &conductance,
                           const std::vector<double> &to_ground) {
    for (std::size_t v = 0; v < rows_; ++v)
        diagonal_[row_of_[v + 1]] = to_ground[v + 1];
    std::fill(entry_.begin(), entry_.end(), 0.0);
    for (std::size_t b = 0; b < ends_.size(); ++b) {
        const auto [from, to] = ends_[b];
        if (from == to)
            continue; // both ends in one node: its flow follows from its law alone
        if (from != 0)
            diagonal_[row_of_[from]] += conductance[b];
        if (to != 0)
            diagonal_[row_of_[to]] += conductance[b];
        if (slot_[b] != none)
            entry_[slot_[b]] -= conductance[b];
    }
    // Row by row: L D of a row by forward substitution with the rows above it.
    std::copy(column_start_.begin(), column_start_.end() - 1, filled_.begin());
    bool sound = true;
    for (std::size_t i = 0; i < rows_; ++i) {
        const std::uint32_t begin = row_start_[i], end = row_start_[i + 1];
        for (std::uint32_t k = begin; k < end; ++k)
            work_[column_[k]] = entry_[k];
        double pivot = diagonal_[i];
        for (std::uint32_t k = begin; k < end;) {
            const std::uint32_t j = column_[k];
            const std::uint32_t run = std::min<std::uint32_t>(run_[j], end - k);
            if (run >= 4) {
                pivot -= eliminate<4>(j);
                k += 4;
            } else if (run >= 2) {
                pivot -= eliminate<2>(j);
                k += 2;
            } else {
                pivot -= eliminate<1>(j);
                k += 1;
            }
        }
        sound = sound && std::isfinite(pivot) && pivot > 0.0;
        diagonal_[i] = 1.0 / pivot;
    }
    return sound;
}

void NodeMatrix::solve(const std::vector<double> &inflow, std::vector<double> &pressure) const {
    for (std::size_t v = 0; v < rows_; ++v)
        work_[row_of_[v + 1]] = inflow[v + 1];
    for (std::size_t j = 0; j < rows_; ++j)
        for (std::uint32_t p = column_start_[j]; p < column_start_[j + 1]; ++p)
            work_[row_[p]] -= factor_[p] * work_[j];
    for (std::size_t j = rows_; j-- > 0;) {
        double value = work_[j] * diagonal_[j];
        for (std::uint32_t p = column_start_[j]; p < column_start_[j + 1]; ++p)
            value -= factor_[p] * work_[row_[p]];
        work_[j] = value;
    }
    pressure.resize(rows_ + 1);
    pressure[0] = 0.0;
    for (std::size_t v = 0; v < rows_; ++v)
        pressure[v + 1] = work_[row_of_[v + 1]];
}

} // namespace headroom::solver
