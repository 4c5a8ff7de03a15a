#include "solver/flow/branch_laws.hpp"

#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <tuple>

namespace headroom::solver {
namespace {

using networks::LinkId;

// How many parts back an equal one is looked for: a run's flow and return pipes lie close together.
constexpr std::size_t looked_back = 16;

// K of a component whose loss is quadratic in flow and nothing else; 0 for any other.
double fitting_resistance(const networks::Component &component, double density_kg_m3) {
    if (const auto *local = std::get_if<networks::LocalLoss>(&component))
        return models::zeta_resistance(local->zeta, local->bore_m, density_kg_m3);
    if (const auto *valve = std::get_if<networks::FlowFactor>(&component))
        return models::kv_resistance(valve->kv_m3_h, density_kg_m3);
    if (const auto *valve = std::get_if<networks::OneWay>(&component))
        return models::kv_resistance(valve->kv_m3_h, density_kg_m3);
    if (const auto *limiter = std::get_if<networks::FlowLimiter>(&component))
        return models::kv_resistance(limiter->kv_m3_h, density_kg_m3);
    if (const auto *pump = std::get_if<networks::StoppedPump>(&component))
        return models::stopped_pump_resistance(pump->curve, density_kg_m3);
    return 0.0;
}

bool changes_between_solves(const networks::Component &component) {
    return std::holds_alternative<networks::RunningPump>(component) ||
           std::holds_alternative<networks::TeeLeg>(component);
}

// A pressure that a component takes at any flow along it.
double constant_loss_pa(const networks::Component &component) {
    if (const auto *valve = std::get_if<networks::OneWay>(&component))
        return valve->opens_pa;
    if (const auto *rise = std::get_if<networks::PressureRise>(&component))
        return -rise->rise_pa;
    return 0.0;
}

} // namespace

double held_potential_pa(const networks::Network &network, const networks::NodePressure &held) {
    return held.pressure_pa + network.reference_density_kg_m3 * models::gravity_m_per_s2 *
                                  network.nodes[held.node].elevation_m;
}

BranchLaws::BranchLaws(const networks::Network &network, const BranchSystem &system)
    : network_(network), system_(system), buoyancy_(network, system),
      constant_pa_(system.branches.size()) {
    if (network.held.empty())
        return;
    // Held potentials against the first of them, so that only what drives a flow counts as a loss.
    offset_pa_.resize(network.nodes.size());
    for (const networks::NodePressure &held : network.held)
        offset_pa_[held.node] =
            held_potential_pa(network, held) - held_potential_pa(network, network.held.front());
    held_pa_.resize(system.branches.size());
    for (std::size_t b = 0; b < system.branches.size(); ++b)
        for (const Member &member : system.members_of(b))
            held_pa_[b] += member.sign * held_pa(member.link);
}

double BranchLaws::held_pa(LinkId link) const {
    if (offset_pa_.empty())
        return 0.0;
    return offset_pa_[network_.links[link].to] - offset_pa_[network_.links[link].from];
}

// (rho - rho_ref) g (z_to - z_from)
double BranchLaws::weight_pa(LinkId link) const {
    if (!network_.buoyancy)
        return 0.0;
    return (fluid_[link].density_kg_m3 - network_.reference_density_kg_m3) *
           models::gravity_m_per_s2 *
           (network_.nodes[network_.links[link].to].elevation_m -
            network_.nodes[network_.links[link].from].elevation_m);
}

void BranchLaws::set_fluid(const std::vector<models::FluidState> &states) {
    const bool first = fluid_.empty();
    fluid_ = states;
    const auto parted = [&](const Alike &pair) {
        return fluid_[pair.link].density_kg_m3 != fluid_[pair.of].density_kg_m3 ||
               fluid_[pair.link].viscosity_pa_s != fluid_[pair.of].viscosity_pa_s;
    };
    if (first || std::any_of(alike_.begin(), alike_.end(), parted)) {
        gather();
        gathering_ = {};
    }
    scale();
}

void BranchLaws::reread_components() {
    gather(); // and its memory is kept for the next time
    scale();
}

// Sorts out which pipes and fittings stand in which branch.
void BranchLaws::gather() {
    gathering_.curves.clear();
    gathering_.pipes.clear();
    gathering_.fittings.clear();
    alike_.clear();
    changing_.clear();
    for (std::size_t b = 0; b < system_.branches.size(); ++b)
        gather_branch(static_cast<std::uint32_t>(b));
    arrange();
}

void BranchLaws::gather_branch(std::uint32_t branch) {
    const std::size_t first_pipe = gathering_.pipes.size();
    const std::size_t first_fitting = gathering_.fittings.size();
    for (const Member &member : system_.members_of(branch)) {
        const networks::Component &component = network_.links[member.link].component;
        Part part{branch, 0, member.link, 1.0};
        if (const auto *friction = std::get_if<networks::PipeFriction>(&component)) {
            const models::Pipe &pipe = friction->pipe;
            part.factor = (1.0 - pipe.curved_share) * pipe.length_m;
            part.curve = gathering_.curves.number(pipe.straight);
            if (part.factor > 0.0)
                add_part(gathering_.pipes, first_pipe, part);
            part.factor = pipe.curved_share * pipe.length_m;
            if (part.factor > 0.0) {
                part.curve = gathering_.curves.number(pipe.curved);
                add_part(gathering_.pipes, first_pipe, part);
            }
        } else if (changes_between_solves(component)) {
            changing_.push_back({branch, member});
        } else if (fitting_resistance(component, 1000.0) > 0.0) {
            add_part(gathering_.fittings, first_fitting, part);
        }
    }
}

// Places the parts in their banks: fittings by branch, pipes by curve.
void BranchLaws::arrange() {
    const auto spare = static_cast<std::uint32_t>(system_.branches.size());
    std::sort(gathering_.pipes.begin(), gathering_.pipes.end(), [](const Part &a, const Part &b) {
        return std::tuple(a.curve, a.branch, a.link) < std::tuple(b.curve, b.branch, b.link);
    });
    gathering_.pipe_entries.clear();
    pipe_link_.clear();
    pipe_length_m_.clear();
    for (const Part &part : gathering_.pipes) {
        gathering_.pipe_entries.push_back({part.branch, part.curve});
        pipe_link_.push_back(part.link);
        pipe_length_m_.push_back(part.factor);
    }
    pipes_.arrange(gathering_.pipe_entries, gathering_.curves, spare);
    gathering_.fitting_entries.clear();
    fitting_link_.clear();
    for (const Part &part : gathering_.fittings) {
        gathering_.fitting_entries.push_back({part.branch, part.factor});
        fitting_link_.push_back(part.link);
    }
    fittings_.arrange(gathering_.fitting_entries, spare);
}

// Adds a part to those of its branch, which begin at `first`; to an equal one, if there is.
void BranchLaws::add_part(std::vector<Part> &parts, std::size_t first, const Part &part) {
    const auto bore = [&](LinkId link) {
        const auto *pipe = std::get_if<networks::PipeFriction>(&network_.links[link].component);
        return pipe != nullptr ? pipe->pipe.bore_m : 0.0;
    };
    const auto equal = [&](const Part &other) {
        const models::FluidState &a = fluid_[part.link], &b = fluid_[other.link];
        return part.curve == other.curve && a.density_kg_m3 == b.density_kg_m3 &&
               a.viscosity_pa_s == b.viscosity_pa_s && bore(part.link) == bore(other.link) &&
               fitting_resistance(network_.links[part.link].component, 1000.0) ==
                   fitting_resistance(network_.links[other.link].component, 1000.0);
    };
    first = std::max(first, parts.size() > looked_back ? parts.size() - looked_back : 0);
    for (std::size_t i = parts.size(); i-- > first;)
        if (equal(parts[i])) {
            parts[i].factor += part.factor;
            if (parts[i].link != part.link)
                alike_.push_back({part.link, parts[i].link});
            return;
        }
    parts.push_back(part);
}

// Gives the banks the parts' present properties.
void BranchLaws::scale() {
    for (std::size_t i = 0; i < pipe_link_.size(); ++i) {
        const LinkId link = pipe_link_[i];
        const double d =
            std::get<networks::PipeFriction>(network_.links[link].component).pipe.bore_m;
        const models::FluidState &fluid = fluid_[link];
        pipes_.scale(i, 4.0 / (models::pi * d * fluid.viscosity_pa_s),
                     fluid.viscosity_pa_s * fluid.viscosity_pa_s * pipe_length_m_[i] /
                         (fluid.density_kg_m3 * d * d * d));
    }
    for (std::size_t i = 0; i < fitting_link_.size(); ++i) {
        const LinkId link = fitting_link_[i];
        fittings_.scale(
            i, fitting_resistance(network_.links[link].component, fluid_[link].density_kg_m3));
    }
    for (std::size_t b = 0; b < constant_pa_.size(); ++b) {
        constant_pa_[b] = branch_held_pa(b);
        for (const Member &member : system_.members_of(b))
            constant_pa_[b] +=
                member.sign *
                (weight_pa(member.link) + constant_loss_pa(network_.links[member.link].component));
    }
}

void BranchLaws::set_directed_water(const DirectedWater &water) {
    buoyancy_.set(water);
    directed_.clear();
    for (std::size_t b = 0; b < system_.branches.size(); ++b)
        if (buoyancy_.rises(b))
            directed_.push_back(static_cast<std::uint32_t>(b));
}

models::Loss BranchLaws::link_loss(LinkId link, double flow_kg_s) const {
    double warm = 0.0;
    models::Loss loss =
        networks::component_loss(network_.links[link].component, fluid_[link], flow_kg_s, warm);
    loss.pressure_pa += weight_pa(link) + held_pa(link);
    return loss;
}

void BranchLaws::evaluate_at_rest(BranchLosses &losses) const {
    std::copy(constant_pa_.begin(), constant_pa_.end(), losses.pressure_pa.begin());
    add_changing([](std::uint32_t) { return 0.0; }, losses);
}

void BranchLaws::evaluate(const std::vector<double> &flow_kg_s, BranchLosses &losses) {
    std::copy(constant_pa_.begin(), constant_pa_.end(), losses.pressure_pa.begin());
    std::fill(losses.slope_pa_s_kg.begin(), losses.slope_pa_s_kg.end(), 0.0);
    pipes_.add_losses(flow_kg_s.data(), losses.pressure_pa.data(), losses.slope_pa_s_kg.data());
    fittings_.add_losses(flow_kg_s.data(), losses.pressure_pa.data(), losses.slope_pa_s_kg.data());
    add_changing([&](std::uint32_t branch) { return flow_kg_s[branch]; }, losses);
}

// Adds what stands in no bank.
template <class FlowOf> void BranchLaws::add_changing(FlowOf flow_of, BranchLosses &losses) const {
    for (const auto &[b, member] : changing_) {
        double warm = 0.0;
        const models::Loss loss =
            networks::component_loss(network_.links[member.link].component, fluid_[member.link],
                                     member.sign * flow_of(b), warm);
        losses.pressure_pa[b] += member.sign * loss.pressure_pa;
        losses.slope_pa_s_kg[b] += loss.slope_pa_s_per_kg;
    }
    for (std::uint32_t b : directed_) {
        const models::Loss loss = buoyancy_.law(b, flow_of(b));
        losses.pressure_pa[b] += loss.pressure_pa;
        losses.slope_pa_s_kg[b] += loss.slope_pa_s_per_kg;
        for (const Member &member : system_.members_of(b))
            losses.pressure_pa[b] -= member.sign * weight_pa(member.link);
    }
}

} // namespace headroom::solver
