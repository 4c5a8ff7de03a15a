// Flows and pressures of a contracted network at frozen fluid properties: the minimum of a convex
// content over balanced flows, found by Newton's method with a line search on the content's slope.
// solver/METHOD.md derives it.
#pragma once

#include "solver/flow/branch_laws.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/node_matrix.hpp"
#include "solver/outcome.hpp"

#include <vector>

namespace headroom::solver {

/// How a branch with flow bounds stands.
enum class Hold { Free, AtLeast, AtMost };

/// The contracted equations with their present state. Fluid properties are one state a link.
class FlowEquations {
public:
    FlowEquations(const networks::Network &network, const BranchSystem &system);

    /// Freezes fluid states, and with them the hydrostatic terms.
    void set_fluid(const std::vector<models::FluidState> &states);

    /// Looks at the network's components again, whose sizes (not kinds or bounds) were changed. The
    /// next solve starts from the present flows.
    void reread_components() { laws_.reread_components(); }

    /// Water by direction of flow, for branches that hold themselves nearly still; without it every
    /// hydrostatic term is frozen.
    void set_directed_water(const DirectedWater &water) { laws_.set_directed_water(water); }

    /// Solves from the present flows (from rest the first time). Set-valued parts are settled to
    /// exact complementarity.
    Outcome solve();

    /// One place more than there are branches.
    const std::vector<double> &branch_flows() const { return flow_; }

    const BranchLaws &laws() const { return laws_; }

private:
    bool fixed(std::size_t branch) const {
        return system_.branches[branch].prescribed || hold_[branch] != Hold::Free;
    }
    double pressure_drop(std::size_t branch) const {
        const auto [from, to] = matrix_.ends()[branch];
        return pressure_[from] - pressure_[to];
    }
    void find_ordinary_flows();
    void find_start();
    void begin_at_rest();
    bool chord_free(std::size_t branch) const;
    void take_chords();
    double spring_slope(std::size_t branch) const;
    void evaluate(const std::vector<double> &flow_kg_s, BranchLosses &losses);
    double law_tolerance() const;
    void set_fixed_flows();
    void find_islands();
    void release_starved_islands();
    bool residuals();
    bool balanced() const;
    bool laws_met() const;
    std::vector<double> tied_to_ground() const;
    bool linear_step();
    double slope_along_step(const BranchLosses &losses) const;
    void line_search(double slope_at_zero);
    Outcome newton();
    Outcome last_step();
    bool settle_bounds(int round, bool springs);
    double held_excess(std::size_t branch) const;
    Outcome outcome(StopReason reason) const;

    const networks::Network &network_;
    const BranchSystem &system_;
    BranchLaws laws_;
    NodeMatrix matrix_;
    bool bounded_;            // whether any branch has a bound
    bool all_chords_ = false; // whether the first steps from rest need no tangents

    // A branch:
    std::vector<double> ordinary_kg_s_;       // where its chord from rest ends
    std::vector<double> least_slope_pa_s_kg_; // that keeps a pump's head within its curve
    std::vector<double> chord_pa_s_kg_;       // slope of its law from rest to the ordinary flow
    std::vector<double> flow_, trial_, step_;
    BranchLosses losses_, trial_losses_, at_rest_losses_;
    std::vector<double> conductance_, residual_;
    std::vector<Hold> hold_;
    std::vector<double> pressed_; // how hard a held one is against its bound, Pa
    // A contracted node:
    std::vector<double> pressure_, pressure_step_, inflow_, right_side_, to_ground_;
    std::vector<std::size_t> island_; // over free branches
    std::vector<Hold> island_hold_;   // what `island_` was found for
    std::size_t islands_ = 0;

    double worst_law_ = 0.0, worst_mass_ = 0.0, largest_flow_ = 0.0, largest_loss_ = 0.0;
    std::size_t worst_law_branch_ = 0;
    int steps_ = 0;
    bool at_rest_ = true;
    bool bounds_stiff_ = true;
    bool lost_ = false; // the last solve ended in flows that are of no use to start from
};

} // namespace headroom::solver
