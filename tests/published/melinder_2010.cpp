// A. Melinder, Properties of Secondary Working Fluids for Indirect Systems, International Institute
// of Refrigeration (2010): the tabulated values, not the polynomials fitted to them.
#include "models/fluid.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("Propylene glycol 27 % by mass at 10 degC agrees with Melinder's table") {
    const std::string source = "Melinder 2010, propylene glycol table, 27 % by mass, 10 degC";
    const FluidState state = fluid_state({FluidKind::PropyleneGlycol, 0.27}, 10.0);
    CHECK_THAT(state.density_kg_m3, agrees_with(1025.36, 0.002, source));
    CHECK_THAT(state.heat_capacity_j_kg_k, agrees_with(3945.7, 0.02, source));
    CHECK_THAT(state.viscosity_pa_s, agrees_with(3.875e-3, 0.03, source));
}
