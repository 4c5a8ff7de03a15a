#include "solver/questions/balanced.hpp"

#include "networks/protection.hpp"
#include "solver/questions/circuit.hpp"
#include "solver/questions/variants.hpp"
#include "solver/root.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Network;
using networks::Pump;
using networks::PumpMode;

constexpr double head_tolerance_pa = 1e-3;

Pump &pump_of(House &house, std::optional<std::size_t> run) {
    return run ? *house.runs[*run].pump : house.source->circulator;
}

// The pump nearest to an emitter up the stream; empty for the source's.
std::optional<std::size_t> nearest_pump(const SolvedHouse &full,
                                        const networks::EmitterLinks &links) {
    const Network &network = full.network;
    for (networks::LinkId id :
         follow_water(network, full.solution, network.links[links.links.front()].from,
                      network.source->flow, false)) {
        const networks::Link &link = network.links[id];
        if (link.owner.kind == networks::Owner::Kind::Run &&
            std::holds_alternative<networks::RunningPump>(link.component))
            return link.owner.index;
    }
    return std::nullopt;
}

// One a running pump, the source's first.
std::vector<BalancedPump> circuits_of(const House &house, const SolvedHouse &full) {
    std::vector<BalancedPump> out(1);
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        if (house.runs[r].pump && house.runs[r].pump->mode != PumpMode::Stopped) {
            out.emplace_back();
            out.back().circuit.run = r;
        }
    for (const networks::EmitterLinks &links : full.network.emitters) {
        if (networks::is_heat_leak(house, house.emitters[links.emitter]))
            continue; // it is not for a pump
        const auto run = nearest_pump(full, links);
        const auto own = std::find_if(out.begin(), out.end(), [&](const BalancedPump &pump) {
            return pump.circuit.run == run;
        });
        own->circuit.emitters.push_back(links.emitter);
    }
    return out;
}

// What a knob of the pump must stand at for a head at a flow: speed, or setting.
double knob_for(const House &house, std::optional<std::size_t> run, double Pump::*knob, double most,
                double head_pa, double flow_kg_s, const Solution &at) {
    const auto excess = [&](double value) {
        House trial = house;
        pump_of(trial, run).*knob = value;
        return residual_head_pa(trial, flow_kg_s, run, &at) - head_pa;
    };
    return bracketed_root(excess, 1e-3 * most, most, head_tolerance_pa);
}

// The pump in its own mode, giving `head_pa` at the circuit's flow. Constant flow is set as the
// pressure that gives this flow. `full` has every pump on its highest curve.
Pump turned_to(const House &full, const Pump &found, const BalancedPump &circuit, double head_pa,
               const Solution &at) {
    House house = full;
    const auto run = circuit.circuit.run;
    Pump &pump = pump_of(house, run);
    const auto fixed_speed = [&] {
        pump.mode = PumpMode::FixedSpeed;
        pump.speed = knob_for(house, run, &Pump::speed, pump.speed, head_pa, circuit.flow_kg_s, at);
    };
    const bool at_least_speed = head_pa > circuit.needed_pa;
    if (found.mode == PumpMode::FixedSpeed || found.mode == PumpMode::Stopped || at_least_speed) {
        fixed_speed();
        return pump;
    }
    pump.mode = found.mode == PumpMode::ProportionalPressure ? PumpMode::ProportionalPressure
                                                             : PumpMode::ConstantPressure;
    const double most = pump.curve.peak_pressure_pa * pump.speed * pump.speed;
    pump.setting_pa = knob_for(house, run, &Pump::setting_pa, most, head_pa, circuit.flow_kg_s, at);
    if (residual_head_pa(house, circuit.flow_kg_s, run, &at) < head_pa - 1.0)
        fixed_speed(); // the setting would need more than the pump's greatest
    return pump;
}

// Flow and heads of a pump whose emitters need `needed`, or that drives none.
void weigh(BalancedPump &pump, const House &found, const House &full, const SolvedHouse &at,
           const HeadNeeded *needed) {
    const auto run = pump.circuit.run;
    const networks::LinkId link = pump_link(at.network, run);
    pump.flow_kg_s = needed != nullptr ? needed->source_flow_kg_s : at.solution.flow_kg_s[link];
    pump.flow_m3_s = pump.flow_kg_s / at.solution.fluid[link].density_kg_m3;
    pump.found_pa = residual_head_pa(found, pump.flow_kg_s, run, &at.solution);
    pump.available_pa = residual_head_pa(full, pump.flow_kg_s, run, &at.solution);
    if (needed == nullptr)
        return;
    pump.index = needed->network.emitters[needed->index].emitter;
    pump.needed_pa = -needed->solution.loss_pa[pump_link(needed->network, run)];
    pump.driven = pump.available_pa >= pump.needed_pa;
    pump.set_pa = pump.driven ? turned_down_pa(full, *needed, run) : pump.available_pa;
}

