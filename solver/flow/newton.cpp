// The iteration: residuals, linear steps, line search.
#include "solver/flow/newton.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

constexpr int most_newton_steps = 100;
constexpr int most_line_search_steps = 40;
constexpr double least_slope_pa_s_kg = 1e-6; // keeps conductances finite at rest
constexpr double inner_share = 0.01;         // of the stated tolerance that the iteration aims at
constexpr double sorting_share = 1e-3;       // of the largest loss, enough to see which bounds bind
constexpr double sorting_mass_share = 1e-6;  // of the largest flow, likewise

} // namespace

// Law and mass residuals at the present flows and pressures; false if anything is not finite.
bool FlowEquations::residuals() {
    worst_law_ = worst_mass_ = largest_flow_ = largest_loss_ = 0.0;
    inflow_ = system_.inflow_kg_s;
    for (std::size_t b = 0; b < flow_.size(); ++b) {
        const Branch &branch = system_.branches[b];
        inflow_[branch.from] -= flow_[b];
        inflow_[branch.to] += flow_[b];
        largest_flow_ = std::max(largest_flow_, std::abs(flow_[b]));
        if (fixed(b)) {
            residual_[b] = 0.0;
            continue;
        }
        residual_[b] = loss_[b].pressure_pa - (pressure_[branch.from] - pressure_[branch.to]);
        largest_loss_ =
            std::max(largest_loss_, std::abs(loss_[b].pressure_pa - branch_held_pa_[b]));
        if (!(std::abs(residual_[b]) <= worst_law_)) {
            worst_law_ = std::abs(residual_[b]);
            worst_law_branch_ = b;
        }
    }
    inflow_[0] = 0.0; // the ground takes what is left
    for (std::size_t v = 1; v < system_.nodes; ++v)
        if (!(std::abs(inflow_[v]) <= worst_mass_)) {
            worst_mass_ = std::abs(inflow_[v]);
            worst_mass_node_ = v;
        }
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

// Replaces a branch's law by its chord from rest, and its residual by the chord's; returns the
// slope. The first chord ends at an ordinary flow, the second at the geometric mean of that and the
// flow the first has given, which is where a quadratic law settles.
double FlowEquations::take_chord(std::size_t b) {
    const Branch &branch = system_.branches[b];
    const Start &start = start_[b];
    const bool beyond = flow_[b] < branch.bounds.least_kg_s || flow_[b] > branch.bounds.most_kg_s;
    if (flow_[b] == 0.0 && branch.bounds.least_kg_s == 0.0 && residual_[b] > 0.0)
        return spring_slope(b); // a bypass valve that nothing pushes open yet
    if (!std::isfinite(start.ordinary_kg_s) || beyond)
        return loss_[b].slope_pa_s_per_kg;
    const double end =
        flow_[b] == 0.0
            ? start.ordinary_kg_s
            : std::copysign(std::sqrt(start.ordinary_kg_s * std::abs(flow_[b])), flow_[b]);
    const double at_rest = law(b, 0.0).pressure_pa;
    const double slope = std::max(
        {(law(b, end).pressure_pa - at_rest) / end, start.least_slope, least_slope_pa_s_kg});
    residual_[b] = at_rest + slope * flow_[b] - (pressure_[branch.from] - pressure_[branch.to]);
    return slope;
}

// Flow and pressure steps of  s dq - A'dp = -r,  A dq = imbalance  by the Schur complement.
bool FlowEquations::linear_step(bool from_rest) {
    std::vector<double> right_side = inflow_;
    for (std::size_t b = 0; b < flow_.size(); ++b) {
        conductance_[b] = 0.0;
        if (fixed(b))
            continue;
        const Branch &branch = system_.branches[b];
        const double slope = from_rest ? take_chord(b) : loss_[b].slope_pa_s_per_kg;
        conductance_[b] = 1.0 / std::max(slope, least_slope_pa_s_kg);
        const double pushed = conductance_[b] * residual_[b];
        right_side[branch.from] += pushed;
        right_side[branch.to] -= pushed;
    }
    right_side[0] = 0.0;
    if (!matrix_.factorise(conductance_, to_ground_))
        return false;
    matrix_.solve(right_side, pressure_step_);
    for (std::size_t b = 0; b < flow_.size(); ++b) {
        const Branch &branch = system_.branches[b];
        step_[b] = conductance_[b] *
                   (pressure_step_[branch.from] - pressure_step_[branch.to] - residual_[b]);
    }
    return true;
}

// The content's slope along the step, D(a) = sum (phi(q + a d) - dp) d, is negative at 0 and grows;
// a step is taken once |D| has halved. Leaves the trial state at the accepted length.
void FlowEquations::line_search(double slope_at_zero) {
    const auto try_length = [&](double length) {
        double slope = 0.0;
        for (std::size_t b = 0; b < flow_.size(); ++b) {
            if (fixed(b))
                continue;
            const Branch &branch = system_.branches[b];
            trial_[b] = flow_[b] + length * step_[b];
            trial_loss_[b] = bounds_stiff_ ? stiff_law(b, trial_[b]) : law(b, trial_[b]);
            const double pressure_drop = pressure_[branch.from] + pressure_step_[branch.from] -
                                         pressure_[branch.to] - pressure_step_[branch.to];
            slope += (trial_loss_[b].pressure_pa - pressure_drop) * step_[b];
        }
        return slope;
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
    evaluate();
    for (int i = 0; i <= most_newton_steps; ++i) {
        if (!residuals())
            return outcome(StopReason::NonFinite);
        if (!at_rest_ && laws_met() && balanced())
            return outcome(StopReason::Converged);
        if (i == most_newton_steps)
            break;
        if (!linear_step(i < chord_steps))
            return outcome(StopReason::Singular);
        double directional_slope = 0.0;
        for (std::size_t b = 0; b < flow_.size(); ++b)
            directional_slope += (residual_[b] - pressure_step_[system_.branches[b].from] +
                                  pressure_step_[system_.branches[b].to]) *
                                 step_[b];
        // Once the laws are met, what is left is to balance, which the content does not see.
        if (i < chord_steps || worst_law_ <= law_tolerance() || directional_slope >= 0.0) {
            for (std::size_t b = 0; b < flow_.size(); ++b)
                flow_[b] += step_[b];
            evaluate();
        } else {
            line_search(directional_slope);
            for (std::size_t b = 0; b < flow_.size(); ++b)
                if (!fixed(b)) {
                    flow_[b] = trial_[b];
                    loss_[b] = trial_loss_[b];
                }
        }
        for (std::size_t v = 0; v < system_.nodes; ++v)
            pressure_[v] += pressure_step_[v];
        at_rest_ = false;
        ++steps_;
    }
    return outcome(StopReason::IterationLimit);
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
    const bool mass = worst_mass_ > out.mass_tolerance_kg_s;
    if (!mass && worst_law_branch_ < system_.branches.size() &&
        !system_.branches[worst_law_branch_].members.empty())
        out.worst_equation = fmt::format(
            "law of `{}`",
            network_.links[system_.branches[worst_law_branch_].members.front().link].name);
    else
        out.worst_equation = "mass balance";
    return out;
}

} // namespace headroom::solver
