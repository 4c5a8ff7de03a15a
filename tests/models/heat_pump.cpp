#include "models/heat_pump.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>
#include <vector>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

// Invented figures throughout.
std::vector<RatedPoint> full_grid() {
    return {{-7.0, 35.0, 6000.0, 2.8}, {2.0, 35.0, 7000.0, 3.5}, {7.0, 35.0, 8000.0, 4.5},
            {-7.0, 55.0, 5600.0, 2.0}, {2.0, 55.0, 6400.0, 2.4}, {7.0, 55.0, 7400.0, 2.9}};
}

/// As data sheets often are: the middle flow temperature at one source temperature only.
std::vector<RatedPoint> ragged_grid() {
    std::vector<RatedPoint> points = full_grid();
    points.push_back({7.0, 45.0, 7700.0, 3.6});
    return points;
}

HeatPump table_pump(const std::vector<RatedPoint> &points) {
    HeatPump pump;
    pump.rating = make_rated_table(points);
    return pump;
}

HeatPump carnot_pump() {
    HeatPump pump;
    pump.rating = CarnotRating{8000.0, 0.42};
    return pump;
}

} // namespace

TEST_CASE("A heat pump gives its rated output and COP at each rated point") {
    for (const auto &points : {full_grid(), ragged_grid()}) {
        const HeatPump pump = table_pump(points);
        for (const RatedPoint &point : points) {
            INFO("source " << point.source_c << ", flow " << point.flow_c);
            const HeatPumpState state = heat_pump_state(pump, point.source_c, point.flow_c);
            CHECK_THAT(state.output_w, WithinRel(point.output_w, 1e-14));
            CHECK_THAT(state.cop, WithinRel(point.cop, 1e-14));
            CHECK_THAT(state.electrical_w, WithinRel(point.output_w / point.cop, 1e-14));
            CHECK(within_rating(state));
        }
    }
}

TEST_CASE("The order of rated points does not matter") {
    std::vector<RatedPoint> points = full_grid();
    const HeatPumpState before = heat_pump_state(table_pump(points), 0.0, 41.0);
    std::reverse(points.begin(), points.end());
    const HeatPumpState after = heat_pump_state(table_pump(points), 0.0, 41.0);
    CHECK(before.output_w == after.output_w);
    CHECK(before.cop == after.cop);
}

TEST_CASE("Midway between four rated points a heat pump gives their mean") {
    const HeatPumpState state = heat_pump_state(table_pump(full_grid()), -2.5, 45.0);
    CHECK_THAT(state.output_w, WithinRel(0.25 * (6000.0 + 7000.0 + 5600.0 + 6400.0), 1e-14));
    CHECK_THAT(state.cop, WithinRel(0.25 * (2.8 + 3.5 + 2.0 + 2.4), 1e-14));
}

TEST_CASE("A rated COP rises with the source and falls with the flow, outside as well") {
    const HeatPump pump = table_pump(full_grid());
    for (double flow = 25.0; flow <= 65.0; flow += 1.25) {
        double before = 0.0;
        for (double source = -20.0; source <= 20.0; source += 0.5) {
            const HeatPumpState state = heat_pump_state(pump, source, flow);
            INFO("source " << source << ", flow " << flow);
            CHECK(state.cop >= before);
            CHECK(state.cop >= heat_pump_state(pump, source, flow + 1.25).cop);
            before = state.cop;
        }
    }
}

TEST_CASE("Outside its rated points a heat pump is held at their edge and says which way") {
    const HeatPump pump = table_pump(full_grid());
    const HeatPumpState cold = heat_pump_state(pump, -15.0, 35.0);
    CHECK(cold.output_w == 6000.0);
    CHECK(cold.cop == 2.8);
    CHECK(cold.source == RangeStatus::Below);
    CHECK(cold.flow == RangeStatus::Inside);
    CHECK_FALSE(within_rating(cold));
    const HeatPumpState mild = heat_pump_state(pump, 20.0, 30.0);
    CHECK(mild.output_w == 8000.0);
    CHECK(mild.cop == 4.5);
    CHECK(mild.source == RangeStatus::Above);
    CHECK(mild.flow == RangeStatus::Below);
    const HeatPumpState hot = heat_pump_state(pump, 7.0, 70.0);
    CHECK(hot.cop == 2.9);
    CHECK(hot.source == RangeStatus::Inside);
    CHECK(hot.flow == RangeStatus::Above);
    CHECK_FALSE(within_rating(hot));
}

