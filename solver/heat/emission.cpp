#include "solver/heat/emission.hpp"

#include "models/floor_response_cache.hpp"
#include "models/units.hpp"
#include "models/water_film.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::FloorPart;

// The film of still, laminar water: what the models give outside their range.
double film_mk_w(const models::FluidState &fluid, const FloorPart &part, double flow_kg_s) {
    const double bore = part.section.pipe.bore_m();
    constexpr double laminar_nusselt = 3.66;
    return models::water_film_resistance(fluid, bore, flow_kg_s)
        .value_or(1.0 / (models::pi * laminar_nusselt * fluid.conductivity_w_m_k));
}

EmitterHeat floor_heat(const FloorPart &part, const models::Fluid &fluid, double in_c,
                       double room_c, double flow_kg_s) {
    EmitterHeat heat;
    double mean_c = in_c - 2.0;
    // Properties and film at the water's own mean temperature: two rounds settle it to 1e-6.
    for (int round = 0; round < 4; ++round) {
        const models::FluidState state = models::fluid_state(fluid, mean_c);
        const models::FloorConductances conductances =
            models::floor_conductances(*part.response, film_mk_w(state, part, flow_kg_s));
        const double rest = models::floor_rest_temperature_c(conductances, room_c, part.below_c);
        const double n =
            conductances.per_water.water * part.area_m2 / (flow_kg_s * state.heat_capacity_j_kg_k);
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
    }
    return heat;
}

EmitterHeat radiator_heat(const models::Radiator &radiator, const models::Fluid &fluid, double in_c,
                          double room_c, double flow_kg_s) {
    EmitterHeat heat;
    heat.out_c = in_c;
    heat.rest_c = room_c;
    for (int round = 0; round < 3; ++round) {
        const double c = models::fluid_state(fluid, 0.5 * (in_c + heat.out_c)).heat_capacity_j_kg_k;
        const models::RadiatorState state =
            models::radiator_state(radiator, in_c, room_c, flow_kg_s, c);
        heat.out_c = state.out_c;
        heat.to_room_w = heat.from_water_w = state.output_w;
    }
    return heat;
}

} // namespace

EmitterHeat emitter_heat(const networks::Emission &emission, const models::Fluid &fluid,
                         double in_c, double room_c, double flow_kg_s) {
    if (const auto *part = std::get_if<FloorPart>(&emission))
        return floor_heat(*part, fluid, in_c, room_c, flow_kg_s);
    return radiator_heat(std::get<models::Radiator>(emission), fluid, in_c, room_c, flow_kg_s);
}

double flow_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double in_c,
                     double room_c, double room_w, double most_kg_s) {
    const auto gives = [&](double flow) {
        return emitter_heat(emission, fluid, in_c, room_c, flow).to_room_w;
    };
    if (gives(most_kg_s) < room_w)
        return -1.0;
    double low = std::log(most_kg_s * 1e-4);
    double high = std::log(most_kg_s);
    if (gives(std::exp(low)) > room_w)
        return std::exp(low);
    while (high - low > 1e-13)
        if (const double mid = 0.5 * (low + high); gives(std::exp(mid)) < room_w)
            low = mid;
        else
            high = mid;
    return std::exp(high);
}

double inlet_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double room_c,
                      double room_w, double drop_k) {
    // The flow that makes the drop what it should be, at a trial inlet; its heat rises with the
    // inlet.
    const auto room_heat_at = [&](double in_c) {
        const double c = models::fluid_state(fluid, in_c - 0.5 * drop_k).heat_capacity_j_kg_k;
        double low = std::log(room_w / (c * drop_k) * 1e-3);
        double high = std::log(room_w / (c * drop_k) * 1e3);
        while (high - low > 1e-12)
            if (const double mid = 0.5 * (low + high);
                in_c - emitter_heat(emission, fluid, in_c, room_c, std::exp(mid)).out_c > drop_k)
                low = mid;
            else
                high = mid;
        return emitter_heat(emission, fluid, in_c, room_c, std::exp(high)).to_room_w;
    };
    double low = room_c + drop_k;
    double high = low + 10.0;
    while (room_heat_at(high) < room_w && high < 200.0)
        high += 20.0;
    while (high - low > 1e-9)
        if (const double mid = 0.5 * (low + high); room_heat_at(mid) < room_w)
            low = mid;
        else
            high = mid;
    return high;
}

void with_responses(networks::House &house) {
    models::FloorResponseCache cache;
    for (networks::Emitter &emitter : house.emitters)
        if (auto *part = std::get_if<FloorPart>(&emitter.emission); part && !part->response)
            if (const models::FloorResponse *response = cache.find(part->section))
                part->response = *response;
}

} // namespace headroom::solver
