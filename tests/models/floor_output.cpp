#include "models/floor_output.hpp"

#include "models/floor_conduction.hpp"

#include "tests/support/floor_sections.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr double laminar_film = 0.140;

} // namespace

TEST_CASE("Without a film the wall has the water's temperature") {
    const auto response = floor_response(insulated_section());
    const FloorConductances conductances = floor_conductances(*response, 0.0);
    CHECK(conductances.per_water.up == response->up[0]);
    CHECK(conductances.per_water.down == response->down[0]);
    CHECK(conductances.per_below.up == response->up[wall_shapes]);
    CHECK(conductances.per_water.surface_over_pipe == response->over_pipe[0]);
}

TEST_CASE("With a film a floor still gives up and down what leaves the water") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        for (const double film : {0.0, 0.01, laminar_film, 2.0}) {
            const FloorConductances conductances = floor_conductances(*response, film);
            for (const auto &[water, room, space_below] :
                 {std::array{38.0, 20.0, 20.0}, std::array{38.0, 20.0, 5.0},
                  std::array{20.0, 20.0, 35.0}}) {
                const FloorState state = floor_state(conductances, water, room, space_below);
                INFO("film " << film << ", water " << water << ", below " << space_below);
                CHECK_THAT(state.heat_up_w_m2 + state.heat_down_w_m2 - state.heat_water_w_m2,
                           WithinAbs(0.0, 1e-10 * 18.0 * response->up[0]));
            }
        }
    }
}

TEST_CASE("With a film heat between water and space below is the same either way") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        for (const double film : {0.01, laminar_film, 2.0}) {
            const FloorConductances conductances = floor_conductances(*response, film);
            CHECK_THAT(conductances.per_water.down,
                       WithinAbs(-conductances.per_below.water, 1e-10 * response->up[0]));
        }
    }
}

TEST_CASE("A film costs more than its resistance before an even wall, less than before even heat") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        const double bare = response->wall[0][0];
        // A film that outweighs all else makes the heat even round the bore.
        const double thick = 1e4 / section.spacing_m;
        const double even_heat =
            1.0 / floor_conductances(*response, thick).per_water.water - thick * section.spacing_m;
        double before = bare;
        for (const double film : {1e-6, 0.02, 0.07, laminar_film, 0.5, 5.0, 100.0}) {
            const double heat = floor_conductances(*response, film).per_water.water;
            const double even_wall = 1.0 / (1.0 / bare + film * section.spacing_m);
            INFO("film " << film << ", spacing " << section.spacing_m);
            CHECK(heat < before);
            CHECK(heat <= even_wall * (1.0 + 1e-12));
            CHECK(heat > 1.0 / (even_heat + film * section.spacing_m));
            before = heat;
        }
    }
}

TEST_CASE("A film acts as a thin ring of its resistance inside the wall") {
    // The ring is the inner pipe, 3 % of the bore's radius thick, and the true wall its sheath.
    for (const FloorSection &section : sections_of_every_kind()) {
        if (section.pipe.sheath_diameter_m > 0.0)
            continue;
        FloorSection ringed = section;
        const double bore = section.pipe.bore_m();
        const double conductivity =
            std::log(1.0 / 0.97) / (2.0 * 3.14159265358979323846 * laminar_film);
        ringed.pipe = {bore, 0.015 * bore, conductivity, section.pipe.outside_diameter_m,
                       section.pipe.wall_conductivity_w_m_k};
        const FloorConductances filmed = floor_conductances(*floor_response(section), laminar_film);
        const auto ring = floor_response(ringed);
        INFO("spacing " << section.spacing_m << ", board " << section.board.has_value());
        CHECK_THAT(filmed.per_water.up, WithinRel(ring->up[0], 1e-3));
        CHECK_THAT(filmed.per_water.down, WithinAbs(ring->down[0], 1e-3 * ring->up[0]));
        CHECK_THAT(filmed.per_water.surface_over_pipe, WithinRel(ring->over_pipe[0], 1e-3));
    }
}

TEST_CASE("A floor with room, space below and water at one temperature is at rest") {
    const auto response = floor_response(dry_section(0.12));
    const FloorState state =
        floor_state(floor_conductances(*response, laminar_film), 21.0, 21.0, 21.0);
    CHECK(state.heat_up_w_m2 == 0.0);
    CHECK(state.heat_down_w_m2 == 0.0);
    CHECK(state.heat_water_w_m2 == 0.0);
    CHECK(state.surface_mean_c == 21.0);
    CHECK(state.surface_highest_c == 21.0);
}

TEST_CASE("Water at the rest temperature gives off no heat") {
    const auto response = floor_response(insulated_section());
    const FloorConductances conductances = floor_conductances(*response, laminar_film);
    const double rest = floor_rest_temperature_c(conductances, 20.0, 8.0);
    CHECK(rest < 20.0);
    CHECK(rest > 8.0);
    CHECK_THAT(floor_state(conductances, rest, 20.0, 8.0).heat_water_w_m2, WithinAbs(0.0, 1e-12));
}

TEST_CASE("The highest surface temperature lies over the pipe when the water is warm") {
    const auto response = floor_response(insulated_section());
    const FloorConductances conductances = floor_conductances(*response, laminar_film);
    const FloorState state = floor_state(conductances, 40.0, 20.0, 10.0);
    CHECK(state.surface_highest_c > state.surface_mean_c);
    CHECK_THAT(state.surface_mean_c, WithinRel(20.0 + state.heat_up_w_m2 / 10.8, 1e-12));
    // Warmer below than in the pipe: midway between the pipes.
    CHECK(floor_state(conductances, 20.0, 20.0, 40.0).surface_highest_c >
          floor_state(conductances, 20.0, 20.0, 40.0).surface_mean_c);
}
