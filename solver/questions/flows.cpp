#include "solver/questions/flows.hpp"
#include "solver/questions/figure_words.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/questions/mixer_authority.hpp"

#include "solver/questions/circuit.hpp"
#include "solver/questions/pump_duty.hpp"
#include "solver/questions/size.hpp"
#include "solver/root.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace headroom::solver {
namespace {

using networks::House;
using networks::LinkId;
using networks::Network;

// Common practice, no source: 0.3 bar at a pump inlet and at every high point keeps air out and the
// pump quiet.
constexpr double least_pump_inlet_pa = 0.3e5;
constexpr double least_high_point_pa = 0.3e5;

LinkRow link_row(const House &house, const Network &network, const Solution &solution,
                 double heat_capacity, LinkId id) {
    const networks::Link &link = network.links[id];
    const models::FluidState &fluid = solution.fluid[id];
    const double flow = solution.flow_kg_s[id];
    LinkRow row{network.owner_name(house, link.owner),
                link.name,
                network.nodes[link.from].name,
                network.nodes[link.to].name,
                flow,
                flow / fluid.density_kg_m3,
                0.0,
                0.0,
                "",
                solution.loss_pa[id],
                solution.heat.in_c[id],
                solution.heat.out_c[id],
                std::abs(flow) * heat_capacity *
                    (solution.heat.in_c[id] - solution.heat.out_c[id])};
    if (const auto *pipe = std::get_if<networks::PipeFriction>(&link.component)) {
        row.velocity_m_s = models::velocity_m_s(pipe->pipe.bore_m, fluid, flow);
        row.reynolds = models::reynolds_number(pipe->pipe.bore_m, fluid, flow);
        row.regime = regime_name(pipe->pipe.straight.constant_factor > 0.0
                                     ? models::Regime::Turbulent
                                     : models::flow_regime(pipe->pipe, row.reynolds));
    }
    return row;
}

// The hot port's Kv is travel times the valve's, so its open loss is travel squared of what it
// takes.
std::string not_held(const std::string &run, const MixerState &mixer) {
    const std::string words = fmt::format(
        "the mixer of run {} cannot hold {:g} degC: it sends {:.1f} degC at {:.0f} % of "
        "its travel",
        run, mixer.set_c, mixer.mixed_c, 100.0 * mixer.travel);
    if (!mixer.jump)
        return words;
    return words + fmt::format(", and will hunt: from {:.1f} to {:.1f} % what it mixes jumps from "
                               "{:.1f} to {:.1f} degC; look for a spring, such as a check valve's, "
                               "that its circuit cannot keep open",
                               100.0 * mixer.jump->cold_travel, 100.0 * mixer.jump->warm_travel,
                               mixer.jump->cold_c, mixer.jump->warm_c);
}

SourceRow source_row(const House &house, const Network &network, const Solution &solution,
                     double load_w) {
    const LinkId pump = network.source->pump;
    const double return_c = solution.heat.node_c[network.source->back];
    const double sent_c = solution.heat.node_c[network.source->flow];
    return {load_w,
            solution.flow_kg_s[pump] / solution.fluid[pump].density_kg_m3,
            sent_c,
            return_c,
            house.source->least_flow_m3_s,
            source_heat(house, sent_c, return_c, load_w),
            std::nullopt};
}

// The temperature that a source which falls short can hold: where it gives all that is asked of it.
// Nothing where that is colder than any room wants.
std::optional<double> held_c(House house, double sent_c) {
    const auto short_w = [&](double at_c) {
        house.source->flow_temperature_c = at_c;
        const Network network = networks::expand(house);
        const Solution solution = solve(network, &house);
        if (!solution.outcome.converged())
            return std::numeric_limits<double>::quiet_NaN();
        const double load_w = heat_balance(house, network, solution).source_w;
        const auto heat =
            source_heat(house, at_c, solution.heat.node_c[network.source->back], load_w);
        return load_w - heat->greatest_w;
    };
    double coldest_c = sent_c;
    for (const networks::Room &room : house.rooms)
        coldest_c = std::min(coldest_c, room.indoor_c);
    double high_c = sent_c;
    double low_c = sent_c;
    double at_low_w = short_w(low_c);
    while (at_low_w > 0.0 && low_c > coldest_c) {
        high_c = low_c;
        low_c = std::max(coldest_c, low_c - 5.0);
        at_low_w = short_w(low_c);
    }
    if (!(at_low_w <= 0.0))
        return std::nullopt;
    constexpr double tolerance_w = 1.0;
    return bracketed_root(short_w, low_c, high_c, tolerance_w, 1e-6);
}

} // namespace

