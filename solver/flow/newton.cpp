#include "solver/flow/newton.hpp"

#include "models/units.hpp"
#include "networks/same_flow.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

constexpr int most_newton_steps = 100;
constexpr int most_line_search_steps = 40;
constexpr int most_bound_rounds = 100;
constexpr double least_slope_pa_s_kg = 1e-6; // keeps conductances finite at rest
constexpr double stiff_slope_pa_s_kg = 1e8;  // least slope beyond a bound, until it is settled
constexpr double stiffer_than_chord = 100.0; // and this many times the branch's own
constexpr double inner_share = 0.01;         // of the stated tolerance that the iteration aims at
constexpr double sorting_share = 1e-3;       // of the largest loss, enough to see which bounds bind
constexpr double sorting_mass_share = 1e-6;  // of the largest flow, likewise

std::vector<NodeMatrix::Ends> branch_ends(const BranchSystem &system) {
    std::vector<NodeMatrix::Ends> ends;
    for (const Branch &branch : system.branches)
        ends.push_back({branch.from, branch.to});
    return ends;
}

} // namespace

FlowEquations::FlowEquations(const networks::Network &network, const BranchSystem &system)
    : network_(network), system_(system), matrix_(system.nodes, branch_ends(system)),
      buoyancy_(network, system) {
    const std::size_t n = system.branches.size();
    warm_.assign(network.links.size(), 0.0);
    flow_.assign(n, 0.0);
    loss_.resize(n);
    hold_.assign(n, Hold::Free);
    pressed_.assign(n, 0.0);
    start_.resize(n);
    conductance_.assign(n, 0.0);
    residual_.assign(n, 0.0);
    step_.assign(n, 0.0);
    trial_.assign(n, 0.0);
    trial_loss_.resize(n);
    pressure_.assign(system.nodes, 0.0);
}

double held_potential_pa(const networks::Network &network, const networks::NodePressure &held) {
    return held.pressure_pa + network.reference_density_kg_m3 * models::gravity_m_per_s2 *
                                  network.nodes[held.node].elevation_m;
}

void FlowEquations::set_fluid(const std::vector<models::FluidState> &states) {
    fluid_ = states;
    static_pa_.assign(network_.links.size(), 0.0);
    weight_pa_.assign(network_.links.size(), 0.0);
    const double reference = network_.reference_density_kg_m3;
    // Held potentials against the first of them, so that only what drives a flow counts as a loss.
    std::vector<double> offset(network_.nodes.size(), 0.0);
    for (const networks::NodePressure &held : network_.held)
        offset[held.node] =
            held_potential_pa(network_, held) - held_potential_pa(network_, network_.held.front());
    for (std::size_t i = 0; i < network_.links.size(); ++i) {
        const networks::Link &link = network_.links[i];
        if (network_.buoyancy)
            weight_pa_[i] =
                (fluid_[i].density_kg_m3 - reference) * models::gravity_m_per_s2 *
                (network_.nodes[link.to].elevation_m - network_.nodes[link.from].elevation_m);
        static_pa_[i] = weight_pa_[i] - (offset[link.from] - offset[link.to]);
    }
    branch_held_pa_.assign(system_.branches.size(), 0.0);
    for (std::size_t b = 0; b < system_.branches.size(); ++b)
        for (const Member &member : system_.branches[b].members)
            branch_held_pa_[b] += member.sign * held_pa(member.link);
}

models::Loss FlowEquations::link_loss(networks::LinkId link, double flow_kg_s) {
    models::Loss loss = networks::component_loss(network_.links[link].component, fluid_[link],
                                                 flow_kg_s, warm_[link]);
    loss.pressure_pa += static_pa_[link];
    return loss;
}

