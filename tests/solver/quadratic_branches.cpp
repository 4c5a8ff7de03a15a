// The house of squares with something beside its loops: bypasses, a second pump, tails.
#include "solver/questions/bores.hpp"
#include "solver/questions/drill.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/site_readings.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/quadratic_house.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace headroom::tests::quadratic;
using tests::kv_r;
using tests::pipe_r;

namespace {

bool assumes(const DriveAnswer &answer, const std::string &start) {
    return std::any_of(answer.assumed.begin(), answer.assumed.end(),
                       [&](const AssumptionRow &row) { return row.what.starts_with(start); });
}

} // namespace

TEST_CASE("an open bypass takes its flow at the head the loops need, and that is said") {
    const DriveAnswer answer = drive(
        tests::house_of(house_text + "bypasses: [{bypass: summer, at: manifold, kv: 0.5 m3/h}]\n"));
    const double past_m3_s = std::sqrt(long_pa / kv_r(0.5));
    const double all_m3_s = both_m3_s + past_m3_s;
    CHECK_THAT(answer.source_l_min, WithinRel(all_m3_s * 6e4, flow_exact));
    CHECK_THAT(answer.needed_pa, WithinAbs(run_r * all_m3_s * all_m3_s + long_pa, small_pa));
    const std::string said = fmt::format("{:.1f} of the {:.1f} l/min pass by the loops",
                                         past_m3_s * 6e4, all_m3_s * 6e4);
    CHECK(std::any_of(answer.remarks.begin(), answer.remarks.end(),
                      [&](const std::string &remark) { return remark.starts_with(said); }));
    for (const std::string &remark : drive(tests::house_of(house_text)).remarks)
        CHECK(remark.find("pass by") == std::string::npos);
    for (const CircuitStep &step : answer.index_circuit)
        if (step.what.find("valve") != std::string::npos)
            CHECK(step.velocity_m_s == 0.0); // no bore is known of it
}

TEST_CASE("of two bypasses each is shut by a fault of its own") {
    const DrillAnswer answer = drill(tests::house_of(
        house_text + "bypasses: [{bypass: a, at: manifold, kv: 0.3 m3/h}, {bypass: b, at: "
                     "manifold, kv: 0.6 m3/h}]\n"));
    const auto source_m3_s = [&](const std::string &fault) {
        const auto at = std::find_if(answer.faults.begin(), answer.faults.end(),
                                     [&](const FaultRow &row) { return row.fault == fault; });
        REQUIRE(at != answer.faults.end());
        return at->source_m3_s;
    };
    const double a_r = kv_r(0.3), b_r = kv_r(0.6);
    CHECK_THAT(source_m3_s("no fault"), WithinRel(free_running({a_r, b_r}).both, flow_exact));
    CHECK_THAT(source_m3_s("bypass a shut"), WithinRel(free_running({b_r}).both, flow_exact));
    CHECK_THAT(source_m3_s("bypass b shut"), WithinRel(free_running({a_r}).both, flow_exact));
}

TEST_CASE("each pump's display shows its own flow and head") {
    networks::House house = tests::house_of(
        with(
            house_text, "fittings: {elbow: 3}}]",
            "fittings: {elbow: 3}}, {run: far, from: manifold, to: annexe, pipe: {bore: 20 mm, "
            "friction_factor: 0.03}, length: 30 m, pump: {mode: constant_pressure, setting: 5 kPa, "
            "curve: [[0 m3/h, 30 kPa], [2 m3/h, 10 kPa]]}}]") +
        "  annexe: {valve_kv: 1.1 m3/h, loops: [{loop: guest, heat: 300 W, pipe: {bore: 12 mm, "
        "friction_factor: 0.04}, length: 90 m}]}\n"
        "readings:\n"
        "  - {meter: long, flow: 1 l/min, accuracy: 0.1 l/min}\n"
        "  - {meter: short, flow: 1 l/min, accuracy: 0.1 l/min}\n"
        "  - {meter: guest, flow: 1 l/min, accuracy: 0.1 l/min}\n"
        "  - {pump: source, flow: 1 l/min, accuracy: 0.1 l/min}\n"
        "  - {pump: far, flow: 1 l/min, accuracy: 0.1 l/min}\n"
        "  - {pump: far, head: 1 kPa, accuracy: 0.1 kPa}\n");
    const std::vector<double> shown = read_off(house, solved(as_read(house)));
    CHECK_THAT(shown.at(4), WithinRel(shown[2], 1e-9));
    CHECK_THAT(shown.at(3), WithinRel(shown[0] + shown[1] + shown[2], 1e-9));
    CHECK_THAT(shown.at(5), WithinAbs(5e3, 0.5));
    CHECK(reading_name(house.readings[5]) == "pump of `far`, head shown");
}

