// Water in round pipes. The last two are worked by hand from the printed formulae.
#include "models/water_film.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A long pipe of even wall temperature has the laminar Nusselt number 3.66") {
    for (const double reynolds : {0.0, 100.0, 2300.0})
        CHECK_THAT(nusselt_number(reynolds, 5.0)->value,
                   agrees_with(3.66, 1e-12, "Incropera et al. 2007, eq. 8.55"));
}

TEST_CASE("Turbulent flow at Re 10000 and Pr 5 has the Nusselt number of Gnielinski's formula") {
    // f = (0.79 ln 10000 - 1.64)^-2 = 0.0314798, Nu = 0.00393498 x 9000 x 5 / 2.53281
    CHECK_THAT(nusselt_number(1e4, 5.0)->value,
               agrees_with(69.9125, 1e-6, "Gnielinski 1976, by hand", 0.00005));
}

TEST_CASE("Laminar flow with Graetz number 115 has the Nusselt number of Hausen's formula") {
    // Re 2300, Pr 5, D/L 0.01: 3.66 + 0.0668 x 115 / (1 + 0.04 x 115^(2/3))
    CHECK_THAT(nusselt_number(2300.0, 5.0, 0.01)->value,
               agrees_with(7.60773, 1e-6, "Hausen 1943, by hand", 0.000005));
}
