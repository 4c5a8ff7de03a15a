#include "models/climate.hpp"

#include <catch2/catch.hpp>

#include <initializer_list>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

TEST_CASE("The bins of every climate run from its design day to 15 degC in steps of 1 K") {
    for (const ClimateKind kind :
         {ClimateKind::Average, ClimateKind::Warmer, ClimateKind::Colder}) {
        const HeatingClimate climate = heating_climate(kind);
        double expected = climate.design_c;
        for (const TemperatureBin &bin : climate.bins) {
            CHECK(bin.outdoor_c == expected);
            CHECK(bin.hours > 0.0);
            expected += 1.0;
        }
        CHECK(expected == heating_ends_c);
    }
}

TEST_CASE("The part load ratio is one on the design day and none from 16 degC up") {
    for (const double design : {-22.0, -10.0, -3.0, 2.0}) {
        CHECK(part_load_ratio(design, design) == 1.0);
        CHECK(part_load_ratio(16.0, design) == 0.0);
        CHECK(part_load_ratio(25.0, design) == 0.0);
        CHECK(part_load_ratio(design - 4.0, design) > 1.0);
        double before = 2.0;
        for (double outdoor = design - 5.0; outdoor < 16.0; outdoor += 0.5) {
            const double share = part_load_ratio(outdoor, design);
            CHECK(share < before);
            before = share;
        }
    }
}
