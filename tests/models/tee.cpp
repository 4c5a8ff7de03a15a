#include "models/tee.hpp"

#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;

TEST_CASE("A small stream joining a fast one is dragged along: its coefficient is negative") {
    for (const double bore_ratio : {0.5, 0.7, 1.0})
        for (const double share : {0.0, 0.05, 0.1}) {
            INFO("share " << share << ", bore ratio " << bore_ratio);
            CHECK(converging_tee_branch(share, bore_ratio) < 0.0);
        }
}

TEST_CASE("A small stream leaving an equal tee eases the run: its coefficient is negative") {
    for (const double share : {0.05, 0.2, 0.4, 0.49}) {
        INFO("share " << share);
        CHECK(diverging_tee_run(share) < 0.0);
    }
    CHECK(diverging_tee_run(0.5) == 0.0);
    CHECK(diverging_tee_run(0.6) > 0.0);
}

TEST_CASE("The run of a tee whose branch is still loses nothing") {
    CHECK(converging_tee_run(0.0) == 0.0);
    for (const double bore_ratio : {0.3, 0.6, 1.0})
        CHECK(diverging_tee_run(0.0, bore_ratio) == 0.0);
}

TEST_CASE("A branch coefficient rises with the branch's share") {
    for (const double bore_ratio : {0.3, 0.5, 0.7, 0.9, 1.0}) {
        double converging = -10.0;
        double diverging = -10.0;
        for (const double share : spread(0.0, 1.0, 101)) {
            INFO("share " << share << ", bore ratio " << bore_ratio);
            CHECK(converging_tee_branch(share, bore_ratio) > converging);
            CHECK(diverging_tee_branch(share, bore_ratio) > diverging);
            converging = converging_tee_branch(share, bore_ratio);
            diverging = diverging_tee_branch(share, bore_ratio);
        }
    }
}

TEST_CASE("A narrower branch loses more at the same flow") {
    for (const double share : {0.2, 0.5, 0.8}) {
        INFO("share " << share);
        CHECK(converging_tee_branch(share, 0.7) > converging_tee_branch(share, 1.0));
        CHECK(diverging_tee_branch(share, 0.7) > diverging_tee_branch(share, 1.0));
    }
}

TEST_CASE("A tee as a whole never gives energy back") {
    // Share-weighted coefficients: the power lost over the power of the combined stream.
    for (const double bore_ratio : spread(0.3, 1.0, 15))
        for (const double share : spread(0.0, 1.0, 101)) {
            INFO("share " << share << ", bore ratio " << bore_ratio);
            CHECK(share * converging_tee_branch(share, bore_ratio) +
                      (1.0 - share) * converging_tee_run(share) >=
                  0.0);
            CHECK(share * diverging_tee_branch(share, bore_ratio) +
                      (1.0 - share) * diverging_tee_run(share, bore_ratio) >=
                  0.0);
        }
}

TEST_CASE("Where a tee's formula changes with the share, its coefficient moves by 2 % at most") {
    // The converging branch factor steps from 0.9 (1 - 0.4) = 0.54 to 0.55 at a share of 0.4.
    const double below = converging_tee_branch(0.4);
    const double above = converging_tee_branch(std::nextafter(0.4, 1.0));
    CHECK_THAT(above, WithinAbs(below, 0.02 * above));
    CHECK_THAT(diverging_tee_run(std::nextafter(0.5, 1.0)),
               WithinAbs(diverging_tee_run(0.5), 1e-12));
}

TEST_CASE(
    "A share of four tenths still belongs to the first of the two rules for a joining branch") {
    // [Crane2009], converging branch: C = 0.9 (1 - share) up to 0.4, 0.55 beyond. At 0.4 an
    // equal tee has 0.9 * 0.6 * (1 + 0.16 - 2 * 0.36) = 0.54 * 0.44.
    CHECK_THAT(converging_tee_branch(0.4, 1.0), WithinAbs(0.2376, 1e-12));
    CHECK_THAT(converging_tee_branch(std::nextafter(0.4, 1.0), 1.0), WithinAbs(0.55 * 0.44, 1e-12));
}
