// The iteration: residuals, linear steps, line search.
#include "solver/flow/flow_equations.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace headroom::solver {
namespace {

constexpr int most_newton_steps = 100;
constexpr int most_line_search_steps = 40;
constexpr double least_slope_pa_s_kg = 1e-6; // keeps conductances finite at rest
constexpr double inner_share = 0.1;          // of the stated tolerance that the iteration aims at
constexpr double exact_share = 0.01;         // met this well, no last step is taken
constexpr double sorting_share = 1e-3;       // of the largest loss, enough to see which bounds bind
constexpr double sorting_mass_share = 1e-6;  // of the largest flow, likewise

} // namespace

// Law and mass residuals at the present flows and pressures; false if anything is not finite.
bool FlowEquations::residuals() {
    worst_law_ = worst_mass_ = largest_flow_ = largest_loss_ = 0.0;
    std::copy(system_.inflow_kg_s.begin(), system_.inflow_kg_s.end(), inflow_.begin());
    for (std::size_t b = 0; b < step_.size(); ++b) {
        const auto [from, to] = matrix_.ends()[b];
        inflow_[from] -= flow_[b];
        inflow_[to] += flow_[b];
        largest_flow_ = std::max(largest_flow_, std::abs(flow_[b]));
        if (fixed(b))
            continue;
        const double loss = losses_.pressure_pa[b];
        residual_[b] = loss - (pressure_[from] - pressure_[to]);
        largest_loss_ = std::max(largest_loss_, std::abs(loss - laws_.branch_held_pa(b)));
        if (worse(std::abs(residual_[b]), worst_law_)) {
            worst_law_ = std::abs(residual_[b]);
            worst_law_branch_ = b;
        }
    }
    for (std::size_t v = 1; v < system_.nodes; ++v) // the ground takes what is left
        if (worse(std::abs(inflow_[v]), worst_mass_))
            worst_mass_ = std::abs(inflow_[v]);
    return std::isfinite(worst_law_) && std::isfinite(worst_mass_);
}

bool FlowEquations::balanced() const {
    const double share = bounds_stiff_ ? sorting_mass_share : mass_tolerance;
    return worst_mass_ <= share * largest_flow_ + 1e-18;
}

bool FlowEquations::laws_met() const {
    return worst_law_ <= (bounds_stiff_ ? std::max(law_tolerance(), sorting_share * largest_loss_)
                                        : inner_share * law_tolerance());
}

// Whether a branch takes a chord at all: one beyond its bounds, or whose law has no scale of its
// own, takes its tangent.
bool FlowEquations::chord_free(std::size_t b) const {
    const networks::FlowBounds &bounds = system_.branches[b].bounds;
    return !fixed(b) && std::isfinite(ordinary_kg_s_[b]) && flow_[b] >= bounds.least_kg_s &&
           flow_[b] <= bounds.most_kg_s;
}

// Replaces laws by their chords from rest, in `losses_` and in the residuals. The first chord ends
// at an ordinary flow, the second at the geometric mean of that and the flow the first has given,
// which is where a quadratic law settles.
void FlowEquations::take_chords() {
    for (std::size_t b = 0; b < step_.size(); ++b) {
        trial_[b] = ordinary_kg_s_[b];
        if (!chord_free(b))
            trial_[b] = 0.0;
        else if (flow_[b] != 0.0)
            trial_[b] = std::copysign(std::sqrt(trial_[b] * std::abs(flow_[b])), flow_[b]);
    }
    laws_.evaluate(trial_, trial_losses_);
    for (std::size_t b = 0; b < step_.size(); ++b) {
        double &slope = losses_.slope_pa_s_kg[b];
        if (fixed(b))
            continue;
        if (flow_[b] == 0.0 && system_.branches[b].bounds.least_kg_s == 0.0 &&
            residual_[b] > 0.0) { // a bypass valve that nothing pushes open yet
            slope = spring_slope(b);
            continue;
        }
        if (!chord_free(b))
            continue;
        const double rest = at_rest_losses_.pressure_pa[b];
        slope = std::max({(trial_losses_.pressure_pa[b] - rest) / trial_[b],
                          least_slope_pa_s_kg_[b], least_slope_pa_s_kg});
        residual_[b] = rest + slope * flow_[b] - pressure_drop(b);
    }
}

// Nodes tied far more stiffly to each other than to the rest can round to nothing left of a pivot,
// as beside a pump at rest. The least that is seen beside what ties them makes a step of it all the
// same.
std::vector<double> FlowEquations::tied_to_ground() const {
    std::vector<double> tied = to_ground_;
    for (std::size_t b = 0; b < step_.size(); ++b) {
        const auto [from, to] = matrix_.ends()[b];
        for (const std::uint32_t node : {from, to})
            tied[node] += std::numeric_limits<double>::epsilon() * conductance_[b];
    }
    return tied;
}

