#pragma once

#include <Eigen/Sparse>
#include <Eigen/SparseCholesky>
#include <vector>

namespace headroom::solver {

/// The Schur complement of a Newton step: the weighted graph Laplacian over contracted nodes with
/// node 0 left out, symmetric positive definite. The pattern is analysed once, values are scattered
/// in place.
class NodeMatrix {
public:
    struct Ends {
        std::size_t from;
        std::size_t to;
    };

    NodeMatrix(std::size_t nodes, const std::vector<Ends> &branches);

    /// Sets the branch conductances [kg/s per Pa] and extra conductances to ground at nodes, and
    /// factorises. False if the matrix is singular or not finite.
    bool factorise(const std::vector<double> &conductance, const std::vector<double> &to_ground);

    /// Pressures (node 0 at zero) that drive `inflow` [kg/s] out of each node through the branches.
    void solve(const std::vector<double> &inflow, std::vector<double> &pressure) const;

private:
    struct Slots {
        int from_diagonal = -1, to_diagonal = -1, off_diagonal = -1;
    };
    std::vector<Slots> slots_;
    std::vector<int> diagonal_;
    Eigen::SparseMatrix<double> matrix_; // lower triangle
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
    mutable Eigen::VectorXd right_side_;
};

} // namespace headroom::solver
