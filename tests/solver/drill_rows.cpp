// Faults put into a house where everything loses as the square of its flow: rows by hand.
#include "solver/questions/drill.hpp"
#include "tests/support/quadratic_house.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace headroom::tests::quadratic;

namespace {

// The long loop with a zone of its own and a limit of 50 degC; the short one takes 45 by habit.
std::string zoned() {
    return with(with(house_text, "length: 80 m", "length: 80 m, zone: up, flow_limit: 50 degC"),
                "drop: 5 K", "drop: 5 K, highest_temperature: 60 degC");
}

const FaultRow &row(const DrillAnswer &answer, const std::string &fault) {
    const auto at = std::find_if(answer.faults.begin(), answer.faults.end(),
                                 [&](const FaultRow &r) { return r.fault == fault; });
    INFO(fault);
    REQUIRE(at != answer.faults.end());
    REQUIRE(at->outcome.converged());
    return *at;
}

const DrillAnswer &drilled() {
    static const DrillAnswer answer = drill(tests::house_of(zoned()));
    return answer;
}

// One loop of resistance r alone on the whole curve.
double alone_m3_s(double r) {
    const double sum = run_r + r;
    return (-curve_fall + std::sqrt(curve_fall * curve_fall + 4.0 * sum * 40e3)) / (2.0 * sum);
}

} // namespace

TEST_CASE("without a fault a floor has all of its flow, at the water that is sent") {
    const FaultRow &none = drilled().faults.front();
    CHECK(none.sent_c == 37.5);
    CHECK_THAT(none.source_m3_s, WithinRel(free_running().both, flow_exact));
    CHECK_FALSE(none.below_least);
    REQUIRE(none.floors.size() == 1);
    const FloorWater &water = none.floors[0].fault;
    CHECK_THAT(water.flow_m3_s, WithinRel(free_running().both, flow_exact));
    CHECK_THAT(water.flow_share, WithinRel(1.0, 1e-9));
    CHECK_THAT(water.water_c.value(), WithinAbs(37.5, 1e-9));
    CHECK(water.loop == "short"); // 7.5 K below its limit, the other 12.5 K
    CHECK(water.limit_c == 45.0);
    CHECK_FALSE(water.too_hot);
    CHECK_FALSE(water.surface_c);
    CHECK(none.cold.empty());
    CHECK_FALSE(none.missing);
    CHECK(drilled().highest_c == 60.0);
    CHECK(drilled().sent_c == 37.5);
    CHECK(drilled().rooms == 2); // loops without a room count as one each
}

TEST_CASE("a source at its highest temperature sends it to the loop that takes least") {
    const FaultRow &hot = row(drilled(), "source at its highest temperature");
    CHECK(hot.sent_c == 60.0);
    const FloorRow &floor = hot.floors.at(0);
    CHECK_THAT(floor.fault.water_c.value(), WithinAbs(60.0, 1e-9));
    CHECK(floor.fault.loop == "short"); // 15 K above, the other 10 K
    CHECK(floor.fault.limit_c == 45.0);
    CHECK(floor.fault.too_hot);
    CHECK(floor.unprotected);
    CHECK_FALSE(floor.after);
    CHECK(hot.missing);
    CHECK_THAT(hot.source_m3_s, WithinRel(free_running().both, flow_exact));
    // The other way round the first loop of the manifold is the one that takes least.
    const DrillAnswer other =
        drill(tests::house_of(with(with(zoned(), "flow_limit: 50 degC", "flow_limit: 40 degC"),
                                   "length: 60 m", "length: 60 m, flow_limit: 59 degC")));
    CHECK(row(other, "source at its highest temperature").floors[0].fault.loop == "long");
    CHECK(row(other, "source at its highest temperature").floors[0].fault.limit_c == 40.0);
}

TEST_CASE("water at a floor's very limit is not too hot, a tenth of a kelvin above it is") {
    const auto too_hot = [](const std::string &highest) {
        return row(drill(tests::house_of(with(zoned(), "60 degC", highest))),
                   "source at its highest temperature")
            .floors[0]
            .fault.too_hot;
    };
    CHECK_FALSE(too_hot("45 degC"));
    CHECK(too_hot("45.1 degC"));
}

