// The laws of the branches: members summed, springs beyond bounds, chords to start from.
#include "models/units.hpp"
#include "solver/flow/newton.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

constexpr double stiff_slope_pa_s_kg = 1e8;  // least slope beyond a bound, until it is settled
constexpr double stiffer_than_chord = 100.0; // and this many times the branch's own

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

void FlowEquations::evaluate() {
    for (std::size_t b = 0; b < flow_.size(); ++b)
        if (!fixed(b))
            loss_[b] = bounds_stiff_ ? stiff_law(b, flow_[b]) : law(b, flow_[b]);
}

double FlowEquations::law_tolerance() const {
    return std::max(law_tolerance_pa, law_tolerance_relative * largest_loss_);
}

} // namespace headroom::solver