// phi of a branch: the sum of its members' laws, each in its own direction.
models::Loss FlowEquations::law(std::size_t branch, double flow_kg_s) {
    models::Loss sum;
    const bool directed = buoyancy_.rises(branch);
    if (directed)
        sum = buoyancy_.law(branch, flow_kg_s);
    for (const Member &member : system_.branches[branch].members) {
        const models::Loss loss = link_loss(member.link, member.sign * flow_kg_s);
        sum.pressure_pa += member.sign * loss.pressure_pa;
        sum.slope_pa_s_per_kg += loss.slope_pa_s_per_kg;
        if (directed)
            sum.pressure_pa -= member.sign * weight_pa_[member.link];
    }
    return sum;
}

void FlowEquations::find_start(std::size_t branch) {
    Start start;
    for (const Member &member : system_.branches[branch].members) {
        const networks::Component &component = network_.links[member.link].component;
        const double flow = networks::ordinary_flow(component, fluid_[member.link]);
        start.ordinary_kg_s = std::min(start.ordinary_kg_s, flow);
        if (!std::holds_alternative<networks::RunningPump>(component))
            continue;
        double warm = 0.0;
        const double at_rest =
            networks::component_loss(component, fluid_[member.link], 0.0, warm).pressure_pa;
        start.least_slope = std::max(start.least_slope, -at_rest / (2.0 * flow));
    }
    if (std::isfinite(start.ordinary_kg_s))
        start.chord =
            (law(branch, start.ordinary_kg_s).pressure_pa - law(branch, 0.0).pressure_pa) /
            start.ordinary_kg_s;
    start_[branch] = start;
}

// Stiff against the branch itself, or a fine valve would leak more than it passes.
double FlowEquations::spring_slope(std::size_t branch) const {
    return std::max(stiff_slope_pa_s_kg, stiffer_than_chord * start_[branch].chord);
}

// Beyond a bound the law goes on and a stiff spring is added.
models::Loss FlowEquations::stiff_law(std::size_t branch, double flow_kg_s) {
    const networks::FlowBounds &bounds = system_.branches[branch].bounds;
    const double beyond = flow_kg_s - std::clamp(flow_kg_s, bounds.least_kg_s, bounds.most_kg_s);
    models::Loss loss = law(branch, flow_kg_s);
    if (beyond != 0.0) {
        loss.pressure_pa += spring_slope(branch) * beyond;
        loss.slope_pa_s_per_kg += spring_slope(branch);
    }
    return loss;
}

void FlowEquations::set_fixed_flows() {
    for (std::size_t b = 0; b < flow_.size(); ++b) {
        const Branch &branch = system_.branches[b];
        if (branch.prescribed)
            flow_[b] = branch.prescribed_kg_s;
        else if (hold_[b] == Hold::AtMost)
            flow_[b] = branch.bounds.most_kg_s;
        else if (hold_[b] == Hold::AtLeast)
            flow_[b] = branch.bounds.least_kg_s;
    }
}

// Parts of the network that only fixed branches join each keep a pressure level of their own.
void FlowEquations::find_islands() {
    std::vector<networks::GraphEdge> free_edges;
    for (std::size_t b = 0; b < flow_.size(); ++b)
        if (!fixed(b))
            free_edges.push_back({system_.branches[b].from, system_.branches[b].to});
    island_ = networks::connected_parts(system_.nodes, free_edges);
    islands_ = 0;
    to_ground_.assign(system_.nodes, 0.0);
    for (std::size_t v = 0; v < system_.nodes; ++v)
        if (island_[v] == islands_) { // the first node of its part
            ++islands_;
            if (v > 0)
                to_ground_[v] = 1.0;
        }
}

