#include "models/loss.hpp"

#include "models/local_loss.hpp"
#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinRel;

TEST_CASE("Losses in series add in value and in slope") {
    Loss sum{120.0, 30.0};
    sum += Loss{-20.0, 5.0};
    CHECK(sum.pressure_pa == 100.0);
    CHECK(sum.slope_pa_s_per_kg == 35.0);
}

TEST_CASE("The content of a linear law is half the product of flow and loss") {
    const auto law = [](double flow) { return Loss{400.0 * flow, 400.0}; };
    CHECK_THAT(content(law, 0.0, 0.3), WithinRel(18.0, 1e-14));
    CHECK_THAT(content(law, 0.0, -0.3), WithinRel(18.0, 1e-14));
}

TEST_CASE("The content of the softened quadratic law is its closed integral") {
    // Integral of K m sqrt(m^2 + m0^2) from 0 to m: K/3 ((m^2 + m0^2)^(3/2) - m0^3), m0^2 = 0.01/K.
    const double resistance = 5.0e4;
    const double m0_squared = 0.01 / resistance;
    const double flow = 0.02;
    const double exact =
        resistance / 3.0 * (std::pow(flow * flow + m0_squared, 1.5) - std::pow(m0_squared, 1.5));
    const auto law = [&](double m) { return quadratic_loss(resistance, m); };
    CHECK_THAT(content(law, 0.0, flow, 256), WithinRel(exact, 1e-10));
}
