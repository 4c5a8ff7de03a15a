#include "models/valve.hpp"

#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <utility>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinRel;

namespace {
const std::vector<std::pair<double, double>> lockshield{
    {0.0, 0.0}, {0.5, 0.12}, {1.0, 0.31}, {2.0, 0.55}, {4.0, 0.80}};
}

TEST_CASE("A fully open valve has its Kvs and a shut one has no Kv") {
    for (const Characteristic kind : {Characteristic::Linear, Characteristic::EqualPercentage}) {
        CHECK(valve_kv(kind, 6.3, 1.0) == 6.3);
        CHECK(valve_kv(kind, 6.3, 0.0) == 0.0);
    }
}

TEST_CASE("A travel beyond its stops counts as at the stop") {
    for (const Characteristic kind : {Characteristic::Linear, Characteristic::EqualPercentage}) {
        CHECK(valve_kv(kind, 6.3, 1.7) == 6.3);
        CHECK(valve_kv(kind, 6.3, -0.2) == 0.0);
    }
}

TEST_CASE("A linear valve's Kv is proportional to its travel") {
    for (const double travel : {0.1, 0.25, 0.5, 0.9})
        CHECK_THAT(valve_kv(Characteristic::Linear, 4.0, travel), WithinRel(4.0 * travel, 1e-15));
}

TEST_CASE("Equal steps of travel multiply an equal-percentage Kv by equal factors") {
    for (const double rangeability : {30.0, 50.0}) {
        const double factor = std::pow(rangeability, 0.1);
        for (const double travel : {0.1, 0.3, 0.5, 0.85}) {
            const double here =
                valve_kv(Characteristic::EqualPercentage, 4.0, travel, rangeability);
            const double further =
                valve_kv(Characteristic::EqualPercentage, 4.0, travel + 0.1, rangeability);
            INFO("travel " << travel << ", rangeability " << rangeability);
            CHECK_THAT(further / here, WithinRel(factor, 1e-13));
        }
    }
}

TEST_CASE("Half open, an equal-percentage valve has Kvs over the root of its rangeability") {
    CHECK_THAT(valve_kv(Characteristic::EqualPercentage, 10.0, 0.5, 25.0), WithinRel(2.0, 1e-14));
}

TEST_CASE("An equal-percentage valve closes linearly and without a step below its range") {
    const double edge = 1.0 / 50.0;
    const double at_edge = valve_kv(Characteristic::EqualPercentage, 4.0, edge);
    CHECK_THAT(valve_kv(Characteristic::EqualPercentage, 4.0, std::nextafter(edge, 0.0)),
               WithinRel(at_edge, 1e-12));
    CHECK_THAT(valve_kv(Characteristic::EqualPercentage, 4.0, 0.5 * edge),
               WithinRel(0.5 * at_edge, 1e-13));
}

TEST_CASE("Opening a valve always raises its Kv") {
    for (const Characteristic kind : {Characteristic::Linear, Characteristic::EqualPercentage}) {
        double before = -1.0;
        for (const double travel : spread(0.0, 1.0, 501)) {
            INFO("travel " << travel);
            CHECK(valve_kv(kind, 2.5, travel) > before);
            before = valve_kv(kind, 2.5, travel);
        }
    }
}

TEST_CASE("A table of turns gives its own rows, straight lines between and its ends beyond") {
    for (const auto &[turns, kv] : lockshield)
        CHECK_THAT(kv_at_turns(lockshield, turns), WithinRel(kv, 1e-15));
    CHECK_THAT(kv_at_turns(lockshield, 0.75), WithinRel(0.215, 1e-13));
    CHECK_THAT(kv_at_turns(lockshield, 3.0), WithinRel(0.675, 1e-13));
    CHECK(kv_at_turns(lockshield, -1.0) == 0.0);
    CHECK(kv_at_turns(lockshield, 9.0) == 0.80);
}

TEST_CASE("A table of one row holds at every number of turns") {
    for (const double turns : {0.0, 1.0, 5.0})
        CHECK(kv_at_turns({{1.0, 0.4}}, turns) == 0.4);
}

TEST_CASE("Turns at a Kv undo Kv at turns within the table and hold its ends beyond") {
    for (const double turns : {0.5, 0.75, 1.2, 2.5, 3.9})
        CHECK_THAT(turns_at_kv(lockshield, kv_at_turns(lockshield, turns)),
                   WithinRel(turns, 1e-12));
    CHECK(turns_at_kv(lockshield, 9.0) == lockshield.back().first);
    CHECK(turns_at_kv({{0.5, 0.1}, {2.0, 0.4}}, 0.01) == 0.5);
}