// Held branches around an island may add up to a flow that it cannot balance: a spring gives way,
// so more branches can look full than are. Of those that would mend it by leaving their bound, the
// one whose spring was least pressed is released, until every island balances.
void FlowEquations::release_starved_islands() {
    for (std::size_t released = 0; released <= flow_.size(); ++released) {
        set_fixed_flows();
        find_islands();
        std::vector<double> gain(islands_, 0.0);
        double through = 0.0;
        for (std::size_t v = 1; v < system_.nodes; ++v)
            gain[island_[v]] += system_.inflow_kg_s[v];
        for (std::size_t b = 0; b < flow_.size(); ++b) {
            const Branch &branch = system_.branches[b];
            if (island_[branch.from] == island_[branch.to])
                continue;
            gain[island_[branch.from]] -= flow_[b];
            gain[island_[branch.to]] += flow_[b];
            through = std::max(through, std::abs(flow_[b]));
        }
        gain[island_[0]] = 0.0; // the ground takes what is left
        std::size_t loosest = flow_.size();
        for (std::size_t b = 0; b < flow_.size(); ++b) {
            const Branch &branch = system_.branches[b];
            if (branch.prescribed || hold_[b] == Hold::Free)
                continue;
            // Leaving the bound moves flow from one end's island to the other's.
            const bool lessens = hold_[b] == Hold::AtMost;
            const double giver = gain[island_[lessens ? branch.to : branch.from]];
            const double taker = gain[island_[lessens ? branch.from : branch.to]];
            const bool mends = island_[branch.from] != island_[branch.to] &&
                               std::max(giver, -taker) > mass_tolerance * through;
            if (mends && (loosest == flow_.size() || pressed_[b] < pressed_[loosest]))
                loosest = b;
        }
        if (loosest == flow_.size())
            return;
        hold_[loosest] = Hold::Free;
    }
}

void FlowEquations::evaluate() {
    for (std::size_t b = 0; b < flow_.size(); ++b)
        if (!fixed(b))
            loss_[b] = bounds_stiff_ ? stiff_law(b, flow_[b]) : law(b, flow_[b]);
}

double FlowEquations::law_tolerance() const {
    return std::max(law_tolerance_pa, law_tolerance_relative * largest_loss_);
}

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
double FlowEquations::line_search(double slope_at_zero) {
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
        return length;
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
    return length;
}

// Newton's iteration. The first two steps from rest are chord steps and are taken whole.
Outcome FlowEquations::newton(std::vector<Iteration> *observer) {
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
        double length = 1.0;
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
            length = line_search(directional_slope);
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
        if (observer != nullptr)
            observer->push_back({steps_, worst_law_, worst_mass_, length});
    }
    return outcome(StopReason::IterationLimit);
}

// How far a held branch's pressures are from wanting it released: positive means release.
double FlowEquations::held_excess(std::size_t b) const {
    const Branch &branch = system_.branches[b];
    const double pressed = pressure_[branch.from] - pressure_[branch.to] - loss_[b].pressure_pa;
    return hold_[b] == Hold::AtMost ? -pressed : pressed;
}

// Moves the level of islands that only held branches tie down to where those are satisfied.
void FlowEquations::offset_islands() {
    std::vector<char> placed(islands_, 0);
    placed[island_[0]] = 1;
    for (std::size_t round = 0; round < islands_; ++round) {
        for (std::size_t candidate = 0; candidate < islands_; ++candidate) {
            if (placed[candidate])
                continue;
            double least = -models::no_limit; // shift of the candidate's pressures
            double most = models::no_limit;
            bool neighbour = false;
            for (std::size_t b = 0; b < flow_.size(); ++b) {
                const Branch &branch = system_.branches[b];
                const std::size_t from = island_[branch.from];
                const std::size_t to = island_[branch.to];
                if (from == to || (from != candidate && to != candidate))
                    continue;
                if (!placed[from == candidate ? to : from])
                    continue;
                neighbour = true;
                if (hold_[b] == Hold::Free)
                    continue; // prescribed: any pressure will do
                // Held at most wants the drop at least phi, at least wants it at most phi.
                const double shift =
                    loss_[b].pressure_pa - (pressure_[branch.from] - pressure_[branch.to]);
                const bool lower = (hold_[b] == Hold::AtMost) == (from == candidate);
                const double limit = from == candidate ? shift : -shift;
                if (lower)
                    least = std::max(least, limit);
                else
                    most = std::min(most, limit);
            }
            if (!neighbour)
                continue;
            double shift = std::clamp(0.0, std::min(least, most), std::max(least, most));
            if (least > most)
                shift = 0.5 * (least + most);
            for (std::size_t v = 0; v < system_.nodes; ++v)
                if (island_[v] == candidate)
                    pressure_[v] += shift;
            placed[candidate] = 1;
        }
    }
}

