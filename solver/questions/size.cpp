#include "solver/questions/size.hpp"

#include "models/floor_en1264.hpp"
#include "networks/protection.hpp"
#include "solver/fixed_point.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FloorPart;
using networks::House;

constexpr double flow_margin = 1.01;  // on the most flow
constexpr double enough_share = 0.99; // of a room's heat; no survey knows it better
constexpr int most_rounds = 100;

// What the design state of the network does to the water between source and emitters.
struct Way {
    std::vector<double> cooling_k; ///< of each of House::emitters
    std::optional<double>
        heat_capacity_j_kg_k;                  ///< that carries heat round the network, once solved
    std::vector<std::optional<double>> held_c; ///< by a mixer before each of House::emitters
};

// What the water is at before it cools on its way to an emitter.
double sent_to_c(const House &house, const Way &way, std::size_t emitter) {
    const double sent_c = house.source->flow_temperature_c;
    return std::min(way.held_c[emitter].value_or(sent_c), sent_c);
}

double heat_capacity(const House &house, double flow_c, double drop_k) {
    return models::fluid_state(house.fluid, flow_c - 0.5 * drop_k).heat_capacity_j_kg_k;
}

// The drop from which design_flow_kg_s() makes this very flow again: heat over flow and the heat
// capacity at the mean of the two ends.
double drop_of_flow(const House &house, double water_w, double flow_c, double flow_kg_s) {
    double drop_k = 0.0;
    for (int round = 0; round < 8; ++round)
        drop_k = water_w / (flow_kg_s * heat_capacity(house, flow_c, drop_k));
    return drop_k;
}

void size_floor(const FloorPart &part, const EmitterHeat &heat, const Emitter &emitter,
                const House &house, SizedEmitter &row) {
    row.surface_c = heat.surface_highest_c;
    if (heat.mean_c > emitter.indoor_c)
        row.conduction_w_m2k = heat.to_room_w / part.area_m2 / (heat.mean_c - emitter.indoor_c);
    if (const auto standard = models::en1264_characteristic(part.section))
        row.standard_w_m2k = standard->characteristic_w_m2_k;
    row.surface_limit_c = emitter.surface_limit_c ? *emitter.surface_limit_c
                                                  : house.habits[networks::Habit::SurfaceLimit];
}

SizedEmitter own_need(const House &house, std::size_t index) {
    const Emitter &emitter = house.emitters[index];
    SizedEmitter row{};
    row.emitter = index;
    row.room_w = emitter.room_heat_w;
    row.design_drop_k = emitter.drop_k;
    row.own_inlet_c = inlet_for_heat(emitter.emission, house.fluid, emitter.indoor_c,
                                     emitter.room_heat_w, emitter.drop_k);
    row.own_water_w = heat_at_drop(emitter.emission, house.fluid, row.own_inlet_c, emitter.indoor_c,
                                   emitter.room_heat_w, emitter.drop_k)
                          .from_water_w;
    return row;
}

void size_at(const House &house, const Way &way, SizedEmitter &row) {
    const Emitter &emitter = house.emitters[row.emitter];
    const double in_c = row.inlet_c;
    const auto gives = [&](double flow) {
        return emitter_heat(emitter.emission, house.fluid, in_c, emitter.indoor_c, flow,
                            way.heat_capacity_j_kg_k);
    };
    // The most flow: its heat at the least drop. A margin covers heat capacities that differ from
    // that at which the drop was found.
    const double drop_k = drop_at_most_flow_k(row.design_drop_k);
    const double c = way.heat_capacity_j_kg_k.value_or(heat_capacity(house, in_c, drop_k));
    const double most = flow_margin * row.own_water_w / (c * drop_k);
    row.most_w = gives(most).to_room_w;
    const double flow = flow_for_heat(emitter.emission, house.fluid, in_c, emitter.indoor_c,
                                      row.room_w, most, way.heat_capacity_j_kg_k);
    row.reaches = flow > 0.0 || row.most_w >= enough_share * row.room_w;
    row.flow_kg_s = flow > 0.0 ? flow : most;
    row.water_w = gives(row.flow_kg_s).from_water_w;
    row.drop_k = drop_of_flow(house, row.water_w, in_c, row.flow_kg_s);
    if (const auto &greatest_k = house.source->greatest_drop_k;
        greatest_k && row.drop_k > *greatest_k) {
        row.drop_k = *greatest_k;
        row.flow_kg_s = row.water_w / (heat_capacity(house, in_c, row.drop_k) * row.drop_k);
    }
    const EmitterHeat heat = gives(row.flow_kg_s);
    row.gives_w = heat.to_room_w;
    if (const auto *part = std::get_if<FloorPart>(&emitter.emission))
        size_floor(*part, heat, emitter, house, row);
}

