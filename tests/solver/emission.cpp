#include "solver/heat/emission.hpp"

#include "models/floor_conduction.hpp"
#include "models/water_film.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom;
using solver::EmitterHeat;

namespace {

networks::Emission tiled_floor() {
    networks::FloorPart part;
    part.section.spacing_m = 0.15;
    part.section.pipe = {0.016, 0.002, 0.35, 0.0, 0.0};
    part.section.cover_m = 0.045;
    part.section.layer_conductivity_w_m_k = 1.2;
    part.section.covering_resistance_m2k_w = 0.02;
    part.section.insulation_thickness_m = 0.09;
    part.area_m2 = 10.0;
    part.below_c = 10.0;
    part.response = models::floor_response(part.section);
    return part;
}

networks::Emission radiator() {
    return models::Radiator{1200.0};
}

constexpr double room_c = 20.0;

} // namespace

TEST_CASE("a floor's water loses what the room and the space below gain") {
    const networks::Emission floor = tiled_floor();
    const models::Fluid water;
    for (double flow : {0.003, 0.01, 0.03, 0.06}) {
        const EmitterHeat heat = solver::emitter_heat(floor, water, 38.0, room_c, flow);
        const double c = models::fluid_state(water, heat.mean_c).heat_capacity_j_kg_k;
        INFO("flow " << flow);
        CHECK(heat.from_water_w == Approx(flow * c * (38.0 - heat.out_c)).epsilon(1e-6));
        CHECK(heat.from_water_w > heat.to_room_w);
    }
}

TEST_CASE("a floor's outlet follows the exponential law with its film at that flow") {
    const networks::Emission floor = tiled_floor();
    const auto &part = std::get<networks::FloorPart>(floor);
    const models::Fluid water;
    const double flow = 0.02;
    const EmitterHeat heat = solver::emitter_heat(floor, water, 40.0, room_c, flow);
    const models::FluidState state = models::fluid_state(water, heat.mean_c);
    const auto film = models::water_film_resistance(state, 0.012, flow);
    REQUIRE(film);
    const auto conductances = models::floor_conductances(*part.response, *film);
    const double rest = models::floor_rest_temperature_c(conductances, room_c, 10.0);
    const double n = conductances.per_water.water * 10.0 / (flow * state.heat_capacity_j_kg_k);
    CHECK(heat.out_c == Approx(rest + (40.0 - rest) * std::exp(-n)).margin(1e-6));
}

TEST_CASE("the flow found for a room's heat gives it, for floors and radiators") {
    const models::Fluid water;
    for (const networks::Emission &emission : {tiled_floor(), radiator()})
        for (double heat : {150.0, 300.0, 450.0}) {
            const double flow = solver::flow_for_heat(emission, water, 45.0, room_c, heat, 0.2);
            REQUIRE(flow > 0.0);
            CHECK(solver::emitter_heat(emission, water, 45.0, room_c, flow).to_room_w ==
                  Approx(heat).epsilon(1e-8));
        }
}

TEST_CASE("a heat beyond the most flow has no flow") {
    CHECK(solver::flow_for_heat(radiator(), {}, 35.0, room_c, 5000.0, 0.2) < 0.0);
}

TEST_CASE("the inlet temperature found gives the heat at the drop") {
    const models::Fluid water;
    for (const networks::Emission &emission : {tiled_floor(), radiator()}) {
        const double inlet = solver::inlet_for_heat(emission, water, room_c, 400.0, 5.0);
        const double flow = solver::flow_for_heat(emission, water, inlet, room_c, 400.0, 0.2);
        REQUIRE(flow > 0.0);
        CHECK(inlet - solver::emitter_heat(emission, water, inlet, room_c, flow).out_c ==
              Approx(5.0).epsilon(1e-5));
    }
}

TEST_CASE("a laminar film costs a floor output") {
    const networks::Emission floor = tiled_floor();
    // The same mean water temperature, laminar and turbulent: per kelvin the laminar gives less.
    const EmitterHeat slow = solver::emitter_heat(floor, {}, 40.0, room_c, 0.010);
    const EmitterHeat fast = solver::emitter_heat(floor, {}, 40.0, room_c, 0.100);
    const double per_k_slow = slow.to_room_w / (slow.mean_c - room_c);
    const double per_k_fast = fast.to_room_w / (fast.mean_c - room_c);
    CHECK(per_k_slow < 0.95 * per_k_fast);
}
