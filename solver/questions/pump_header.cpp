// What a header passes and mixes, and the setting at which both sides draw the same.
#include "solver/questions/balance_words.hpp"
#include "solver/questions/balanced.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/source_setting.hpp"
#include "solver/questions/variants.hpp"
#include "solver/root.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Network;
using networks::NodeId;
using networks::Owner;

struct Ends {
    NodeId flow, back;
};

Ends header_ends(const House &house, const Network &network) {
    Ends out{};
    for (NodeId v = 0; v < network.nodes.size(); ++v) {
        if (network.nodes[v].name == house.separator->name + ".flow")
            out.flow = v;
        if (network.nodes[v].name == house.separator->name + ".return")
            out.back = v;
    }
    return out;
}

// Water that comes to a node other than through the header itself.
struct Arriving {
    double flow_kg_s = 0.0;
    double mixed_c = 0.0; ///< by flow
};

Arriving arriving(const Network &network, const Solution &solution, NodeId node) {
    Arriving out;
    double sum = 0.0;
    for (std::size_t id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        if (link.owner.kind == Owner::Kind::Separator)
            continue;
        const double in = link.to == node     ? solution.flow_kg_s[id]
                          : link.from == node ? -solution.flow_kg_s[id]
                                              : 0.0;
        if (in <= 0.0)
            continue;
        out.flow_kg_s += in;
        sum += in * solution.heat.out_c[id];
    }
    if (out.flow_kg_s > 0.0)
        out.mixed_c = sum / out.flow_kg_s;
    return out;
}

struct HeaderState {
    bool solved = false;
    double through_kg_s = 0.0;
    double primary_kg_s = 0.0;
    double flow_c = 0.0;
};

HeaderState header_state(const House &house) {
    const Network network = networks::expand(house);
    const Solution solution = solve(network, &house);
    HeaderState out;
    out.solved = solution.outcome.converged();
    if (!out.solved)
        return out;
    const Ends ends = header_ends(house, network);
    out.through_kg_s = solution.flow_kg_s[*network.separator];
    out.primary_kg_s = arriving(network, solution, ends.flow).flow_kg_s;
    out.flow_c = solution.heat.node_c[ends.flow];
    return out;
}

// The head between the source's connections at which nothing passes through the header.
void add_balance(const House &house, double secondary_kg_s, double density, HeaderFlows &out) {
    constexpr double most_pa = 1e6;
    const auto at = [&](double rise_pa) { return header_state(with_ideal_rise(house, rise_pa)); };
    const HeaderState still = at(0.0);
    if (!still.solved || still.through_kg_s >= 0.0)
        return; // the secondary pumps alone bring the primary more than they draw
    double high_pa = 1e3;
    for (HeaderState state = at(high_pa); !state.solved || state.through_kg_s < 0.0;
         state = at(high_pa)) {
        high_pa *= 2.0;
        if (!state.solved || high_pa > most_pa)
            return;
    }
    const double tolerance_kg_s = 1e-6 * secondary_kg_s;
    const double rise_pa = bracketed_root([&](double rise) { return at(rise).through_kg_s; }, 0.0,
                                          high_pa, tolerance_kg_s);
    const HeaderState state = at(rise_pa);
    if (!state.solved)
        return;
    const House full = at_full_speed(house);
    out.balance_pa = rise_pa;
    out.balance_m3_s = state.primary_kg_s / density;
    out.balance_flow_c = state.flow_c;
    out.balance_available_pa = residual_head_pa(full, state.primary_kg_s);
    const double inner_pa = circulator_rise_pa(full, state.primary_kg_s) - out.balance_available_pa;
    out.balance_speed = circulator_speed_for(full, state.primary_kg_s, rise_pa + inner_pa);
    out.balance_power = pump_power_at(house, house.source->circulator, out.balance_m3_s,
                                      rise_pa + inner_pa, out.balance_speed);
}

} // namespace

std::optional<HeaderFlows> header_flows(const House &house, const Network &network,
                                        const Solution &solution) {
    if (!house.separator || !network.separator)
        return std::nullopt;
    const Ends ends = header_ends(house, network);
    const networks::LinkId header = *network.separator;
    const double density = solution.fluid[header].density_kg_m3;
    const Arriving primary = arriving(network, solution, ends.flow);
    const Arriving secondary = arriving(network, solution, ends.back);
    const double through_kg_s = solution.flow_kg_s[header];
    HeaderFlows out;
    out.name = house.separator->name;
    out.primary_m3_s = primary.flow_kg_s / density;
    out.secondary_m3_s = secondary.flow_kg_s / density;
    out.through_m3_s = through_kg_s / density;
    out.primary_flow_c = primary.mixed_c;
    out.secondary_flow_c = solution.heat.node_c[ends.flow];
    out.secondary_return_c = secondary.mixed_c;
    out.primary_return_c = solution.heat.node_c[ends.back];
    const double area_m2 =
        0.25 * std::numbers::pi * house.separator->bore_m * house.separator->bore_m;
    out.velocity_m_s = std::abs(out.through_m3_s) / area_m2;
    out.whole_velocity_m_s = std::max(out.primary_m3_s, out.secondary_m3_s) / area_m2;
    add_balance(house, secondary.flow_kg_s, density, out);
    return out;
}

void add_needs(const House &as_found, PumpAnswer &answer) {
    if (std::none_of(as_found.runs.begin(), as_found.runs.end(), [](const networks::Run &run) {
            return run.pump && run.pump->mode != networks::PumpMode::Stopped;
        }))
        return;
    const Balanced work = balanced(as_found);
    if (!work.outcome.converged())
        return;
    for (const BalancedPump &pump : work.pumps) {
        PumpNeed need{pump_name(work.house, pump.circuit),
                      pump.flow_m3_s,
                      {},
                      pump.driven,
                      setting_words(work, pump)};
        if (!pump.circuit.emitters.empty())
            need.needed_pa = pump.needed_pa;
        answer.needs.push_back(std::move(need));
    }
    answer.header_set =
        header_flows(work.settings.set, work.settings.free.network, work.settings.free.solution);
}

} // namespace headroom::solver
