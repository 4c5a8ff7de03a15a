#include "models/flue_gas.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

TEST_CASE("Flue efficiency falls with flue temperature and with excess air") {
    for (const double air_ratio : {1.0, 1.25, 1.5}) {
        double before = 1.0;
        for (double flue = 25.0; flue <= 250.0; flue += 0.5) {
            const double gross = flue_efficiency(flue, air_ratio, true).gross;
            INFO("flue " << flue << " degC, air ratio " << air_ratio);
            CHECK(gross < before);
            CHECK(gross > flue_efficiency(flue, air_ratio + 0.1, true).gross);
            before = gross;
        }
    }
}

TEST_CASE("Flue efficiency has no jump at the dew point and condensing adds nothing above it") {
    for (const double air_ratio : {1.0, 1.25, 1.6}) {
        const double dew = flue_dew_point_c(air_ratio);
        const FlueEfficiency below = flue_efficiency(dew - 1e-6, air_ratio, true);
        const FlueEfficiency above = flue_efficiency(dew + 1e-6, air_ratio, true);
        CHECK_THAT(below.gross, WithinAbs(above.gross, 1e-7));
        CHECK(below.condensate_share > 0.0);
        CHECK(above.condensate_share == 0.0);
        CHECK(flue_efficiency(dew + 5.0, air_ratio, true).gross ==
              flue_efficiency(dew + 5.0, air_ratio, false).gross);
        CHECK(flue_efficiency(dew - 5.0, air_ratio, true).gross >
              flue_efficiency(dew - 5.0, air_ratio, false).gross);
    }
}

TEST_CASE("Dry flue gas as cold as the air leaves exactly the net heat") {
    CHECK_THAT(flue_efficiency(25.0, 1.25, false).gross,
               WithinRel(methane_net_j_mol / methane_gross_j_mol, 1e-14));
}

TEST_CASE("Flue temperatures beyond the relation are held at its ends and said to be") {
    const FlueEfficiency cold = flue_efficiency(10.0, 1.25, true);
    CHECK(cold.gross == flue_efficiency(25.0, 1.25, true).gross);
    CHECK(cold.flue == RangeStatus::Below);
    const FlueEfficiency hot = flue_efficiency(400.0, 1.25, true);
    CHECK(hot.gross == flue_efficiency(250.0, 1.25, true).gross);
    CHECK(hot.flue == RangeStatus::Above);
    CHECK(flue_efficiency(60.0, 1.25, true).flue == RangeStatus::Inside);
}

TEST_CASE("Less air than burns the gas completely is taken as just enough") {
    CHECK(flue_dew_point_c(0.5) == flue_dew_point_c(1.0));
    CHECK(flue_efficiency(45.0, 0.5, true).gross == flue_efficiency(45.0, 1.0, true).gross);
}
