// What a source makes of a load, at the ends of its output.
#include "solver/questions/source_heat.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinRel;

TEST_CASE("a source cycles below its least output, modulates above it and falls short beyond") {
    networks::Source source;
    models::HeatPump pump;
    pump.rating = models::CarnotRating{6000.0, 0.42};
    pump.least_output_share = 0.5;
    source.heat = pump;
    const auto state = [&](double load_w) {
        return source_heat_at(source, 0.0, 40.0, 35.0, load_w);
    };
    CHECK(state(2000.0).cycles);
    CHECK_FALSE(state(4000.0).cycles);
    CHECK_FALSE(state(7000.0).cycles);
    CHECK(state(4000.0).short_w == 0.0);
    CHECK_THAT(state(7000.0).short_w, WithinRel(1000.0, 1e-12));
    CHECK_THAT(state(4000.0).efficiency, WithinRel(0.42 * 313.15 / 40.0, 1e-9));
    CHECK_THAT(state(4000.0).input_w, WithinRel(4000.0 * 40.0 / (0.42 * 313.15), 1e-9));
    CHECK(state(4000.0).heat_pump);
    source.heat = models::Boiler{6000.0, 3000.0};
    CHECK(state(2000.0).cycles);
    CHECK_FALSE(state(4000.0).cycles);
    CHECK_THAT(state(7000.0).short_w, WithinRel(1000.0, 1e-12));
    CHECK_FALSE(state(4000.0).heat_pump);
    CHECK(state(4000.0).least_w == 3000.0);
}
