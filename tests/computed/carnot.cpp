// The Carnot COP of heating at usual rating temperatures, worked by hand as absolute flow
// temperature over lift, 308.15/28 and so on, to four decimals.
#include "models/heat_pump.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using Catch::WithinAbs;

TEST_CASE("The Carnot COP is the absolute flow temperature over the lift") {
    CHECK_THAT(carnot_cop(7.0, 35.0), WithinAbs(11.0054, 5e-5));
    CHECK_THAT(carnot_cop(7.0, 45.0), WithinAbs(8.3724, 5e-5));
    CHECK_THAT(carnot_cop(7.0, 55.0), WithinAbs(6.8365, 5e-5));
    CHECK_THAT(carnot_cop(-7.0, 35.0), WithinAbs(7.3369, 5e-5));
}