// Holds branches beyond a bound and releases held ones whose pressures pull them off it. True when
// nothing changed. From the tenth round on only the worst is changed, so that rounds cannot cycle.
bool FlowEquations::settle_bounds(int round, bool springs) {
    for (std::size_t b = 0; b < flow_.size(); ++b)
        if (hold_[b] != Hold::Free)
            loss_[b] = law(b, flow_[b]);
    offset_islands();
    const double flow_scale = std::max(largest_flow_, 1e-9);
    const double pressure_slack = 0.1 * law_tolerance();
    // A branch's claim to change, and how strong it is.
    const auto claim = [&](std::size_t b) -> std::pair<Hold, double> {
        const networks::FlowBounds &bounds = system_.branches[b].bounds;
        if (hold_[b] != Hold::Free) {
            const double excess = held_excess(b);
            return {Hold::Free,
                    excess > pressure_slack ? excess / std::max(largest_loss_, 1.0) : 0.0};
        }
        const double above = flow_[b] - bounds.most_kg_s;
        const double below = bounds.least_kg_s - flow_[b];
        const double beyond = std::max(above, below) / flow_scale;
        return {above > below ? Hold::AtMost : Hold::AtLeast, beyond > 1e-12 ? beyond : 0.0};
    };
    const bool one_at_a_time = round >= 10;
    std::vector<std::size_t> changes;
    double strongest = 0.0;
    for (std::size_t b = 0; b < flow_.size(); ++b) {
        if (hold_[b] != Hold::Free)
            pressed_[b] = -held_excess(b);
        const double strength = system_.branches[b].prescribed ? 0.0 : claim(b).second;
        if (strength <= (one_at_a_time ? strongest : 0.0))
            continue;
        if (one_at_a_time)
            changes.clear();
        changes.push_back(b);
        strongest = strength;
    }
    for (std::size_t b : changes) {
        hold_[b] = claim(b).first;
        const networks::FlowBounds &bounds = system_.branches[b].bounds;
        const double inside = std::clamp(flow_[b], bounds.least_kg_s, bounds.most_kg_s);
        pressed_[b] = springs ? spring_slope(b) * std::abs(flow_[b] - inside) : models::no_limit;
    }
    return changes.empty();
}

Outcome FlowEquations::solve(std::vector<Iteration> *observer) {
    steps_ = 0;
    const bool bounded =
        std::any_of(system_.branches.begin(), system_.branches.end(), [](const Branch &branch) {
            return !branch.prescribed && (std::isfinite(branch.bounds.least_kg_s) ||
                                          std::isfinite(branch.bounds.most_kg_s));
        });
    // From rest, bounds are first stiff springs; a warm start goes straight to the held set.
    bounds_stiff_ = at_rest_ && bounded;
    if (at_rest_)
        for (std::size_t b = 0; b < flow_.size(); ++b)
            find_start(b);
    set_fixed_flows();
    find_islands();
    Outcome result = newton(observer);
    const bool springs = bounds_stiff_;
    bounds_stiff_ = false;
    if (!bounded || !result.converged())
        return result;
    for (int round = 0; round < most_bound_rounds; ++round) {
        if (settle_bounds(round, springs && round == 0) && round > 0)
            return result;
        release_starved_islands();
        result = newton(observer);
        if (!result.converged())
            return result;
    }
    return outcome(StopReason::Unsettled);
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