// The flow temperature, and each emitter's flow at the inlet that it leaves after the way.
void size_after(const Way &way, Sizing &out) {
    House &house = out.house;
    for (SizedEmitter &row : out.emitters)
        row.own_flow_c = row.own_inlet_c + way.cooling_k[row.emitter];
    if (!out.emitters.empty()) {
        const auto most = std::max_element(out.emitters.begin(), out.emitters.end(),
                                           [](const SizedEmitter &a, const SizedEmitter &b) {
                                               return a.own_flow_c < b.own_flow_c;
                                           });
        out.needed_c = most->own_flow_c;
        out.set_by = house.emitters[most->emitter].name;
        if (!house.source->flow_temperature_given) {
            out.temperature_computed = true;
            house.source->flow_temperature_c =
                std::min(out.needed_c, networks::highest_flow_c(house));
        }
    }
    for (std::size_t i = 0; i < house.emitters.size(); ++i)
        if (way.heat_capacity_j_kg_k || way.held_c[i]) {
            Emitter &emitter = house.emitters[i];
            const bool described = !std::holds_alternative<std::monostate>(emitter.emission);
            // Without a build to tell, one that a mixer holds too cold for its drop is taken to
            // give its heat where it just could: with its return 1 K above the room.
            const double least_c = emitter.indoor_c + emitter.drop_k + 1.0;
            const double inlet_c = sent_to_c(house, way, i) - way.cooling_k[i];
            emitter.inlet_c = described ? inlet_c : std::max(inlet_c, least_c);
        }
    for (SizedEmitter &row : out.emitters) {
        row.inlet_c = sent_to_c(house, way, row.emitter) - way.cooling_k[row.emitter];
        size_at(house, way, row);
        Emitter &emitter = house.emitters[row.emitter];
        emitter.heat_w = row.water_w;
        emitter.drop_k = row.drop_k;
    }
}

bool cools_on_the_way(const House &house) {
    return std::any_of(house.runs.begin(), house.runs.end(),
                       [](const networks::Run &run) { return run.surroundings.has_value(); }) ||
           std::any_of(house.emitters.begin(), house.emitters.end(), [](const Emitter &emitter) {
               return emitter.surroundings.has_value() ||
                      (!emitter.to.empty() &&
                       !std::holds_alternative<std::monostate>(emitter.emission));
           });
}

// The way as the design state has it; nothing where that state has no solution.
std::optional<Way> way_of(const House &house) {
    Outcome outcome;
    const auto needed = head_needed(with_ideal_balancing(single_circulator(house)), outcome);
    if (!needed)
        return std::nullopt;
    const networks::Network &network = needed->network;
    Way way{
        std::vector<double>(house.emitters.size(), 0.0), mean_heat_capacity_j_kg_k(network), {}};
    for (const networks::EmitterLinks &links : network.emitters)
        for (networks::LinkId id : links.links)
            if (network.links[id].exchange.kind == networks::Exchange::Kind::Emitter)
                way.cooling_k[links.emitter] =
                    house.source->flow_temperature_c - needed->solution.heat.in_c[id];
    return way;
}

double largest_change(const Way &a, const Way &b) {
    double most = 0.0;
    for (std::size_t i = 0; i < a.cooling_k.size(); ++i)
        most = std::max(most, std::abs(a.cooling_k[i] - b.cooling_k[i]));
    return most;
}

Eigen::VectorXd vector_of(const Way &way) {
    return Eigen::Map<const Eigen::VectorXd>(way.cooling_k.data(),
                                             static_cast<Eigen::Index>(way.cooling_k.size()));
}

