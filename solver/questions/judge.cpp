#include "solver/questions/judge.hpp"

#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <span>

namespace headroom::solver {
namespace {

using networks::EmitterLinks;
using networks::House;
using networks::Network;

constexpr double driven_share = 1.0 - 1e-9;
constexpr double ample_rise_pa = 5.0e6; // 50 bar: what this does not drive, no circulator will
constexpr double surplus_tolerance_pa = 1e-3;
constexpr int most_rise_steps = 80;

// A valve that stays open, as a heat leak's, neither lacks flow nor has any to spare.
bool is_limited(const Network &network, const EmitterLinks &links) {
    return std::holds_alternative<networks::FlowLimiter>(network.links[*links.balancing].component);
}

EmitterFlow fare(const Network &network, const Solution &solution, const EmitterLinks &links) {
    const double flow = solution.flow_kg_s[links.links.front()];
    if (!is_limited(network, links))
        return {links.emitter, links.design_flow_kg_s, flow, 0.0, true};
    const networks::LinkId valve = *links.balancing;
    return {links.emitter, links.design_flow_kg_s, flow,
            std::max(0.0, solution.loss_pa[valve] - solution.open_loss_pa[valve]),
            flow >= driven_share * links.design_flow_kg_s};
}

// How a network fares, and which of its emitters stands nearest to lacking flow.
struct Trial {
    Solution solution;
    bool all_driven = true;
    double least_surplus_pa = models::no_limit;
    std::size_t index = 0;
};

// The emitters that count: the house's, or the coil alone in the hot-water state.
std::span<const EmitterLinks> judged(const Network &network, bool hot_water) {
    if (hot_water)
        return {&*network.coil, 1};
    return network.emitters;
}

// A circuit of its own counts its own emitters, the whole house all of them.
bool counts(const Network &network, const Circuit *circuit, const EmitterLinks &links) {
    if (!is_limited(network, links))
        return false;
    return circuit == nullptr || std::find(circuit->emitters.begin(), circuit->emitters.end(),
                                           links.emitter) != circuit->emitters.end();
}

Trial try_network(const Network &network, const House &house, const Circuit *circuit = nullptr) {
    Trial trial;
    trial.solution = solve(network, &house);
    if (!trial.solution.outcome.converged())
        return trial;
    const auto emitters = judged(network, house.condition.hot_water);
    for (std::size_t i = 0; i < emitters.size(); ++i) {
        if (!counts(network, circuit, emitters[i]))
            continue;
        const EmitterFlow flow = fare(network, trial.solution, emitters[i]);
        trial.all_driven = trial.all_driven && flow.driven;
        // Where one is not driven, the farthest from its flow is the index.
        const double measure =
            flow.driven ? flow.surplus_pa : -1.0 + flow.flow_kg_s / flow.design_kg_s;
        if (measure < trial.least_surplus_pa) {
            trial.least_surplus_pa = measure;
            trial.index = i;
        }
    }
    return trial;
}

// Makes the network that of with_ideal_rise() at another rise.
void set_ideal_rise(Network &network, double rise_pa, std::optional<std::size_t> run) {
    networks::Component &pump = network.links[pump_link(network, run)].component;
    if (run)
        std::get<networks::RunningPump>(pump).curve = flat_curve(rise_pa);
    else
        pump = networks::PressureRise{rise_pa};
}

// The least ideal rise that drives all. Surplus grows with the rise; where circuits share nothing
// but throttled pipes it grows by as much, so the first step lands on the answer. Elsewhere (rings,
// open bypasses) a secant through the last two rises that work takes over, kept between the least
// rise known to work and the greatest known to fail.
std::optional<HeadNeeded> find_needed(const House &house, const Circuit *circuit, Outcome &outcome,
                                      std::vector<std::size_t> &blocked) {
    const auto run = circuit != nullptr ? circuit->run : std::optional<std::size_t>();
    double works = ample_rise_pa;
    double fails = 0.0;
    double slope = 1.0; // of surplus against rise
    Network network = networks::expand(with_ideal_rise(house, works, run));
    Trial best = try_network(network, house, circuit);
    outcome = best.solution.outcome;
    if (!outcome.converged())
        return std::nullopt;
    if (!best.all_driven) {
        for (const EmitterLinks &emitter : judged(network, house.condition.hot_water))
            if (counts(network, circuit, emitter) && !fare(network, best.solution, emitter).driven)
                blocked.push_back(emitter.emitter);
        return std::nullopt;
    }
    for (int i = 0; i < most_rise_steps && best.least_surplus_pa > surplus_tolerance_pa &&
                    works - fails > surplus_tolerance_pa;
         ++i) {
        // A hair of surplus is kept so that rounding does not tip the index over.
        double next = works - (best.least_surplus_pa - 0.1 * surplus_tolerance_pa) / slope;
        if (next <= fails + 0.01 * (works - fails))
            next = fails + (i % 2 == 0 ? 0.1 : 0.5) * (works - fails);
        set_ideal_rise(network, next, run);
        Trial trial = try_network(network, house, circuit);
        if (!trial.solution.outcome.converged()) {
            outcome = trial.solution.outcome;
            return std::nullopt;
        }
        if (!trial.all_driven) {
            fails = next;
            continue;
        }
        const double secant = (best.least_surplus_pa - trial.least_surplus_pa) / (works - next);
        if (secant > 0.0)
            slope = secant;
        works = next;
        best = std::move(trial);
    }
    set_ideal_rise(network, works, run);
    const double flow = best.solution.flow_kg_s[pump_link(network, run)];
    return HeadNeeded{works, flow, best.index, std::move(network), std::move(best.solution)};
}

} // namespace

std::optional<HeadNeeded> head_needed(const House &house, Outcome &outcome) {
    std::vector<std::size_t> blocked;
    return find_needed(house, nullptr, outcome, blocked);
}

std::optional<HeadNeeded> head_needed(const House &house, const Circuit &circuit, Outcome &outcome,
                                      std::vector<std::size_t> &blocked) {
    return find_needed(house, &circuit, outcome, blocked);
}

networks::LinkId pump_link(const Network &network, std::optional<std::size_t> run) {
    if (!run)
        return network.source->pump;
    networks::LinkId link = 0;
    while (network.links[link].owner.kind != networks::Owner::Kind::Run ||
           network.links[link].owner.index != *run ||
           !(std::holds_alternative<networks::RunningPump>(network.links[link].component) ||
             std::holds_alternative<networks::StoppedPump>(network.links[link].component)))
        ++link;
    return link;
}

double residual_head_pa(const Network &network, double flow_kg_s, std::optional<std::size_t> run,
                        const Solution *at) {
    double head = 0.0;
    const auto add = [&](networks::LinkId id) {
        const networks::Link &link = network.links[id];
        const models::FluidState fluid =
            at != nullptr ? at->fluid[id] : models::fluid_state(network.fluid, link.expected_c);
        networks::Component component = link.component;
        if (auto *pump = std::get_if<networks::RunningPump>(&component);
            pump != nullptr && networks::rises_with_flow(*pump))
            pump->limit_pa = networks::control_pressure(*pump, fluid.density_kg_m3, flow_kg_s);
        double warm = 0.0;
        head -= networks::component_loss(component, fluid, flow_kg_s, warm).pressure_pa;
    };
    add(pump_link(network, run));
    if (!run)
        for (networks::LinkId id : network.source->inner)
            add(id);
    return head;
}

double residual_head_pa(const House &house, double flow_kg_s, std::optional<std::size_t> run,
                        const Solution *at) {
    return residual_head_pa(networks::expand(house), flow_kg_s, run, at);
}

Judgement judge(const House &house) {
    Judgement out;
    out.network = networks::expand(house);
    Trial trial = try_network(out.network, house);
    out.outcome = trial.solution.outcome;
    if (!out.outcome.converged())
        return out;
    for (const EmitterLinks &emitter : judged(out.network, house.condition.hot_water))
        out.emitters.push_back(fare(out.network, trial.solution, emitter));
    out.all_driven = trial.all_driven;
    out.needed = find_needed(house, nullptr, out.outcome, out.blocked);
    if (!out.outcome.converged())
        return out;
    if (out.needed) {
        out.available_pa = residual_head_pa(out.network, out.needed->source_flow_kg_s);
        out.headroom_pa =
            out.all_driven ? trial.least_surplus_pa : out.available_pa - out.needed->pressure_pa;
    }
    out.solution = std::move(trial.solution);
    return out;
}

Headroom headroom_of(const House &house) {
    const Network network = networks::expand(house);
    const Trial trial = try_network(network, house);
    Headroom out{-models::no_limit, trial.solution.outcome};
    if (!out.outcome.converged())
        return out;
    if (trial.all_driven) {
        out.pa = trial.least_surplus_pa;
        return out;
    }
    const auto needed = head_needed(house, out.outcome);
    out.pa = needed ? residual_head_pa(network, needed->source_flow_kg_s) - needed->pressure_pa
                    : -models::no_limit;
    return out;
}

Judgement judge_hot_water(const House &house) {
    House hot = house;
    hot.condition.hot_water = true;
    return judge(hot);
}

} // namespace headroom::solver
