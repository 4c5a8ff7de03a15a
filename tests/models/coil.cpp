#include "models/coil.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr CoilInStore coil{877000.0, 900.0, 1200.0, 55.0};

} // namespace

TEST_CASE("A coil's conductance and effectiveness lead back to each other") {
    for (const double ua : {1.0, 300.0, 900.0, 5000.0}) {
        INFO(ua << " W/K");
        // 1 - exp(-NTU) loses digits as it nears 1: at NTU 4.2 two.
        CHECK_THAT(coil_conductance_w_k(coil_effectiveness(ua, 1200.0), 1200.0),
                   WithinRel(ua, 1e-13));
    }
    CHECK(std::isinf(coil_conductance_w_k(1.0, 1200.0)));
    CHECK(std::isinf(coil_conductance_w_k(1.2, 1200.0)));
}

TEST_CASE("A coil with much surface passes all that its water carries, one with little UA times "
          "the difference") {
    const double over_k = 10.0;
    CHECK_THAT(coil_pass_w_k({1.0, 1e6, 1200.0, 55.0}) * over_k, WithinRel(12000.0, 1e-12));
    // Half an NTU of a thousandth: the water cools by as little.
    CHECK_THAT(coil_pass_w_k({1.0, 0.6, 1200.0, 55.0}) * over_k, WithinRel(6.0, 5e-4));
}

TEST_CASE("The water sent rises with the store until the allowed temperature holds the output") {
    const double held = held_from_c(coil, 3000.0);
    CHECK_THAT(coil_heat_w(coil, held - 1.0, 3000.0), WithinRel(3000.0, 1e-15));
    CHECK_THAT(coil_sent_c(coil, held, 3000.0), WithinAbs(55.0, 1e-9));
    CHECK(coil_heat_w(coil, held + 1.0, 3000.0) < 3000.0);
    CHECK_THAT(coil_sent_c(coil, held + 1.0, coil_heat_w(coil, held + 1.0, 3000.0)),
               WithinAbs(55.0, 1e-9));
    CHECK(coil_heat_w(coil, 56.0, 3000.0) == 0.0);
}

TEST_CASE("Heating in parts takes as long as heating at once") {
    const double at_once = heating_time_s(coil, 10.0, 54.0, 6000.0);
    double in_parts = 0.0;
    for (int k = 10; k < 54; ++k)
        in_parts += heating_time_s(coil, k, k + 1.0, 6000.0);
    CHECK_THAT(in_parts, WithinRel(at_once, 1e-12)); // sums of rounding
}

TEST_CASE("A store cannot be heated to the temperature of the water sent, nor by nothing") {
    CHECK(std::isinf(heating_time_s(coil, 10.0, 55.0, 6000.0)));
    CHECK(std::isinf(heating_time_s(coil, 10.0, 50.0, 0.0)));
    CHECK(heating_time_s(coil, 50.0, 50.0, 6000.0) == 0.0);
}
