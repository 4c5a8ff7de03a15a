// What the forms of the equations share: links as branches, their laws, the node matrix.
#pragma once

#include "benchmarks/peers.hpp"
#include "solver/flow/branch_laws.hpp"

#include <Eigen/SparseCholesky>
#include <optional>

namespace headroom::benchmarks {

/// Every link a branch of its own; held nodes, or else the first node, are ground.
solver::BranchSystem uncontracted(const networks::Network &network);

/// Each joint that loses nothing to speak of joined with the other link at a node of two.
solver::BranchSystem without_joints(const networks::Network &network);

/// The pressure that a pump between the first node and its own holds at an ordinary flow, if it
/// holds one.
std::optional<double> held_rise_pa(const PeerTask &task, networks::LinkId pump);

/// The node matrix A S^-1 A' without the ground.
class NodeLaplacian {
public:
    explicit NodeLaplacian(const solver::BranchSystem &system);
    void set(const std::vector<double> &conductance);
    const Eigen::SparseMatrix<double> &matrix() const { return matrix_; }

private:
    struct Slots {
        int from = -1, to = -1, upper = -1, lower = -1;
    };
    Eigen::SparseMatrix<double> matrix_;
    std::vector<Slots> slots_; // of a branch
};

/// Links as branches, and their laws at the flows last asked for.
class PeerLaws {
public:
    PeerLaws(const PeerTask &task, solver::BranchSystem system);

    const solver::BranchSystem &system() const { return system_; }
    std::size_t branches() const { return system_.branches.size(); }
    std::size_t unknown_pressures() const { return system_.nodes - 1; }
    const solver::BranchLosses &at(const std::vector<double> &flow_kg_s);

    /// Ordinary flows, where the own solver's first chords end.
    std::vector<double> ordinary_flows() const;

    /// What those chords give: the own solver's first step. Pressures start with the ground's.
    void take_chords(std::vector<double> &flow_kg_s, std::vector<double> &pressure_pa);

    double drop_pa(std::size_t branch, const double *pressure_pa) const; // without the ground's
    void add_imbalance(const std::vector<double> &flow_kg_s, double *imbalance_kg_s) const;
    std::vector<double> link_flows(const std::vector<double> &flow_kg_s) const;

private:
    const PeerTask task_;
    solver::BranchSystem system_;
    solver::BranchLaws laws_;
    solver::BranchLosses losses_;
    NodeLaplacian laplacian_;
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor_;
};

} // namespace headroom::benchmarks
