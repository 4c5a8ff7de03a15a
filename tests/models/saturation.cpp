#include "models/saturation.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using Catch::WithinAbs;

TEST_CASE("The saturation pressure rises with temperature and its inverse leads back") {
    double before = 0.0;
    for (double temperature = 0.01; temperature < 370.0; temperature += 0.5) {
        const double pressure = saturation_pressure_pa(temperature);
        INFO(temperature << " degC");
        CHECK(pressure > before);
        // The two roots of one quadratic: apart by rounding only.
        CHECK_THAT(saturation_temperature_c(pressure), WithinAbs(temperature, 1e-8));
        before = pressure;
    }
}