TEST_CASE("a shut zone leaves the other loop the whole pump, and its own room cold") {
    const FaultRow &shut = row(drilled(), "zone up shut");
    const double left = alone_m3_s(short_r);
    CHECK_THAT(shut.source_m3_s, WithinRel(left, flow_exact));
    CHECK_THAT(shut.floors.at(0).fault.flow_m3_s, WithinRel(left, flow_exact));
    CHECK_THAT(shut.floors[0].fault.flow_share, WithinRel(left / free_running().both, flow_exact));
    CHECK(shut.floors[0].fault.loop == "short");
    REQUIRE(shut.cold.size() == 1);
    CHECK(shut.cold[0].room == "long");
    CHECK_THAT(shut.cold[0].share, WithinAbs(0.0, 1e-9));
    CHECK_FALSE(shut.cold[0].reached_c);
    CHECK_FALSE(shut.missing);
}

TEST_CASE("a stopped circulator leaves no water, no heat and less than the source's least flow") {
    const FaultRow &still = row(drilled(), "source's circulator stopped");
    CHECK_THAT(still.source_m3_s, WithinAbs(0.0, 1e-9));
    CHECK(still.below_least);
    CHECK_FALSE(still.floors.at(0).fault.water_c);
    CHECK_THAT(still.floors[0].fault.flow_share, WithinAbs(0.0, 1e-6));
    CHECK_FALSE(still.floors[0].unprotected);
    CHECK(still.cold.size() == 2);
    CHECK_FALSE(still.missing);
    const auto warned = std::find_if(
        drilled().warnings.begin(), drilled().warnings.end(), [](const Finding &finding) {
            return finding.what.find("least flow of 2.00 l/min") != std::string::npos;
        });
    REQUIRE(warned != drilled().warnings.end());
    CHECK(warned->faults.front() == "source's circulator stopped: 0.00 l/min");
}

TEST_CASE("what every faulty house has in common is one finding with each fault once") {
    // Sensor and control both send 60 degC: one thing is missing, in two faults.
    REQUIRE(drilled().missing.size() == 1);
    const Finding &finding = drilled().missing.front();
    CHECK(finding.what.find("manifold gets water above the 45 degC that loop short takes") == 0);
    REQUIRE(finding.faults.size() == 2);
    CHECK(finding.faults[0].find("outdoor sensor failed: 60.0 degC") == 0);
    CHECK(finding.faults[1].find("source at its highest temperature: 60.0 degC") == 0);
}

TEST_CASE("what creeps through a standing pump is what its own floor gets, not another's") {
    // A second floor on a run of its own, behind a pump that the source's circulator pushes
    // through.
    const DrillAnswer answer = drill(tests::house_of(
        with(
            house_text, "fittings: {elbow: 3}}]",
            "fittings: {elbow: 3}}, {run: far, from: manifold, to: annexe, pipe: {bore: 20 mm, "
            "friction_factor: 0.03}, length: 30 m, pump: {mode: constant_pressure, setting: 5 kPa, "
            "curve: [[0 m3/h, 30 kPa], [2 m3/h, 10 kPa]]}}]") +
        "  annexe: {valve_kv: 1.1 m3/h, loops: [{loop: guest, heat: 300 W, pipe: {bore: 12 mm, "
        "friction_factor: 0.04}, length: 90 m}]}\n"));
    REQUIRE(answer.outcome.converged());
    const FaultRow &none = answer.faults.front();
    const FaultRow &stopped = row(answer, "pump of far stopped");
    REQUIRE(stopped.floors.size() == 2);
    const FloorWater &annexe = stopped.floors[1].fault;
    CHECK(stopped.floors[1].floor == "annexe");
    CHECK_THAT(stopped.creep_m3_s.value(), WithinRel(annexe.flow_m3_s, 1e-9));
    CHECK(annexe.flow_m3_s < stopped.floors[0].fault.flow_m3_s);
    CHECK_THAT(stopped.source_m3_s,
               WithinRel(annexe.flow_m3_s + stopped.floors[0].fault.flow_m3_s, 1e-9));
    CHECK_THAT(annexe.flow_share,
               WithinRel(annexe.flow_m3_s / none.floors[1].fault.flow_m3_s, 1e-9));
    CHECK(annexe.flow_share < 1.0);
    CHECK(annexe.flow_share > creep_share);
    CHECK(stopped.creeps);
    CHECK_FALSE(none.creep_m3_s);
}