// What the pump's emitters need, without those that no head drives.
std::optional<HeadNeeded> need_of(const House &house, BalancedPump &pump, Outcome &outcome) {
    pump.blocked.clear();
    Circuit circuit = pump.circuit;
    while (!circuit.emitters.empty()) {
        std::vector<std::size_t> blocked;
        auto needed = head_needed(house, circuit, outcome, blocked);
        if (needed || !outcome.converged() || blocked.empty())
            return needed;
        for (std::size_t emitter : blocked)
            std::erase(circuit.emitters, emitter);
        pump.blocked.insert(pump.blocked.end(), blocked.begin(), blocked.end());
    }
    return std::nullopt;
}

// The houses a search works on, all with ideal valves.
struct Search {
    const House &found; // as the file has it
    House full;         // every pump on its highest curve
    SolvedHouse at;     // solved
    House others;       // pumps already settled are ideal ones
    House set;          // and in their own modes
};

// One pump settled against the others as they stand.
Outcome settle(BalancedPump &pump, Search &search) {
    const auto run = pump.circuit.run;
    House as_found = search.found;
    const Pump &found = pump_of(as_found, run);
    Outcome outcome = search.at.solution.outcome;
    const std::optional<HeadNeeded> needed = need_of(search.others, pump, outcome);
    if (!outcome.converged())
        return outcome;
    weigh(pump, search.found, search.full, search.at, needed ? &*needed : nullptr);
    pump.as_set = pump_of(search.full, run);
    if (!needed) { // nothing of its own, or a part in the way that no head overcomes
        pump.set_pa = pump.circuit.emitters.empty() ? pump.found_pa : pump.available_pa;
        if (pump.circuit.emitters.empty())
            pump.as_set = found;
        pump_of(search.others, run) = pump.as_set;
    } else if (pump.driven) {
        pump.as_set = turned_to(search.full, found, pump, pump.set_pa, search.at.solution);
        const double to_curve = run ? needed->pressure_pa / pump.needed_pa : 1.0;
        search.others = with_ideal_rise(search.others, pump.set_pa * to_curve, run);
    }
    pump_of(search.set, run) = pump.as_set;
    return outcome;
}

} // namespace

Balanced balanced(const House &house) {
    Balanced out;
    out.house = house;
    const House full = with_ideal_balancing(at_full_speed(house));
    Search search{house, full, solved(full), full, full};
    out.outcome = search.at.solution.outcome;
    out.state = "all pumps on their highest curve";
    if (!out.outcome.converged())
        return out;
    out.pumps = circuits_of(house, search.at);
    out.state = "what each pump's emitters need";
    const int rounds = out.pumps.size() > 1 ? 2 : 1; // pumps may feed each other
    for (int round = 0; round < rounds; ++round)
        for (BalancedPump &pump : out.pumps) {
            out.outcome = settle(pump, search);
            if (!out.outcome.converged())
                return out;
        }
    out.settings = valve_settings(search.set);
    out.outcome = out.settings.outcome;
    out.state = out.settings.state;
    if (!out.outcome.converged())
        return out;
    for (BalancedPump &pump : out.pumps) // those without emitters move what the others leave them
        if (pump.circuit.emitters.empty()) {
            weigh(pump, house, full, out.settings.free, nullptr);
            pump.set_pa = pump.found_pa;
        }
    return out;
}

std::vector<std::size_t> setting_order(const Balanced &work) {
    const std::vector<ValveSetting> &valves = work.settings.valves;
    std::vector<std::size_t> order;
    for (const BalancedPump &pump : work.pumps) {
        std::vector<std::size_t> own;
        for (std::size_t i = 0; i < valves.size(); ++i)
            if (std::find(pump.circuit.emitters.begin(), pump.circuit.emitters.end(),
                          valves[i].emitter) != pump.circuit.emitters.end())
                own.push_back(i);
        std::stable_sort(own.begin(), own.end(), [&](std::size_t a, std::size_t b) {
            return valves[a].surplus_pa > valves[b].surplus_pa;
        });
        order.insert(order.end(), own.begin(), own.end());
    }
    return order;
}

} // namespace headroom::solver
