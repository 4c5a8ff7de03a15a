// IAPWS R15-11, Release on the IAPWS Formulation 2011 for the Thermal Conductivity of Ordinary
// Water Substance, Table 4 (from memory).
#include "models/fluid.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("Water's thermal conductivity at 25 degC agrees with IAPWS R15-11") {
    // The row is for 998 kg/m3, some 20 bar; the pressure moves conductivity by about 0.2 %.
    CHECK_THAT(fluid_state(Fluid{}, 25.0).conductivity_w_m_k,
               agrees_with(607.712868e-3, 0.005,
                           "IAPWS R15-11 Table 4, row 298.15 K and 998 kg/m3, from memory"));
}