TEST_CASE("a loop's tails take no heat, so the index grows by what lies in the floor") {
    // 10 of the 80 m are tails: heat goes with the length less 10 m.
    const networks::House house =
        tests::house_of(with(house_text, "length: 80 m", "length: 80 m, tails: 10 m"));
    SearchLimits limits;
    limits.most_judged = 0;
    const BoresAnswer answer = bores(house, {{house.emitters[0].pipe}, {}, {}, {}}, limits);
    double low = 80.0, high = 400.0;
    for (int i = 0; i < 60; ++i) {
        const double length = 0.5 * (low + high), flow = long_m3_s * (length - 10.0) / 70.0;
        const double both = flow + short_m3_s;
        const double spare = 40e3 - curve_fall * both - run_r * both * both -
                             (pipe_r(0.04, length, 0.012) + kv_r(1.1)) * flow * flow;
        (spare > 0.0 ? low : high) = length;
    }
    CHECK_THAT(answer.same.at(0).longest_driven_m.value(), WithinRel(low, 2e-3));
}

TEST_CASE("runs with fittings, and radiators whose water nobody asks for, are not assumed about") {
    const std::string volume = "least_flow: 2 l/min, least_open_volume: 5 l";
    const std::string radiator = "radiators: [{radiator: spare, heat: 200 W, from: manifold}]\n";
    CHECK_FALSE(assumes(drive(tests::house_of(house_text)), "fittings of run"));
    CHECK(assumes(drive(tests::house_of(with(house_text, ", fittings: {elbow: 3}", ""))),
                  "fittings of run feed"));
    const auto water = [](const std::string &text) {
        const DriveAnswer answer = drive(tests::house_of(text));
        return std::any_of(answer.assumed.begin(), answer.assumed.end(),
                           [](const AssumptionRow &row) {
                               return row.what.find("water in") == 0 &&
                                      row.what.find("radiator") != std::string::npos;
                           });
    };
    const std::string asked = with(house_text, "least_flow: 2 l/min", volume);
    CHECK(water(asked + radiator));
    CHECK_FALSE(water(asked)); // loops' water follows from their bore
    CHECK_FALSE(water(house_text + radiator));
    CHECK_FALSE(water(asked + with(radiator, "from: manifold", "from: manifold, volume: 6 l")));
}

TEST_CASE("only a closed system with a source is filled") {
    const networks::House house = tests::house_of(house_text);
    CHECK(why_not_filled(house).empty());
    networks::House open = house;
    open.source.reset();
    CHECK(why_not_filled(open).find("no `source`") != std::string::npos);
    networks::House held = house;
    held.held.resize(1);
    CHECK(why_not_filled(held).find("`ends`") != std::string::npos);
}

TEST_CASE("an ideal rise in a run's pump is that rise, whatever its flow and the pump's speed") {
    networks::House house = tests::house_of(
        with(house_text, "fittings: {elbow: 3}}]",
             "fittings: {elbow: 3}, pump: {mode: fixed_speed, speed: 60 %, curve: [[0 m3/h, 30 "
             "kPa], [2 m3/h, 10 kPa]]}}]"));
    const networks::House ideal = with_ideal_rise(with_ideal_rise(house, 5e3), 7e3, 0);
    const SolvedHouse found = solved(ideal);
    REQUIRE(found.solution.outcome.converged());
    CHECK_THAT(-found.solution.loss_pa[pump_link(found.network, 0)], WithinAbs(7e3, 1e-6));
    // Both rises together drive the same house: R V^2 = 12 kPa.
    const double open = 1.0 / std::sqrt(long_r) + 1.0 / std::sqrt(short_r);
    CHECK_THAT(found.source_l_min() / 6e4,
               WithinRel(std::sqrt(12e3 / (run_r + 1.0 / (open * open))), flow_exact));
}