// Where water is only just warm enough, an emitter's flow answers steeply to its inlet, and the
// inlet to the flow, so that plain repetition overshoots. A step to a house that no head drives is
// taken half way back.
void settle_inlets(const Way &start, double tolerance_k, Sizing &out) {
    AndersonMixing mixing;
    Way from = start; // the last way whose house has a design state
    Way way = start;
    const bool begun = way.heat_capacity_j_kg_k.has_value();
    out.settled = false;
    while (out.rounds < most_rounds && !out.settled) {
        const auto next = way_of(out.house);
        if (!next && (out.rounds == 0 || largest_change(from, way) <= tolerance_k)) {
            out.settled = true; // there is no state to agree with: the question asked will say so
            return;
        }
        ++out.rounds;
        Eigen::VectorXd cooling_k;
        if (next) {
            out.inlet_change_k = largest_change(way, *next);
            out.settled = (begun || out.rounds > 1) && out.inlet_change_k <= tolerance_k;
            cooling_k = out.rounds == 1 && !begun ? vector_of(*next)
                                                  : mixing.next(vector_of(way), vector_of(*next));
            from = way;
            from.heat_capacity_j_kg_k = next->heat_capacity_j_kg_k;
        } else {
            mixing.forget();
            cooling_k = 0.5 * (vector_of(from) + vector_of(way));
        }
        way.heat_capacity_j_kg_k = from.heat_capacity_j_kg_k;
        Eigen::VectorXd::Map(way.cooling_k.data(), cooling_k.size()) = cooling_k;
        size_after(way, out);
    }
    out.cooling_k = way.cooling_k;
    out.heat_capacity_j_kg_k = way.heat_capacity_j_kg_k;
}

} // namespace

std::string unsettled_inlets(const Sizing &sizing) {
    return fmt::format("the water's temperatures at loops and radiators still change by {:.2g} K "
                       "after {} rounds (asked {:.0e})",
                       sizing.inlet_change_k, sizing.rounds, inlet_tolerance_k);
}

Outcome sizing_outcome(const Sizing &sizing) {
    Outcome out;
    out.reason = sizing.settled ? StopReason::Converged : StopReason::Unsettled;
    if (!sizing.settled)
        out.explanation = unsettled_inlets(sizing);
    return out;
}

namespace {

using HeldTemperatures = std::vector<std::optional<double>>;

Sizing size_held(House given, HeldTemperatures held_c, const Sizing *like) {
    Sizing out;
    out.house = std::move(given);
    House &house = out.house;
    with_responses(house);
    if (house.source && house.source->greatest_drop_k)
        for (Emitter &emitter : house.emitters)
            emitter.drop_k = std::min(emitter.drop_k, *house.source->greatest_drop_k);
    for (std::size_t i = 0; i < house.emitters.size(); ++i)
        if (!std::holds_alternative<std::monostate>(house.emitters[i].emission))
            out.emitters.push_back(own_need(house, i));
    if (!house.source)
        return out;
    Way start{std::vector<double>(house.emitters.size(), 0.0), std::nullopt, std::move(held_c)};
    if (like != nullptr && like->heat_capacity_j_kg_k) {
        start.cooling_k = like->cooling_k;
        start.heat_capacity_j_kg_k = like->heat_capacity_j_kg_k;
    }
    size_after(start, out);
    if (cools_on_the_way(house))
        settle_inlets(start, like != nullptr ? near_inlet_tolerance_k : inlet_tolerance_k, out);
    return out;
}

} // namespace

Sizing size(House given, const Sizing *like) {
    HeldTemperatures none(given.emitters.size());
    return size_held(std::move(given), std::move(none), like);
}

namespace {

// `sized` is looked at where a mixer stands at a fixed position.
Sizing size_mixed(const House &given, HeldTemperatures held_c, const House *sized) {
    std::vector<FixedMixer> fixed;
    if (sized != nullptr)
        fixed = fixed_mixers(given, *sized);
    const std::vector<MixerRun> mixers = mixers_before_emitters(given);
    for (const FixedMixer &mixer : fixed)
        for (std::size_t i = 0; i < held_c.size(); ++i)
            if (mixers[i] == mixer.run)
                held_c[i] = mixer.mixed_c;
    Sizing out = size_held(given, std::move(held_c), nullptr);
    out.fixed_mixers = std::move(fixed);
    return out;
}

} // namespace

Sizing size_as_found(const House &given) {
    if (has_fixed_mixers(given))
        return size_as_found(given, size(given));
    return size_mixed(given, temperatures_held_c(given), nullptr);
}

Sizing size_as_found(const House &given, const Sizing &sized) {
    HeldTemperatures held_c = temperatures_held_c(given);
    if (given.source && has_fixed_mixers(given))
        return size_mixed(given, std::move(held_c), &sized.house);
    const bool none = std::all_of(held_c.begin(), held_c.end(),
                                  [](const auto &temperature_c) { return !temperature_c; });
    return none ? sized : size_mixed(given, std::move(held_c), nullptr);
}

} // namespace headroom::solver