TEST_CASE("A flow temperature rated at fewer source temperatures says that it was held") {
    const HeatPump pump = table_pump(ragged_grid());
    CHECK(heat_pump_state(pump, 7.0, 40.0).source == RangeStatus::Inside);
    CHECK(heat_pump_state(pump, 2.0, 40.0).source == RangeStatus::Below);
    CHECK(heat_pump_state(pump, 2.0, 45.0).source == RangeStatus::Below);
    // Where the thinly rated one has no say, nothing was held.
    CHECK(heat_pump_state(pump, 2.0, 35.0).source == RangeStatus::Inside);
    CHECK(heat_pump_state(pump, 2.0, 55.0).source == RangeStatus::Inside);
}

TEST_CASE("A rated heat pump has no jump where its flow temperature passes a rated one") {
    const HeatPump pump = table_pump(ragged_grid());
    for (const double source : {-12.0, -7.0, 0.0, 2.0, 7.0, 10.0}) {
        const double below = heat_pump_state(pump, source, 45.0 - 1e-9).cop;
        const double at = heat_pump_state(pump, source, 45.0).cop;
        const double above = heat_pump_state(pump, source, 45.0 + 1e-9).cop;
        INFO("source " << source);
        CHECK_THAT(below, WithinAbs(at, 1e-9));
        CHECK_THAT(above, WithinAbs(at, 1e-9));
    }
}

TEST_CASE("One rated point holds everywhere and is inside only at itself") {
    const HeatPump pump = table_pump({{7.0, 35.0, 5000.0, 4.2}});
    CHECK(within_rating(heat_pump_state(pump, 7.0, 35.0)));
    const HeatPumpState state = heat_pump_state(pump, 2.0, 40.0);
    CHECK(state.cop == 4.2);
    CHECK(state.source == RangeStatus::Below);
    CHECK(state.flow == RangeStatus::Above);
}

TEST_CASE("Rated points that cannot be used are found") {
    const double infinity = std::numeric_limits<double>::infinity();
    CHECK_FALSE(unusable_point(full_grid()));
    for (const RatedPoint &bad :
         {RatedPoint{2.0, 45.0, 0.0, 3.0}, RatedPoint{2.0, 45.0, 5000.0, -1.0},
          RatedPoint{infinity, 45.0, 5000.0, 3.0}, RatedPoint{2.0, 55.0, 5000.0, 3.0}}) {
        std::vector<RatedPoint> points = full_grid();
        points.push_back(bad);
        CHECK(unusable_point(points) == points.size() - 1);
    }
}

TEST_CASE("A fraction of Carnot gives that fraction and one output") {
    const HeatPump pump = carnot_pump();
    for (const double source : {-20.0, 0.0, 15.0})
        for (const double flow : {35.0, 45.0, 60.0}) {
            const HeatPumpState state = heat_pump_state(pump, source, flow);
            INFO("source " << source << ", flow " << flow);
            CHECK(state.output_w == 8000.0);
            CHECK_THAT(state.cop, WithinRel(0.42 * carnot_cop(source, flow), 1e-14));
            CHECK_THAT(state.electrical_w * state.cop, WithinRel(8000.0, 1e-14));
            CHECK(within_rating(state));
        }
}

TEST_CASE("A fraction of Carnot stays finite as the lift vanishes and says that it held the lift") {
    const HeatPump pump = carnot_pump();
    CHECK(heat_pump_state(pump, 15.0, 30.0).lift == RangeStatus::Inside);
    for (const double source : {16.0, 30.0, 35.0}) {
        const HeatPumpState state = heat_pump_state(pump, source, 30.0);
        CHECK_THAT(state.cop, WithinRel(0.42 * carnot_cop(source, source + 15.0), 1e-14));
        CHECK(state.lift == RangeStatus::Below);
        CHECK_FALSE(within_rating(state));
    }
}

TEST_CASE("Outside its limits a fraction of Carnot is held and says which way") {
    const HeatPump pump = carnot_pump();
    const HeatPumpState cold = heat_pump_state(pump, -40.0, 70.0);
    CHECK_THAT(cold.cop, WithinRel(0.42 * carnot_cop(-25.0, 65.0), 1e-14));
    CHECK(cold.source == RangeStatus::Below);
    CHECK(cold.flow == RangeStatus::Above);
}

