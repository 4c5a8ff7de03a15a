#include "models/cycling.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;

TEST_CASE("A cycle fills the store while it runs and empties it while it rests") {
    const CycleState cycle = on_off_cycle(1000.0, 4000.0, 2.0e6);
    CHECK(cycle.run_s * (4000.0 - 1000.0) == Approx(2.0e6).epsilon(1e-12));
    CHECK(cycle.rest_s * 1000.0 == Approx(2.0e6).epsilon(1e-12));
    // What runs give over an hour is what the load takes.
    CHECK(cycle.starts_per_h * cycle.run_s * 4000.0 == Approx(3600.0 * 1000.0).epsilon(1e-12));
}

TEST_CASE("A source is most often started at half its output, once per four stores an output") {
    const double output_w = 4000.0;
    const double store_j = 2.0e6;
    const double half = on_off_cycle(0.5 * output_w, output_w, store_j).starts_per_h;
    CHECK(half == Approx(3600.0 * output_w / (4.0 * store_j)).epsilon(1e-12));
    for (const double share : {0.1, 0.3, 0.45, 0.55, 0.9})
        CHECK(on_off_cycle(share * output_w, output_w, store_j).starts_per_h < half);
}
