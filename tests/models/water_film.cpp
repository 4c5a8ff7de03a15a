#include "models/water_film.hpp"

#include "models/pipe.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

const std::vector<double> prandtls{0.5, 1.0, 1.6, 4.5, 7.0, 13.0, 60.0, 400.0, 2000.0};
const std::vector<double> entries{0.0, 1e-4, 1e-3, 0.01, 0.1};

Nusselt nusselt(double reynolds, double prandtl, double entry = 0.0) {
    return nusselt_number(reynolds, prandtl, entry).value();
}

} // namespace

TEST_CASE("The Nusselt number rises with Reynolds number through the transition") {
    for (const double prandtl : prandtls)
        for (const double entry : entries) {
            double before = nusselt(2200.0, prandtl, entry).value;
            for (double reynolds = 2310.0; reynolds <= 4100.0; reynolds += 10.0) {
                const Nusselt here = nusselt(reynolds, prandtl, entry);
                INFO("Re " << reynolds << ", Pr " << prandtl << ", D/L " << entry);
                CHECK(here.value > before);
                CHECK(here.slope > 0.0);
                before = here.value;
            }
        }
}

TEST_CASE("Value and slope of the Nusselt number agree on both sides of each regime's end") {
    for (const double prandtl : prandtls)
        for (const double entry : entries)
            for (const double join : {2300.0, 4000.0}) {
                INFO("Re " << join << ", Pr " << prandtl << ", D/L " << entry);
                const Nusselt below = nusselt(std::nextafter(join, 0.0), prandtl, entry);
                const Nusselt above = nusselt(std::nextafter(join, 1e9), prandtl, entry);
                CHECK_THAT(below.value, WithinRel(above.value, 1e-10));
                CHECK_THAT(below.slope,
                           WithinRel(above.slope, 1e-9) || WithinAbs(above.slope, 1e-12));
            }
}

TEST_CASE("The slope of the Nusselt number is its derivative") {
    for (const double prandtl : prandtls)
        for (const double entry : entries)
            for (const double reynolds : {50.0, 1000.0, 2290.0, 2400.0, 3100.0, 3990.0, 5e3, 1e6}) {
                const double step = 1e-5 * reynolds;
                const double difference = (nusselt(reynolds + step, prandtl, entry).value -
                                           nusselt(reynolds - step, prandtl, entry).value) /
                                          (2.0 * step);
                INFO("Re " << reynolds << ", Pr " << prandtl << ", D/L " << entry);
                CHECK_THAT(nusselt(reynolds, prandtl, entry).slope,
                           WithinRel(difference, 1e-6) || WithinAbs(difference, 1e-9));
            }
}

TEST_CASE("The laminar film of a long pipe does not depend on bore or flow") {
    const FluidState water = fluid_state(Fluid{}, 35.0);
    const double first = water_film_resistance(water, 0.0074, 0.008).value();
    CHECK(water_film_resistance(water, 0.012, 0.010).value() == first);
    CHECK(water_film_resistance(water, 0.016, 0.0).value() == first);
    CHECK(water_film_resistance(water, 0.012, -0.010).value() == first);
}

TEST_CASE("A thermal entry thins the film, hardly in a loop of 80 m") {
    const FluidState water = fluid_state(Fluid{}, 35.0);
    const double developed = water_film_resistance(water, 0.012, 0.015).value();
    const double loop = water_film_resistance(water, 0.012, 0.015, 80.0).value();
    const double stub = water_film_resistance(water, 0.012, 0.015, 1.0).value();
    CHECK(loop < developed);
    CHECK(loop > 0.97 * developed);
    CHECK(stub < 0.75 * developed);
}

TEST_CASE("Turbulent water resists less than a tenth of laminar water") {
    const FluidState water = fluid_state(Fluid{}, 35.0);
    const double flow = 8000.0 * 3.14159 * 0.012 * water.viscosity_pa_s / 4.0;
    CHECK(water_film_resistance(water, 0.012, flow).value() <
          0.1 * water_film_resistance(water, 0.012, 0.2 * flow).value());
}

TEST_CASE("Outside its range the film law gives nothing") {
    CHECK_FALSE(nusselt_number(1e4, 0.4));
    CHECK_FALSE(nusselt_number(3e3, 2500.0));
    CHECK_FALSE(nusselt_number(6e6, 5.0));
    CHECK_FALSE(nusselt_number(-1.0, 5.0));
    CHECK_FALSE(nusselt_number(1e3, 5.0, 0.2));
    CHECK_FALSE(nusselt_number(std::numeric_limits<double>::quiet_NaN(), 5.0));
    CHECK(nusselt_number(1e3, 2500.0)); // laminar holds at any Prandtl number
}

TEST_CASE("The Prandtl number is viscosity and heat capacity against conductivity") {
    // 0.001 Pa s * 4200 J/(kg K) / 0.6 W/(m K)
    CHECK(prandtl_number({1000.0, 0.001, 4200.0, 0.6}) == Approx(7.0).epsilon(1e-14));
}
