// Flows and pressures of a contracted network at frozen fluid properties: the minimum of a convex
// content over balanced flows, found by Newton's method with a line search on the content's slope.
// solver/METHOD.md derives it.
#pragma once

#include "solver/flow/branches.hpp"
#include "solver/flow/buoyancy.hpp"
#include "solver/flow/node_matrix.hpp"
#include "solver/outcome.hpp"

#include <vector>

namespace headroom::solver {

/// How a branch with flow bounds stands.
enum class Hold { Free, AtLeast, AtMost };

/// What a held node's p + rho_ref g z is.
double held_potential_pa(const networks::Network &network, const networks::NodePressure &held);

/// The contracted equations with their present state. Fluid properties are one state a link.
class FlowEquations {
public:
    FlowEquations(const networks::Network &network, const BranchSystem &system);

    /// Freezes fluid states, and with them the hydrostatic terms.
    void set_fluid(const std::vector<models::FluidState> &states);

    /// Water by direction of flow, for branches that hold themselves nearly still; without it every
    /// hydrostatic term is frozen.
    void set_directed_water(const DirectedWater &water) { buoyancy_.set(water); }

    /// Solves from the present flows (from rest the first time). Set-valued parts are settled to
    /// exact complementarity.
    Outcome solve();

    const std::vector<double> &branch_flows() const { return flow_; }

    /// Part of a link's loss that is no loss but the difference of held potentials folded into it.
    double held_pa(networks::LinkId link) const { return static_pa_[link] - weight_pa_[link]; }

    /// Loss of one link at a flow along the link, hydrostatic term included.
    models::Loss link_loss(networks::LinkId link, double flow_kg_s);

private:
    /// What the first steps from rest know of a branch.
    struct Start {
        double ordinary_kg_s = models::no_limit;
        double least_slope = 0.0; ///< that keeps a pump's head within its curve
        double chord = 0.0;       ///< slope of the law from rest to the ordinary flow
    };

    bool fixed(std::size_t branch) const {
        return system_.branches[branch].prescribed || hold_[branch] != Hold::Free;
    }
    models::Loss law(std::size_t branch, double flow_kg_s);
    void find_start(std::size_t branch);
    double take_chord(std::size_t branch);
    double spring_slope(std::size_t branch) const;
    models::Loss stiff_law(std::size_t branch, double flow_kg_s);
    double law_tolerance() const;
    void evaluate();
    void set_fixed_flows();
    void find_islands();
    void release_starved_islands();
    bool residuals();
    bool balanced() const;
    bool laws_met() const;
    bool linear_step(bool from_rest);
    void line_search(double slope_at_zero);
    Outcome newton();
    bool settle_bounds(int round, bool springs);
    double held_excess(std::size_t branch) const;
    void offset_islands();
    Outcome outcome(StopReason reason) const;

    const networks::Network &network_;
    const BranchSystem &system_;
    NodeMatrix matrix_;
    BranchBuoyancy buoyancy_;
    std::vector<models::FluidState> fluid_;
    std::vector<double> weight_pa_; // a link: (rho - rho_ref) g (z_to - z_from)
    std::vector<double> static_pa_; // a link: that less held offsets
    std::vector<double> warm_;      // a link: 1/sqrt(f)
    std::vector<double> branch_held_pa_;
    std::vector<Start> start_; // a branch
    std::vector<double> flow_; // a branch
    std::vector<models::Loss> loss_;
    std::vector<double> pressure_; // a contracted node
    std::vector<Hold> hold_;
    std::vector<double> pressed_;     // a held branch: how hard against its bound, Pa
    std::vector<std::size_t> island_; // of a node, over free branches
    std::size_t islands_ = 0;
    std::vector<double> to_ground_;
    std::vector<double> conductance_, residual_, step_, inflow_, pressure_step_, trial_;
    std::vector<models::Loss> trial_loss_;
    double worst_law_ = 0.0, worst_mass_ = 0.0, largest_flow_ = 0.0, largest_loss_ = 0.0;
    std::size_t worst_law_branch_ = 0, worst_mass_node_ = 0;
    int steps_ = 0;
    bool at_rest_ = true;
    bool bounds_stiff_ = true;
};

} // namespace headroom::solver
