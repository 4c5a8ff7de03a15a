// Set-valued laws: which branches stand at a bound, settled to exact complementarity.
#include "networks/same_flow.hpp"
#include "solver/flow/flow_equations.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

constexpr int most_bound_rounds = 100;

} // namespace

void FlowEquations::set_fixed_flows() {
    for (std::size_t b = 0; b < step_.size(); ++b) {
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
    if (island_hold_ == hold_)
        return;
    island_hold_ = hold_;
    std::vector<networks::GraphEdge> free_edges;
    for (std::size_t b = 0; b < step_.size(); ++b)
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
    for (;;) {
        set_fixed_flows();
        find_islands();
        std::vector<double> gain(islands_);
        double through = 0.0;
        for (std::size_t v = 1; v < system_.nodes; ++v)
            gain[island_[v]] += system_.inflow_kg_s[v];
        for (std::size_t b = 0; b < step_.size(); ++b) {
            const Branch &branch = system_.branches[b];
            if (island_[branch.from] == island_[branch.to])
                continue;
            gain[island_[branch.from]] -= flow_[b];
            gain[island_[branch.to]] += flow_[b];
            through = std::max(through, std::abs(flow_[b]));
        }
        gain[island_[0]] = 0.0; // the ground takes what is left
        std::size_t loosest = step_.size();
        for (std::size_t b = 0; b < step_.size(); ++b) {
            const Branch &branch = system_.branches[b];
            if (branch.prescribed || hold_[b] == Hold::Free)
                continue;
            // Leaving the bound moves flow from one end's island to the other's.
            const bool lessens = hold_[b] == Hold::AtMost;
            const double giver = gain[island_[lessens ? branch.to : branch.from]];
            const double taker = gain[island_[lessens ? branch.from : branch.to]];
            const bool mends = island_[branch.from] != island_[branch.to] &&
                               std::max(giver, -taker) > mass_tolerance * through;
            if (mends && (loosest == step_.size() || pressed_[b] < pressed_[loosest]))
                loosest = b;
        }
        if (loosest == step_.size())
            return;
        hold_[loosest] = Hold::Free;
    }
}

// How far a held branch's pressures are from wanting it released: positive means release.
double FlowEquations::held_excess(std::size_t b) const {
    const Branch &branch = system_.branches[b];
    const double pressed = pressure_[branch.from] - pressure_[branch.to] - losses_.pressure_pa[b];
    return hold_[b] == Hold::AtMost ? -pressed : pressed;
}

// Holds branches beyond a bound and releases held ones whose pressures pull them off it. True when
// nothing changed. From the tenth round on only the worst is changed, which ends most cycles of
// several.
bool FlowEquations::settle_bounds(int round, bool springs) {
    evaluate(flow_, losses_);
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
    for (std::size_t b = 0; b < step_.size(); ++b) {
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

Outcome FlowEquations::solve() {
    steps_ = 0;
    if (lost_)
        begin_at_rest();
    // From rest, bounds are first stiff springs; a warm start goes straight to the held set.
    bounds_stiff_ = at_rest_ && bounded_;
    if (at_rest_)
        find_start();
    set_fixed_flows();
    find_islands();
    Outcome result = newton();
    const bool springs = bounds_stiff_;
    bounds_stiff_ = false;
    if (!bounded_ || !result.converged())
        return result;
    for (int round = 0; round < most_bound_rounds; ++round) {
        if (settle_bounds(round, springs && round == 0) && round > 0)
            return result;
        release_starved_islands();
        result = newton();
        if (!result.converged())
            return result;
    }
    return outcome(StopReason::Unsettled);
}

} // namespace headroom::solver