TEST_CASE("A fraction of Carnot rises with the source and falls with the flow") {
    const HeatPump pump = carnot_pump();
    for (double flow = 15.0; flow <= 70.0; flow += 2.5) {
        double before = 0.0;
        for (double source = -30.0; source <= 40.0; source += 0.5) {
            const double cop = heat_pump_state(pump, source, flow).cop;
            INFO("source " << source << ", flow " << flow);
            CHECK(cop >= before);
            CHECK(cop >= heat_pump_state(pump, source, flow + 2.5).cop);
            before = cop;
        }
    }
}

TEST_CASE("Defrosting takes its share from output and COP below its temperature only") {
    HeatPump pump = table_pump(full_grid());
    const HeatPumpState dry = heat_pump_state(pump, 2.0, 35.0);
    CHECK_FALSE(dry.defrosting);
    pump.defrost = {4.0, 0.1};
    const HeatPumpState frosted = heat_pump_state(pump, 2.0, 35.0);
    CHECK(frosted.defrosting);
    CHECK_THAT(frosted.output_w, WithinRel(0.9 * dry.output_w, 1e-14));
    CHECK_THAT(frosted.cop, WithinRel(0.9 * dry.cop, 1e-14));
    CHECK_THAT(frosted.electrical_w, WithinRel(dry.electrical_w, 1e-14));
    CHECK_FALSE(heat_pump_state(pump, 4.0, 35.0).defrosting);
    CHECK(heat_pump_state(pump, 7.0, 35.0).output_w == 8000.0);
}

TEST_CASE("The least output of a heat pump is its share of the output at the same temperatures") {
    HeatPump pump = table_pump(full_grid());
    pump.least_output_share = 0.3;
    CHECK_THAT(heat_pump_state(pump, 7.0, 55.0).least_output_w, WithinRel(0.3 * 7400.0, 1e-14));
}

TEST_CASE("A heat pump modulates, cycles, falls short or is off by the heat asked of it") {
    HeatPump pump = table_pump(full_grid());
    pump.least_output_share = 0.25;
    const HeatPumpState state = heat_pump_state(pump, 7.0, 35.0); // 2000 to 8000 W

    const HeatPumpLoad part = heat_pump_load(pump, state, 5000.0);
    CHECK(part.load == LoadStatus::Modulates);
    CHECK(part.output_w == 5000.0);
    CHECK_THAT(part.electrical_w, WithinRel(5000.0 / 4.5, 1e-14));

    const HeatPumpLoad little = heat_pump_load(pump, state, 500.0);
    CHECK(little.load == LoadStatus::Cycles);
    CHECK(little.output_w == 500.0);
    CHECK_THAT(little.cop, WithinRel(4.5 * 0.25 / (0.9 * 0.25 + 0.1), 1e-14));

    const HeatPumpLoad much = heat_pump_load(pump, state, 9500.0);
    CHECK(much.load == LoadStatus::FallsShort);
    CHECK(much.output_w == 8000.0);
    CHECK(much.short_w == 1500.0);

    for (const double none : {0.0, -100.0}) {
        const HeatPumpLoad off = heat_pump_load(pump, state, none);
        CHECK(off.load == LoadStatus::Off);
        CHECK(off.output_w == 0.0);
        CHECK(off.electrical_w == 0.0);
        CHECK(off.short_w == 0.0);
    }
}

TEST_CASE("The electricity of a heat pump rises with the heat asked of it and has no jump") {
    HeatPump pump = table_pump(full_grid());
    pump.least_output_share = 0.25;
    const HeatPumpState state = heat_pump_state(pump, 7.0, 35.0);
    double before = 0.0;
    for (double heat = 10.0; heat <= 9000.0; heat += 10.0) {
        const double drawn = heat_pump_load(pump, state, heat).electrical_w;
        INFO("heat " << heat << " W");
        CHECK(drawn >= before);
        if (heat > 10.0)
            CHECK(drawn - before < 3.0);
        before = drawn;
    }
    // Nearly no heat still draws a tenth of what the least output does.
    CHECK_THAT(heat_pump_load(pump, state, 1e-6).electrical_w, WithinRel(0.1 * 2000.0 / 4.5, 1e-6));
}
