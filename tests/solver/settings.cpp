// A house set as told, running free.
#include "solver/questions/settings.hpp"

#include "solver/questions/batch_row.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using Catch::WithinRel;

TEST_CASE("running free with its settings each valve passes its design flow") {
    for (const char *example : {"direct-16mm.yaml", "two-manifolds-radiators.yaml"}) {
        INFO(example);
        const networks::House ideal = solver::with_ideal_balancing(
            solver::single_circulator(solver::size(tests::example_house(example)).house));
        const double needed_pa = solver::drive_verdict(tests::example_house(example)).needed_pa;
        const solver::Settings settings =
            solver::valve_settings(solver::with_ideal_rise(ideal, 1.2 * needed_pa));
        REQUIRE(settings.outcome.converged());
        REQUIRE_FALSE(settings.valves.empty());
        for (const solver::ValveSetting &valve : settings.valves) {
            CHECK_THAT(valve.flow_kg_s, WithinRel(valve.design_kg_s, 1e-9));
            CHECK_THAT(valve.free_kg_s, WithinRel(valve.design_kg_s, 0.01)); // what `drive` asks
        }
    }
}

TEST_CASE("a house's row among many has the figures that drive gives it alone") {
    for (const char *example : {"direct-16mm.yaml", "small-bore-long.yaml"}) {
        const networks::House house = tests::example_house(example);
        models::FloorResponseCache floors;
        const solver::BatchRow row = solver::batch_row(house, floors);
        const solver::DriveAnswer alone = solver::drive_verdict(house);
        CHECK_THAT(row.flow_m3_s.value(), WithinRel(alone.source_l_min / 6.0e4, 1e-12));
        CHECK(row.needed_pa.value() == alone.needed_pa);
        CHECK(row.available_pa.value() == alone.available_pa);
        CHECK(row.headroom_low_pa.value() == alone.headroom_low_pa);
        CHECK(row.index == alone.index);
        CHECK(row.exit_code == (alone.verdict == solver::Verdict::Yes ? 0 : 1));
    }
}
