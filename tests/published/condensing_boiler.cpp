// Gross efficiency of condensing gas boilers as two public trade articles state it, each checked
// within 2 points:
// - an article of 2025 on when condensing boilers do not: no condensation above a return of about
//   55 degC, 88 % there, rising from there towards 100 %;
// - an article of 2020 on the same: 87 % at a return of 54 degC, 90 % and more from about 45 degC
//   down.
// And EN 15316-4-1 (from memory): a boiler that does not condense loses 0.04 % a kelvin.
#include "models/boiler.hpp"

#include "models/flue_gas.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <initializer_list>

using namespace headroom::models;
using headroom::tests::agrees_with;

namespace {

constexpr double two_points = 0.02;

double efficiency(double approach_k, double return_c) {
    Boiler boiler{20000.0};
    boiler.approach_k = approach_k;
    return boiler_state(boiler, return_c, 15000.0).efficiency;
}

} // namespace

TEST_CASE("Above a return of 55 degC a condensing boiler is 88 per cent efficient") {
    for (const double approach : {5.0, 7.5, 10.0})
        for (const double back : {55.0, 60.0})
            CHECK_THAT(
                efficiency(approach, back),
                agrees_with(0.88, 0.0, "trade article of 2025, return above 55 degC", two_points));
}

TEST_CASE("At a return of 54 degC a condensing boiler is 87 per cent efficient") {
    for (const double approach : {5.0, 7.5, 10.0})
        CHECK_THAT(efficiency(approach, 54.0),
                   agrees_with(0.87, 0.0, "trade article of 2020, return of 54 degC", two_points));
}

TEST_CASE("A condensing boiler reaches 90 per cent at a return of about 45 degC") {
    for (const double approach : {5.0, 7.5, 10.0})
        CHECK_THAT(efficiency(approach, 45.0),
                   agrees_with(0.90, 0.0, "trade article of 2020, return of 45 degC", two_points));
}

TEST_CASE("Flue gas condenses below about 55 degC") {
    CHECK_THAT(flue_dew_point_c(1.25), agrees_with(55.0, 0.0, "trade article of 2025, dew point",
                                                   1.0)); // "give or take a degree"
}

TEST_CASE("A boiler that does not condense loses 0.04 per cent of its efficiency a kelvin") {
    Boiler boiler{20000.0};
    boiler.condensing = false;
    boiler.approach_k = 60.0;
    const double fall = boiler_state(boiler, 50.0, 15000.0).efficiency -
                        boiler_state(boiler, 60.0, 15000.0).efficiency;
    CHECK_THAT(100.0 * fall / 10.0, agrees_with(0.04, 0.0, "EN 15316-4-1, from memory",
                                                0.005)); // its last printed digit
}
