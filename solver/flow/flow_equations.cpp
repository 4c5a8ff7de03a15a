// Setting up the equations: what is known of each branch before the first step.
#include "solver/flow/flow_equations.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

constexpr double stiff_slope_pa_s_kg = 1e8;  // least slope beyond a bound, until it is settled
constexpr double stiffer_than_chord = 100.0; // and this many times the branch's own

std::vector<NodeMatrix::Ends> branch_ends(const BranchSystem &system) {
    std::vector<NodeMatrix::Ends> ends;
    ends.reserve(system.branches.size());
    for (const Branch &branch : system.branches)
        ends.push_back(
            {static_cast<std::uint32_t>(branch.from), static_cast<std::uint32_t>(branch.to)});
    return ends;
}

} // namespace

FlowEquations::FlowEquations(const networks::Network &network, const BranchSystem &system)
    : network_(network), system_(system), laws_(network, system),
      matrix_(system.nodes, branch_ends(system)) {
    const std::size_t n = system.branches.size();
    bounded_ =
        std::any_of(system.branches.begin(), system.branches.end(), [](const Branch &branch) {
            return !branch.prescribed && (std::isfinite(branch.bounds.least_kg_s) ||
                                          std::isfinite(branch.bounds.most_kg_s));
        });
    flow_.resize(n + 1);
    trial_.resize(n + 1);
    for (BranchLosses *losses : {&losses_, &trial_losses_, &at_rest_losses_}) {
        losses->pressure_pa.resize(n + 1);
        losses->slope_pa_s_kg.resize(n + 1);
    }
    hold_.assign(n, Hold::Free);
    pressed_.resize(n);
    conductance_.resize(n);
    residual_.resize(n);
    step_.resize(n);
    chord_pa_s_kg_.resize(n);
    pressure_.resize(system.nodes);
    pressure_step_.resize(system.nodes);
    inflow_.resize(system.nodes);
    right_side_.resize(system.nodes);
}

void FlowEquations::set_fluid(const std::vector<models::FluidState> &states) {
    laws_.set_fluid(states);
    if (ordinary_kg_s_.empty())
        find_ordinary_flows();
}

void FlowEquations::find_ordinary_flows() {
    ordinary_kg_s_.assign(step_.size(), models::no_limit);
    all_chords_ = !bounded_;
    least_slope_pa_s_kg_.resize(step_.size());
    for (std::size_t b = 0; b < step_.size(); ++b) {
        for (const Member &member : system_.members_of(b)) {
            const networks::Component &component = network_.links[member.link].component;
            const models::FluidState &fluid = laws_.fluid(member.link);
            const double flow = networks::ordinary_flow(component, fluid);
            ordinary_kg_s_[b] = std::min(ordinary_kg_s_[b], flow);
            if (!std::holds_alternative<networks::RunningPump>(component))
                continue;
            double warm = 0.0;
            const double at_rest =
                networks::component_loss(component, fluid, 0.0, warm).pressure_pa;
            least_slope_pa_s_kg_[b] = std::max(least_slope_pa_s_kg_[b], -at_rest / (2.0 * flow));
        }
        all_chords_ = all_chords_ && std::isfinite(ordinary_kg_s_[b]);
    }
}

// As if nothing had been solved yet.
void FlowEquations::begin_at_rest() {
    laws_.forget();
    find_ordinary_flows();
    std::fill(flow_.begin(), flow_.end(), 0.0);
    std::fill(losses_.pressure_pa.begin(), losses_.pressure_pa.end(), 0.0);
    std::fill(losses_.slope_pa_s_kg.begin(), losses_.slope_pa_s_kg.end(), 0.0);
    std::fill(pressure_.begin(), pressure_.end(), 0.0);
    std::fill(hold_.begin(), hold_.end(), Hold::Free);
    at_rest_ = true;
    lost_ = false;
}

// The springs of bounded branches must be known before the first step.
void FlowEquations::find_start() {
    laws_.evaluate_at_rest(at_rest_losses_);
    if (!bounded_)
        return;
    for (std::size_t b = 0; b < step_.size(); ++b)
        trial_[b] = std::isfinite(ordinary_kg_s_[b]) ? ordinary_kg_s_[b] : 0.0;
    laws_.evaluate(trial_, trial_losses_);
    for (std::size_t b = 0; b < step_.size(); ++b)
        if (std::isfinite(ordinary_kg_s_[b]))
            chord_pa_s_kg_[b] =
                (trial_losses_.pressure_pa[b] - at_rest_losses_.pressure_pa[b]) / ordinary_kg_s_[b];
}

// Stiff against the branch itself, or a fine valve would leak more than it passes.
double FlowEquations::spring_slope(std::size_t branch) const {
    return std::max(stiff_slope_pa_s_kg, stiffer_than_chord * chord_pa_s_kg_[branch]);
}

// Beyond a bound the law goes on and, until bounds are settled, a stiff spring is added.
void FlowEquations::evaluate(const std::vector<double> &flow_kg_s, BranchLosses &losses) {
    laws_.evaluate(flow_kg_s, losses);
    if (!bounds_stiff_)
        return;
    for (std::size_t b = 0; b < step_.size(); ++b) {
        const networks::FlowBounds &bounds = system_.branches[b].bounds;
        const double beyond =
            flow_kg_s[b] - std::clamp(flow_kg_s[b], bounds.least_kg_s, bounds.most_kg_s);
        if (beyond == 0.0 || fixed(b))
            continue;
        losses.pressure_pa[b] += spring_slope(b) * beyond;
        losses.slope_pa_s_kg[b] += spring_slope(b);
    }
}

double FlowEquations::law_tolerance() const {
    return std::max(law_tolerance_pa, law_tolerance_relative * largest_loss_);
}

} // namespace headroom::solver
