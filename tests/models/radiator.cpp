#include "models/radiator.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom::models;

namespace {
constexpr double c = 4180.0;
}

TEST_CASE("a radiator at its rating point gives its rated output") {
    const Radiator radiator{800.0, 1.27, 55.0, 45.0, 20.0};
    const RadiatorState state = radiator_state(radiator, 55.0, 20.0, 800.0 / (c * 10.0), c);
    CHECK(state.output_w == Approx(800.0).epsilon(1e-12));
    CHECK(state.out_c == Approx(45.0).epsilon(1e-12));
}

TEST_CASE("flow times the plug law's integral is the same at every flow") {
    const Radiator radiator{1150.0};
    // (out - room)^(1-n) - (in - room)^(1-n) from 55 to 45 K at the rated flow.
    const auto integral = [](double hot_k, double cool_k) {
        return std::pow(cool_k, -0.3) - std::pow(hot_k, -0.3);
    };
    const double rated = 1150.0 / (c * 10.0) * integral(55.0, 45.0);
    for (const double flow : {0.001, 0.005, 0.02, 0.1}) {
        const double out = radiator_state(radiator, 50.0, 20.0, flow, c).out_c;
        CHECK(flow * integral(30.0, out - 20.0) == Approx(rated).epsilon(1e-9));
    }
}

TEST_CASE("a radiator of exponent one obeys the logarithmic law without a jump") {
    const Radiator near{1000.0, 1.0 + 1e-7};
    const Radiator exact{1000.0, 1.0};
    CHECK(radiator_state(near, 60.0, 20.0, 0.01, c).out_c ==
          Approx(radiator_state(exact, 60.0, 20.0, 0.01, c).out_c).margin(1e-4));
}

TEST_CASE("a radiator without flow or without warm water gives no heat") {
    const Radiator radiator{1000.0};
    CHECK(radiator_state(radiator, 60.0, 20.0, 0.0, c).output_w == 0.0);
    CHECK(radiator_state(radiator, 60.0, 20.0, 0.0, c).out_c == 20.0);
    CHECK(radiator_state(radiator, 15.0, 20.0, 0.01, c).output_w == 0.0);
}

TEST_CASE("the arithmetic mean overstates output at a tenth of the flow by 15 per cent") {
    const Radiator radiator{1000.0};
    const double flow = 0.1 * 1000.0 / (c * 10.0);
    // The arithmetic form solved with the same water side.
    double low = 20.0;
    double high = 75.0;
    for (int i = 0; i < 100; ++i) {
        const double out = 0.5 * (low + high);
        const double given = radiator_output_at_excess_w(radiator, 0.5 * (75.0 + out) - 20.0);
        (flow * c * (75.0 - out) > given ? low : high) = out;
    }
    const double arithmetic = flow * c * (75.0 - low);
    CHECK(arithmetic / radiator_state(radiator, 75.0, 20.0, flow, c).output_w ==
          Approx(1.15).margin(0.01));
}

TEST_CASE(
    "A radiator gives by its power law down to the least excess, and nothing below the room") {
    const Radiator radiator{1000.0, 1.3, 75.0, 65.0, 20.0};
    for (const double excess_k : {0.1, 0.9, 25.0, 50.0})
        CHECK(radiator_output_at_excess_w(radiator, excess_k) ==
              Approx(1000.0 * std::pow(excess_k / 50.0, 1.3)).epsilon(1e-12));
    CHECK(radiator_output_at_excess_w(radiator, 0.0) == 0.0);
    CHECK(radiator_output_at_excess_w(radiator, -5.0) == 0.0);
}
