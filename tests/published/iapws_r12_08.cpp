// IAPWS R12-08, Release on the IAPWS Formulation 2008 for the Viscosity of Ordinary Water
// Substance, Table 4 (values without the critical term; from memory).
#include "models/fluid.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("Water's viscosity at 25 degC agrees with IAPWS R12-08") {
    // The row is for 998 kg/m3, some 20 bar; the pressure moves viscosity by less than 0.05 %.
    CHECK_THAT(fluid_state(Fluid{}, 25.0).viscosity_pa_s,
               agrees_with(889.735100e-6, 0.005,
                           "IAPWS R12-08 Table 4, row 298.15 K and 998 kg/m3, from memory"));
}
