#include "solver/heat/emission.hpp"

#include "models/units.hpp"
#include "models/water_film.hpp"
#include "solver/root.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

using networks::FloorPart;

constexpr double least_flow_share = 1e-4; // of the most flow; less gives no heat to speak of
constexpr double flow_foldings = 7.0;     // powers of e searched either way of a flow
constexpr int most_rounds = 12;
constexpr double mean_tolerance_k = 1e-9;
constexpr double heat_tolerance = 1e-12; // of the heat or drop asked for

// The film of still, laminar water: what the models give outside their range.
double film_mk_w(const models::FluidState &fluid, const FloorPart &part, double flow_kg_s) {
    const double bore = part.section.pipe.bore_m();
    constexpr double laminar_nusselt = 3.66;
    return models::water_film_resistance(fluid, bore, flow_kg_s)
        .value_or(1.0 / (models::pi * laminar_nusselt * fluid.conductivity_w_m_k));
}

EmitterHeat floor_heat(const FloorPart &part, const models::Fluid &fluid, double in_c,
                       double room_c, double flow_kg_s, std::optional<double> heat_capacity) {
    EmitterHeat heat;
    double mean_c = in_c - 2.0;
    // Properties and film at the water's own mean temperature; each round leaves some thousandth of
    // the change before.
    for (int round = 0; round < most_rounds; ++round) {
        const models::FluidState state = models::fluid_state(fluid, mean_c);
        const models::FloorConductances conductances =
            models::floor_conductances(part.response.value(), film_mk_w(state, part, flow_kg_s));
        const double rest = models::floor_rest_temperature_c(conductances, room_c, part.below_c);
        const double c = heat_capacity.value_or(state.heat_capacity_j_kg_k);
        heat.conductance_w_k = conductances.per_water.water * part.area_m2;
        const double n = heat.conductance_w_k / (flow_kg_s * c);
        const double before_c = mean_c;
        mean_c = rest + (in_c - rest) * (n > 1e-12 ? -std::expm1(-n) / n : 1.0);
        heat.mean_c = mean_c;
        heat.rest_c = rest;
        heat.out_c = rest + (in_c - rest) * std::exp(-n);
        const models::FloorState floor =
            models::floor_state(conductances, mean_c, room_c, part.below_c);
        heat.to_room_w = floor.heat_up_w_m2 * part.area_m2;
        heat.from_water_w = floor.heat_water_w_m2 * part.area_m2;
        heat.surface_mean_c = floor.surface_mean_c;
        heat.surface_highest_c = floor.surface_highest_c;
        if (std::abs(mean_c - before_c) <= mean_tolerance_k)
            break;
    }
    return heat;
}

EmitterHeat radiator_heat(const models::Radiator &radiator, const models::Fluid &fluid, double in_c,
                          double room_c, double flow_kg_s, std::optional<double> heat_capacity) {
    EmitterHeat heat;
    heat.out_c = in_c;
    heat.rest_c = room_c;
    for (int round = 0; round < 3; ++round) {
        const double c = heat_capacity.value_or(
            models::fluid_state(fluid, 0.5 * (in_c + heat.out_c)).heat_capacity_j_kg_k);
        const models::RadiatorState state =
            models::radiator_state(radiator, in_c, room_c, flow_kg_s, c);
        heat.out_c = state.out_c;
        heat.to_room_w = heat.from_water_w = state.output_w;
        if (in_c > room_c)
            heat.conductance_w_k =
                flow_kg_s * c * std::log((in_c - room_c) / (state.out_c - room_c));
    }
    return heat;
}

} // namespace

EmitterHeat emitter_heat(const networks::Emission &emission, const models::Fluid &fluid,
                         double in_c, double room_c, double flow_kg_s,
                         std::optional<double> heat_capacity_j_kg_k) {
    if (const auto *part = std::get_if<FloorPart>(&emission))
        return floor_heat(*part, fluid, in_c, room_c, flow_kg_s, heat_capacity_j_kg_k);
    return radiator_heat(std::get<models::Radiator>(emission), fluid, in_c, room_c, flow_kg_s,
                         heat_capacity_j_kg_k);
}

double flow_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double in_c,
                     double room_c, double room_w, double most_kg_s,
                     std::optional<double> heat_capacity_j_kg_k) {
    const auto excess_w = [&](double log_flow) {
        return emitter_heat(emission, fluid, in_c, room_c, std::exp(log_flow), heat_capacity_j_kg_k)
                   .to_room_w -
               room_w;
    };
    const double most = std::log(most_kg_s);
    if (excess_w(most) < 0.0)
        return -1.0;
    return std::exp(
        bracketed_root(excess_w, most + std::log(least_flow_share), most, heat_tolerance * room_w));
}

double flow_at_drop(const networks::Emission &emission, const models::Fluid &fluid, double in_c,
                    double room_c, double about_w, double drop_k) {
    const double c = models::fluid_state(fluid, in_c - 0.5 * drop_k).heat_capacity_j_kg_k;
    const double middle = std::log(about_w / (c * drop_k));
    const auto drop_excess_k = [&](double log_flow) {
        return in_c - drop_k -
               emitter_heat(emission, fluid, in_c, room_c, std::exp(log_flow)).out_c;
    };
    return std::exp(bracketed_root(drop_excess_k, middle - flow_foldings, middle + flow_foldings,
                                   heat_tolerance * drop_k));
}

EmitterHeat heat_at_drop(const networks::Emission &emission, const models::Fluid &fluid,
                         double in_c, double room_c, double about_w, double drop_k) {
    return emitter_heat(emission, fluid, in_c, room_c,
                        flow_at_drop(emission, fluid, in_c, room_c, about_w, drop_k));
}

double inlet_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double room_c,
                      double room_w, double drop_k) {
    const auto excess_w = [&](double in_c) {
        return heat_at_drop(emission, fluid, in_c, room_c, room_w, drop_k).to_room_w - room_w;
    };
    double high = room_c + drop_k + 10.0;
    while (excess_w(high) < 0.0 && high <= warmest_sought_c)
        high += 20.0;
    return bracketed_root(excess_w, room_c + drop_k, high, 10.0 * heat_tolerance * room_w);
}

void with_responses(networks::House &house, models::FloorResponseCache &cache) {
    for (networks::Emitter &emitter : house.emitters)
        if (auto *part = std::get_if<FloorPart>(&emitter.emission); part && !part->response)
            if (const models::FloorResponse *response = cache.find(part->section))
                part->response = *response;
}

void with_responses(networks::House &house) {
    models::FloorResponseCache cache;
    with_responses(house, cache);
}

} // namespace headroom::solver
