#include "models/fluid.hpp"

#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

const Fluid water{};

Fluid glycol(FluidKind kind, double mass_share) {
    Fluid fluid;
    fluid.kind = kind;
    fluid.glycol_mass_share = mass_share;
    return fluid;
}

void check_same_state(const FluidState &a, const FluidState &b) {
    CHECK(a.density_kg_m3 == b.density_kg_m3);
    CHECK(a.viscosity_pa_s == b.viscosity_pa_s);
    CHECK(a.heat_capacity_j_kg_k == b.heat_capacity_j_kg_k);
    CHECK(a.conductivity_w_m_k == b.conductivity_w_m_k);
}

} // namespace

TEST_CASE("Water beyond 0 to 110 degC has the properties of the nearer end") {
    check_same_state(fluid_state(water, -40.0), fluid_state(water, 0.0));
    check_same_state(fluid_state(water, 400.0), fluid_state(water, 110.0));
}

TEST_CASE("Glycol below its freezing point or above 100 degC has the properties of that end") {
    for (const FluidKind kind : {FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol}) {
        const Fluid fluid = glycol(kind, 0.30);
        check_same_state(fluid_state(fluid, -80.0), fluid_state(fluid, freezing_point_c(fluid)));
        check_same_state(fluid_state(fluid, 250.0), fluid_state(fluid, 100.0));
    }
}

TEST_CASE("Water warming from 5 to 110 degC grows thinner and lighter at every step") {
    FluidState before = fluid_state(water, 5.0);
    for (const double temperature : spread(5.5, 110.0, 210)) {
        const FluidState now = fluid_state(water, temperature);
        INFO(temperature << " degC");
        CHECK(now.density_kg_m3 < before.density_kg_m3);
        CHECK(now.viscosity_pa_s < before.viscosity_pa_s);
        before = now;
    }
}

TEST_CASE("Water is densest near 4 degC") {
    double densest_at = 0.0;
    for (const double temperature : spread(0.0, 10.0, 1001))
        if (fluid_state(water, temperature).density_kg_m3 >
            fluid_state(water, densest_at).density_kg_m3)
            densest_at = temperature;
    CHECK_THAT(densest_at, WithinAbs(4.0, 0.1));
}

TEST_CASE("A stated liquid keeps its density and viscosity at every temperature") {
    Fluid fluid;
    fluid.kind = FluidKind::Stated;
    fluid.stated_density_kg_m3 = 865.0;
    fluid.stated_viscosity_pa_s = 0.021;
    for (const double temperature : {-30.0, 4.0, 55.0, 300.0}) {
        const FluidState state = fluid_state(fluid, temperature);
        CHECK(state.density_kg_m3 == 865.0);
        CHECK(state.viscosity_pa_s == 0.021);
        CHECK(state.heat_capacity_j_kg_k == fluid_state(water, temperature).heat_capacity_j_kg_k);
    }
}

TEST_CASE("Water and a stated liquid freeze at 0 degC") {
    Fluid stated;
    stated.kind = FluidKind::Stated;
    CHECK(freezing_point_c(water) == 0.0);
    CHECK(freezing_point_c(stated) == 0.0);
}

TEST_CASE("Every further per cent of glycol lowers the freezing point") {
    for (const FluidKind kind : {FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol}) {
        double before = 0.0;
        for (const double share : spread(0.10, 0.60, 51)) {
            const double now = freezing_point_c(glycol(kind, share));
            INFO("share " << share);
            CHECK(now < before);
            before = now;
        }
    }
}

TEST_CASE("Glycol makes water thicker and denser and lets it carry less heat") {
    const FluidState plain = fluid_state(water, 35.0);
    for (const FluidKind kind : {FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol}) {
        FluidState before = plain;
        for (const double share : {0.15, 0.25, 0.35, 0.45}) {
            const FluidState now = fluid_state(glycol(kind, share), 35.0);
            INFO("share " << share);
            CHECK(now.viscosity_pa_s > before.viscosity_pa_s);
            CHECK(now.density_kg_m3 > before.density_kg_m3);
            CHECK(now.heat_capacity_j_kg_k < before.heat_capacity_j_kg_k);
            CHECK(now.conductivity_w_m_k < before.conductivity_w_m_k);
            before = now;
        }
    }
}

TEST_CASE("A glycol share by volume becomes a share by mass through the pure densities") {
    // By hand: 0.25 x 1036 / (0.25 x 1036 + 0.75 x 998.2) = 259 / 1007.65, and
    // 0.25 x 1113 / (0.25 x 1113 + 0.75 x 998.2) = 278.25 / 1026.9; pure densities from memory.
    CHECK_THAT(glycol_mass_share(FluidKind::PropyleneGlycol, 0.25),
               WithinRel(259.0 / 1007.65, 1e-12));
    CHECK_THAT(glycol_mass_share(FluidKind::EthyleneGlycol, 0.25),
               WithinRel(278.25 / 1026.9, 1e-12));
}

TEST_CASE("No glycol and nothing but glycol are the same share by volume and by mass") {
    for (const FluidKind kind : {FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol}) {
        CHECK(glycol_mass_share(kind, 0.0) == 0.0);
        CHECK(glycol_mass_share(kind, 1.0) == 1.0);
    }
}

TEST_CASE("A liquid's name states its kind and its share by mass") {
    Fluid stated;
    stated.kind = FluidKind::Stated;
    CHECK(fluid_name(water) == "water");
    CHECK(fluid_name(stated) == "liquid of 1000 kg/m3 and 1 mPa s");
    CHECK(fluid_name(glycol(FluidKind::PropyleneGlycol, 0.25)) ==
          "water with 25 % propylene glycol by mass");
    CHECK(fluid_name(glycol(FluidKind::EthyleneGlycol, 0.325)) ==
          "water with 32.5 % ethylene glycol by mass");
}