// Flow and pressure steps of  s dq - A'dp = -r,  A dq = imbalance  by the Schur complement.
bool FlowEquations::linear_step() {
    std::copy(inflow_.begin(), inflow_.end(), right_side_.begin());
    for (std::size_t b = 0; b < step_.size(); ++b) {
        if (fixed(b)) {
            conductance_[b] = 0.0;
            continue;
        }
        const auto [from, to] = matrix_.ends()[b];
        conductance_[b] = 1.0 / std::max(losses_.slope_pa_s_kg[b], least_slope_pa_s_kg);
        const double pushed = conductance_[b] * residual_[b];
        right_side_[from] += pushed;
        right_side_[to] -= pushed;
    }
    if (!matrix_.factorise(conductance_, to_ground_) &&
        !matrix_.factorise(conductance_, tied_to_ground()))
        return false;
    matrix_.solve(right_side_, pressure_step_);
    for (std::size_t b = 0; b < step_.size(); ++b) {
        const auto [from, to] = matrix_.ends()[b];
        step_[b] = conductance_[b] * (pressure_step_[from] - pressure_step_[to] - residual_[b]);
    }
    return true;
}

// The content's slope along the step, D = sum (phi - dp) d, with the pressures the step leads to.
double FlowEquations::slope_along_step(const BranchLosses &losses) const {
    double slope = 0.0;
    for (std::size_t b = 0; b < step_.size(); ++b) {
        const auto [from, to] = matrix_.ends()[b];
        slope += (losses.pressure_pa[b] -
                  (pressure_[from] + pressure_step_[from] - pressure_[to] - pressure_step_[to])) *
                 step_[b];
    }
    return slope;
}

// D is negative at the start of the step and grows; a step is taken once |D| has halved. Leaves the
// trial state at the accepted length.
void FlowEquations::line_search(double slope_at_zero) {
    const auto try_length = [&](double length) {
        for (std::size_t b = 0; b < step_.size(); ++b)
            trial_[b] = flow_[b] + length * step_[b];
        evaluate(trial_, trial_losses_);
        return slope_along_step(trial_losses_);
    };
    const double enough = 0.5 * std::abs(slope_at_zero);
    double length = 1.0;
    double slope = try_length(length);
    if (slope <= enough)
        return;
    double low = 0.0, low_slope = slope_at_zero;
    double high = 1.0, high_slope = slope;
    for (int i = 0; i < most_line_search_steps && std::abs(slope) > enough; ++i) {
        // Regula falsi between a falling and a rising end, kept off both, and halving at times.
        const double share = std::clamp(-low_slope / (high_slope - low_slope), 0.01, 0.99);
        length = low + (high - low) * (i % 3 == 2 ? 0.5 : share);
        slope = try_length(length);
        if (slope < 0.0) {
            low = length;
            low_slope = slope;
        } else {
            high = length;
            high_slope = slope;
        }
    }
}

// Newton's iteration. The first two steps from rest are chord steps and are taken whole.
Outcome FlowEquations::newton() {
    const int chord_steps = at_rest_ ? 2 : 0;
    const int first_tangents = all_chords_ ? chord_steps : 0;
    if (first_tangents == 0)
        evaluate(flow_, losses_);
    for (int i = 0; i <= most_newton_steps; ++i) {
        if (!residuals()) {
            lost_ = true;
            return outcome(StopReason::NonFinite);
        }
        if (!at_rest_ && i >= first_tangents && laws_met() && balanced())
            return last_step();
        if (i == most_newton_steps)
            break;
        if (i < chord_steps)
            take_chords();
        if (!linear_step()) {
            lost_ = true;
            return outcome(StopReason::Singular);
        }
        // Once the laws are met, what is left is to balance, which the content does not see.
        const bool whole = i < chord_steps || worst_law_ <= law_tolerance();
        const double slope = whole ? 0.0 : slope_along_step(losses_);
        if (slope >= 0.0) {
            for (std::size_t b = 0; b < step_.size(); ++b)
                flow_[b] += step_[b];
            if (i + 1 >= first_tangents)
                evaluate(flow_, losses_);
        } else {
            line_search(slope);
            std::swap(losses_, trial_losses_);
            std::swap(flow_, trial_);
        }
        for (std::size_t v = 0; v < system_.nodes; ++v)
            pressure_[v] += pressure_step_[v];
        at_rest_ = false;
        ++steps_;
    }
    return outcome(StopReason::IterationLimit);
}

// Laws are met well enough to say so, and the step they ask for is known but for its factor: taken
// without another look at them, it squares what is left.
Outcome FlowEquations::last_step() {
    const Outcome converged = outcome(StopReason::Converged);
    if (worst_law_ <= exact_share * law_tolerance() || !linear_step())
        return converged;
    for (std::size_t b = 0; b < step_.size(); ++b)
        flow_[b] += step_[b];
    for (std::size_t v = 0; v < system_.nodes; ++v)
        pressure_[v] += pressure_step_[v];
    return converged;
}

Outcome FlowEquations::outcome(StopReason reason) const {
    Outcome out;
    out.reason = reason;
    out.newton_steps = steps_;
    out.worst_mass_kg_s = worst_mass_;
    out.mass_tolerance_kg_s = mass_tolerance * largest_flow_ + 1e-18;
    out.worst_law_pa = worst_law_;
    out.law_tolerance_pa = law_tolerance();
    if (reason == StopReason::Converged)
        return out;
    if (worst_mass_ > out.mass_tolerance_kg_s)
        out.worst_equation = "mass balance";
    else
        out.worst_equation = fmt::format(
            "law of `{}`", network_.links[system_.members_of(worst_law_branch_).front().link].name);
    return out;
}

} // namespace headroom::solver