FlowsAnswer flows(const House &given) {
    const Sizing sizing = size_as_found(given);
    const House &house = sizing.house;
    House as_is = house;
    as_is.condition.buoyancy = true;
    as_is.condition.rooms_float = true;
    const Network network = networks::expand(as_is);
    const Solution solution = solve(network, &as_is);
    FlowsAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.fluid = models::fluid_name(house.fluid);
    out.outcome = solution.outcome;
    out.outer_steps = solution.outer_steps;
    out.absolute = solution.absolute;
    if (!solution.outcome.converged())
        return out;
    for (const FixedMixer &mixer : sizing.fixed_mixers)
        out.assumed.push_back(fixed_mixer_words(house, mixer));
    for (std::string &words : assumed_mixer_ends(given))
        out.assumed.push_back(std::move(words));
    out.warnings = solution.remarks;
    if (!sizing.settled)
        out.warnings.push_back(unsettled_inlets(sizing));
    const double heat_capacity = mean_heat_capacity_j_kg_k(network);
    for (LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        out.links.push_back(link_row(house, network, solution, heat_capacity, id));
        const bool pump = std::holds_alternative<networks::RunningPump>(link.component) ||
                          std::holds_alternative<networks::StoppedPump>(link.component);
        if (!pump)
            continue;
        const LinkRow &row = out.links.back();
        const double inlet = solution.pressure_pa[link.from];
        out.pumps.push_back({row.where, pump_mode(link.component, solution, id), row.flow_m3_s,
                             -row.loss_pa, inlet});
        if (out.absolute && solution.pressure_known[link.from] && inlet < least_pump_inlet_pa)
            out.warnings.push_back(fmt::format("{}: {:.2f} bar at the pump's inlet is little; it "
                                               "may draw air or cavitate (common practice: at "
                                               "least 0.3 bar)",
                                               row.where, inlet * 1e-5));
    }
    out.heat = heat_balance(house, network, solution);
    if (network.source)
        out.source = source_row(house, network, solution, out.heat.source_w);
    if (out.source && out.source->heat && out.source->heat->short_w > 0.0)
        out.source->holds_c = held_c(as_is, out.source->sent_c);
    if (out.source && out.source->below_least_flow())
        out.warnings.push_back(fmt::format("the source's flow of {} is below its least flow of {}",
                                           flow_words(out.form, out.source->flow_m3_s, 1),
                                           flow_words(out.form, *out.source->least_flow_m3_s, 1)));
    if (out.source)
        if (std::string words = cold_return(house, out.source->return_c); !words.empty())
            out.warnings.push_back(std::move(words));
    for (std::size_t i = 0; i < network.emitters.size(); ++i) {
        const networks::EmitterLinks &emitter = network.emitters[i];
        const EmitterBalance &heat = out.heat.emitters[i];
        const LinkId first = emitter.links.front();
        out.emitters.push_back({house.emitters[emitter.emitter].name, out.links[first].flow_m3_s,
                                solution.flow_kg_s[first] / emitter.design_flow_kg_s,
                                heat.from_water_w, heat.to_room_w, heat.down_w,
                                solution.heat.out_c[emitter.links.back()]});
    }
    for (std::size_t m = 0; m < solution.mixers.size(); ++m) {
        const MixerState &mixer = solution.mixers[m];
        const networks::MixerNode &node = network.mixers[m];
        const std::string &run = house.runs[mixer.run].name;
        out.mixers.push_back({"run " + run, mixer.travel, mixer.set_c, mixer.mixed_c,
                              out.links[node.hot].flow_m3_s, out.links[node.cold].flow_m3_s,
                              authority_share(network, solution, node, mixer.travel)});
        if (std::abs(mixer.mixed_c - mixer.set_c) > 0.1)
            out.warnings.push_back(not_held(run, mixer));
    }
    for (std::string &words : low_authority_words(house, network, solution))
        out.warnings.push_back(std::move(words));
    for (const RoomBalance &room : solution.rooms)
        out.rooms.push_back({house.rooms[room.room].name, house.rooms[room.room].indoor_c,
                             room.reached_c, room.heat_w, room.falls_share_per_k});
    double highest = -models::no_limit;
    for (const networks::Node &node : network.nodes)
        highest = std::max(highest, node.elevation_m);
    double lowest_pressure = models::no_limit;
    std::string lowest_name;
    for (std::size_t v = 0; v < network.nodes.size(); ++v) {
        const networks::Node &node = network.nodes[v];
        out.nodes.push_back({node.name, node.elevation_m, solution.pressure_pa[v],
                             solution.pressure_known[v] != 0, solution.heat.node_c[v]});
        if (house.levels_given && node.elevation_m >= highest - 0.01 &&
            solution.pressure_known[v] && solution.pressure_pa[v] < lowest_pressure) {
            lowest_pressure = solution.pressure_pa[v];
            lowest_name = node.name;
        }
    }
    if (out.absolute && house.fill && lowest_pressure < least_high_point_pa)
        out.warnings.push_back(
            fmt::format("{:.2f} bar at the high point `{}` is little; air may be "
                        "drawn in (common practice: at least 0.3 bar)",
                        lowest_pressure * 1e-5, lowest_name));
    return out;
}

} // namespace headroom::solver
