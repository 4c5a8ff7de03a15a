#pragma once

#include <cstdint>
#include <vector>

namespace headroom::solver {

/// The Schur complement of a Newton step: the weighted graph Laplacian over contracted nodes with
/// node 0 left out, symmetric positive definite, factorised as L D L' with its pattern worked out
/// once (approximate minimum degree). Values are scattered straight into the rows of L.
class NodeMatrix {
public:
    struct Ends {
        std::uint32_t from;
        std::uint32_t to;
    };

    NodeMatrix(std::size_t nodes, std::vector<Ends> branches);

    /// Sets the branch conductances [kg/s per Pa] and extra conductances to ground at nodes, and
    /// factorises. False if the matrix is singular or not finite.
    bool factorise(const std::vector<double> &conductance, const std::vector<double> &to_ground);

    /// Pressures (node 0 at zero) that drive `inflow` [kg/s] out of each node through the branches.
    void solve(const std::vector<double> &inflow, std::vector<double> &pressure) const;

    const std::vector<Ends> &ends() const { return ends_; }

private:
    static constexpr std::uint32_t none = static_cast<std::uint32_t>(-1);
    static constexpr std::uint8_t widest = 4;

    std::vector<std::uint32_t> elimination_order() const;
    void analyse();
    void find_runs();
    template <std::uint32_t Width> double eliminate(std::uint32_t first);

    std::size_t rows_;
    std::vector<Ends> ends_;
    std::vector<std::uint32_t> row_of_;    // of a node but the ground
    std::vector<std::uint32_t> slot_;      // of a branch in row order, if neither end is ground
    std::vector<std::uint32_t> row_start_; // L's entries left of the diagonal, row by row
    std::vector<std::uint32_t> column_;    // of each, rising within a row
    std::vector<std::uint32_t> column_start_;
    std::vector<std::uint32_t> row_; // of each entry in column order
    std::vector<std::uint8_t> run_; // columns from each on, up to `widest`, that hold the same rows
    std::vector<double> entry_;     // the matrix's own values, row order
    std::vector<double> diagonal_;  // the matrix's, then D
    std::vector<double> factor_;    // L, column order
    std::vector<std::uint32_t> filled_;
    mutable std::vector<double> work_;
};

} // namespace headroom::solver
