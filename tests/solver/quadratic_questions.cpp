// The house of squares through the questions made of others: bores, curves of the sheet, a
// conversion, a comparison, the day on site. Figures by hand.
#include "solver/questions/bores.hpp"
#include "solver/questions/commission.hpp"
#include "solver/questions/compare.hpp"
#include "solver/questions/convert.hpp"
#include "solver/questions/sheet.hpp"
#include "solver/questions/size.hpp"
#include "tests/support/quadratic_house.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace headroom::tests::quadratic;
using tests::kv_r;
using tests::pipe_r;

namespace {

SearchLimits no_search() {
    SearchLimits limits;
    limits.most_judged = 0;
    return limits;
}

double water_l(double bore_mm, double length_m) {
    return 0.25 * std::acos(-1.0) * bore_mm * bore_mm * length_m * 1e-3;
}

// The long loop's length that uses up the head, its heat growing with it: halving by hand.
double longest_m() {
    double low = 80.0, high = 400.0;
    for (int i = 0; i < 60; ++i) {
        const double length = 0.5 * (low + high), flow = long_m3_s * length / 80.0;
        const double both = flow + short_m3_s;
        const double spare = 40e3 - curve_fall * both - run_r * both * both -
                             (pipe_r(0.04, length, 0.012) + kv_r(1.1)) * flow * flow;
        (spare > 0.0 ? low : high) = length;
    }
    return low;
}

} // namespace

TEST_CASE("a bore's row counts pipe, water, money and head, and how far its index could grow") {
    const networks::House house = tests::house_of(
        house_text + "prices: {currency: GBP, laying_per_metre: 2, loop_port: 35}\n");
    const networks::PipeChoice own = house.emitters[0].pipe;
    const BoresAnswer answer = bores(house, {{own}, {}, {}, {}}, no_search());
    REQUIRE(answer.same.size() == 1);
    const BoreRow &row = answer.same[0];
    CHECK(row.bore_m == 0.012);
    CHECK(row.loops == 2);
    CHECK_THAT(row.pipe_m, WithinRel(140.0, 1e-12));
    CHECK(row.longest_loop_m == 80.0);
    CHECK_THAT(row.volume_m3 * 1e3, WithinRel(water_l(12.0, 140.0), 1e-12));
    CHECK_THAT(
        row.material_cost,
        WithinRel(2 * 35.0 + 140 * (2.0 + house.prices.pipe_per_metre(own.name, 0.012)), 1e-12));
    CHECK(row.index == "long");
    CHECK_THAT(row.index_l_min, WithinRel(long_m3_s * 6e4, flow_exact));
    CHECK_THAT(row.index_velocity_m_s, WithinRel(velocity(long_m3_s, 0.012), flow_exact));
    CHECK_THAT(row.index_loss_pa, WithinAbs(long_pa, small_pa));
    CHECK_THAT(row.source_l_min, WithinRel(both_m3_s * 6e4, flow_exact));
    CHECK_THAT(row.needed_pa, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(row.available_pa, WithinAbs(available_pa, small_pa));
    CHECK(row.enough);
    CHECK(row.verdict == Verdict::Yes);
    CHECK_THAT(row.circulator_w, WithinRel(needed_pa * both_m3_s / 0.30, 1e-4)); // the habit
    CHECK(answer.pump_efficiency == 0.30);
    CHECK_FALSE(row.output_w); // nothing describes these floors
    CHECK_FALSE(row.changes);
    CHECK_THAT(row.longest_driven_m.value(), WithinRel(longest_m(), 2e-3));
    CHECK(answer.common_c == 37.5);
}

TEST_CASE(
    "the sheet's curves are the square through the setting and the circulator's straight line") {
    const networks::House house = tests::house_of(house_text);
    const auto curves = pressure_curves(size(house).house, drive_verdict(house));
    REQUIRE(curves.size() == 3); // no zones, so no part load
    for (const PressureCurve &curve : curves) {
        if (curve.kind == PressureCurve::Kind::Circulator) {
            REQUIRE(curve.points.size() == 41);
            CHECK(curve.points.front().flow_m3_s == 0.0);
            CHECK_THAT(curve.points.back().flow_m3_s, WithinRel(1.0 / 3600.0, 1e-9)); // its end
            for (const FlowPressure &point : curve.points)
                CHECK_THAT(point.pressure_pa,
                           WithinAbs(40e3 - curve_fall * point.flow_m3_s, small_pa));
            continue;
        }
        // As set, the design flow takes the head needed; no loss depends on temperature.
        REQUIRE(curve.points.size() == 9);
        CHECK(curve.points.front().pressure_pa == 0.0);
        CHECK_THAT(curve.points.back().pressure_pa, WithinRel(1.7 * needed_pa, 1e-5));
        for (const FlowPressure &point : curve.points)
            CHECK_THAT(
                point.flow_m3_s,
                WithinAbs(both_m3_s * std::sqrt(point.pressure_pa / needed_pa), 1e-4 * both_m3_s));
    }
    // A curve that ends before the design flow is drawn three tenths past it.
    const networks::House slight =
        tests::house_of(with(house_text, "[1 m3/h, 30 kPa]", "[0.1 m3/h, 39 kPa]"));
    const auto drawn = pressure_curves(size(slight).house, drive_verdict(slight));
    CHECK_THAT(drawn.front().points.back().flow_m3_s, WithinRel(1.3 * both_m3_s, 1e-5));
}

TEST_CASE("a conversion's runs carry the design flow at its velocity and loss a metre") {
    const networks::House base = tests::house_of(with(house_text, "heat_pump", "boiler"));
    // 1 l/min, so that the long loop alone is enough.
    networks::House pump = tests::house_of(
        with(with(house_text, "length: 60 m}", "length: 60 m, zone: up}"), "2 l/min", "1 l/min"));
    const ConvertAnswer answer = convert(base, pump, no_search());
    CHECK(answer.feasible == Feasible::Yes);
    CHECK(answer.taken_out.empty());
    REQUIRE(answer.runs.size() == 1);
    const ConvertRun &run = answer.runs[0];
    const double loss_pa_m = pipe_r(0.03, 1.0, 0.020) * both_m3_s * both_m3_s;
    CHECK(run.name == "feed");
    CHECK_THAT(run.flow_l_min, WithinRel(both_m3_s * 6e4, flow_exact));
    CHECK_THAT(run.velocity_m_s, WithinRel(velocity(both_m3_s, 0.020), flow_exact));
    CHECK_THAT(run.loss_pa_m, WithinRel(loss_pa_m, 1e-4));
    CHECK(run.within);
    CHECK(answer.limits_assumed);
    CHECK_THAT(answer.found.source_l_min, WithinRel(free_running().both * 6e4, flow_exact));
    CHECK(answer.found.what == "as found");
    CHECK_THAT(answer.found.flow_temperature_c, WithinAbs(37.5, 1e-9));
    CHECK_THAT(answer.converted.source_l_min, WithinRel(both_m3_s * 6e4, flow_exact));
    CHECK_THAT(answer.converted.return_temperature_c, WithinAbs(32.5, 1e-3));
    CHECK_THAT(answer.least_flow_l_min.value(), WithinRel(1.0, 1e-12));
    // 20 m in 20 mm and both loops; with the zone shut the long one alone.
    CHECK_THAT(answer.open_volume_m3 * 1e3,
               WithinRel(water_l(20.0, 20.0) + water_l(12.0, 140.0), 1e-9));
    CHECK_THAT(answer.shut_open_volume_m3 * 1e3,
               WithinRel(water_l(20.0, 20.0) + water_l(12.0, 80.0), 1e-9));
    CHECK(answer.least_state_l_min < both_m3_s * 6e4 * 0.9); // the zone's
    // One limit a hair below what the run has, then the other.
    pump.pipe_limits = {0.999 * run.velocity_m_s, 2.0 * loss_pa_m};
    CHECK_FALSE(convert(base, pump, no_search()).runs[0].within);
    pump.pipe_limits = {2.0 * run.velocity_m_s, 0.999 * loss_pa_m};
    const ConvertAnswer beyond = convert(base, pump, no_search());
    CHECK_FALSE(beyond.runs[0].within);
    CHECK_FALSE(beyond.limits_assumed);
    CHECK(beyond.feasible == Feasible::No); // a pipe of no family has no wider one
    pump.pipe_limits = {1.001 * run.velocity_m_s, 1.001 * loss_pa_m};
    CHECK(convert(base, pump, no_search()).runs[0].within);
    pump.source->least_flow_m3_s.reset();
    CHECK_FALSE(convert(base, pump, no_search()).least_flow_l_min);
}

TEST_CASE("a comparison gives both houses' figures, the change, and what differs first") {
    const networks::House house = tests::house_of(
        house_text + "proposals: {farther: {pipework: [{run: feed, length: 20 m}]}}\n");
    const CompareAnswer answer = compare(house, nullptr);
    REQUIRE(answer.houses.size() == 2);
    CHECK(answer.houses[0].name == "as found");
    CHECK(answer.houses[1].name == "farther");
    CHECK(answer.houses[1].verdict == Verdict::Yes);
    const auto row = [&](const std::string &key) {
        const auto at = std::find_if(answer.rows.begin(), answer.rows.end(),
                                     [&](const ComparedRow &r) { return r.key == key; });
        INFO(key);
        REQUIRE(at != answer.rows.end());
        return *at;
    };
    // 10 m more each way.
    const double more_pa = 2.0 * pipe_r(0.03, 10.0, 0.020) * both_m3_s * both_m3_s;
    const ComparedRow needed = row("needed_pa");
    CHECK(needed.differs);
    CHECK_THAT(needed.values.at(0).value(), WithinAbs(needed_pa, small_pa));
    CHECK_THAT(needed.values.at(1).value(), WithinAbs(needed_pa + more_pa, small_pa));
    CHECK(needed.changes.at(0) == 0.0);
    CHECK_THAT(needed.changes.at(1).value(), WithinAbs(more_pa, 2.0 * small_pa));
    CHECK_THAT(row("headroom_pa").changes.at(1).value(), WithinAbs(-more_pa, 2.0 * small_pa));
    const ComparedRow flow = row("source_flow_m3_s");
    CHECK_FALSE(flow.differs);
    CHECK_THAT(flow.values[1].value(), WithinRel(both_m3_s, flow_exact));
    CHECK_FALSE(row("verdict").differs);
    CHECK(row("verdict").words == std::vector<std::string>{"yes", "yes"});
    CHECK(row("index_circuit").words[1] == "long");
    CHECK_THAT(row("drop_k").values[0].value(), WithinAbs(5.0, 1e-3));
    CHECK(row("parts_and_work_cost").differs); // the pipe is new
    CHECK(std::is_partitioned(answer.rows.begin(), answer.rows.end(),
                              [](const ComparedRow &r) { return r.differs; }));
}

TEST_CASE("on the day on site the circulator is set to the need, meters read the design flows") {
    const CommissionAnswer answer = commission(
        tests::house_of(with(house_text, "length: 80 m", "length: 80 m, flow_limit: 41 degC")));
    CHECK_THAT(answer.dial.circulator_pa.value(), WithinAbs(needed_pa, small_pa));
    CHECK(answer.dial.flow_c == 37.5);
    CHECK_THAT(answer.dial.return_c, WithinAbs(32.5, 1e-3));
    CHECK_THAT(answer.dial.source_flow_m3_s, WithinRel(both_m3_s, flow_exact));
    CHECK(answer.dial.floor_limit_c == 41.0); // the other loop's is 45 by habit
    CHECK_FALSE(answer.dial.hot_water_flow_c);
    REQUIRE(answer.stats.size() == 1);
    CHECK(answer.stats[0].limit_c == 41.0);
    CHECK_FALSE(answer.stats[0].there);
    CHECK(answer.stats[0].stands == "MISSING: on the flow pipe at `manifold`");
    REQUIRE(answer.meters.size() == 2);
    CHECK_THAT(answer.meters[0].design_m3_s, WithinRel(long_m3_s, flow_exact));
    CHECK_THAT(answer.meters[1].design_m3_s, WithinRel(short_m3_s, flow_exact));
    CHECK_THAT(answer.meters[1].kv_m3_h.value(), WithinRel(set_kv, 1e-4));
    CHECK_THAT(answer.meters[0].kv_m3_h.value(), WithinRel(1.1, 1e-4));
    CHECK(answer.meters[0].drop_k == 5.0);
    CHECK(answer.meters[0].in_range);
    REQUIRE(answer.tests.size() == 2);
    CHECK(answer.tests[0].hold_s == 7200.0);
    CHECK(answer.tests[1].hold_s == 3600.0);
    CHECK_THAT(answer.tests[1].least_pa, WithinRel(1.5 * 3e5, 1e-12));
    // A stat that is there, behind the pump it stops.
    const CommissionAnswer with_stat = commission(tests::house_of(
        with(house_text, "fittings: {elbow: 3}",
             "fittings: {elbow: 3}, mixer: {kv: 4 m3/h, set: 35 degC}, pump: {mode: "
             "constant_pressure, setting: 10 kPa, curve: [[0 m3/h, 30 kPa], [2 m3/h, 10 kPa]]}, "
             "high_limit: {at: 45 degC, stops: pump}")));
    REQUIRE(with_stat.stats.size() == 1);
    CHECK(with_stat.stats[0].there);
    CHECK(with_stat.stats[0].limit_c == 45.0);
    CHECK(with_stat.stats[0].stands.find("set to 45 degC") != std::string::npos);
    CHECK(with_stat.stats[0].stops == "the pump of run `feed`");
}

TEST_CASE("the drawing has each place once and each part with its flow and temperatures") {
    const networks::House house =
        tests::house_of(with(house_text, "length: 60 m}", "length: 60 m, zone: up}"));
    const HouseDrawing drawing = draw_house(size(house).house, drive_verdict(house));
    CHECK(drawing.as_set);
    CHECK_FALSE(drawing.absolute);
    CHECK(drawing.source == "heat pump");
    CHECK_THAT(drawing.source_m3_s, WithinRel(both_m3_s, 1e-4));
    CHECK_THAT(drawing.sent_c, WithinAbs(37.5, 1e-9));
    CHECK_THAT(drawing.back_c, WithinAbs(32.5, 2e-3));
    CHECK_FALSE(drawing.separator_m3_s);
    REQUIRE(drawing.places.size() == 2);
    CHECK(drawing.places[0].kind == DrawnPlace::Kind::Source);
    CHECK(drawing.places[1].kind == DrawnPlace::Kind::Manifold);
    CHECK(drawing.places[1].name == "manifold");
    REQUIRE(drawing.parts.size() == 3);
    const std::vector<double> flows{both_m3_s, long_m3_s, short_m3_s};
    for (std::size_t i = 0; i < 3; ++i) {
        const DrawnPart &part = drawing.parts[i];
        INFO(part.name);
        CHECK(part.kind == (i == 0 ? DrawnPart::Kind::Run : DrawnPart::Kind::Loop));
        CHECK(part.from == (i == 0 ? "source" : "manifold"));
        CHECK(part.to == (i == 0 ? "manifold" : ""));
        CHECK_FALSE(part.single);
        CHECK_FALSE(part.closes_ring);
        CHECK(part.on_index == (i < 2)); // the short loop is not
        CHECK_THAT(part.flow_m3_s, WithinRel(flows[i], 1e-4));
        CHECK_THAT(part.design_share, WithinAbs(i == 0 ? 0.0 : 1.0, 1e-4));
        CHECK_THAT(part.flow_c, WithinAbs(37.5, 1e-9));
        CHECK_THAT(part.return_c, WithinAbs(32.5, 5e-3));
        CHECK_FALSE(part.hot_share);
        CHECK(part.pump.empty());
        CHECK(part.zone == (i == 2 ? "up" : ""));
    }
    CHECK(drawing.parts[0].pipe.ends_with(", 10 m"));
    CHECK(drawing.parts[1].pipe.ends_with(", 80 m"));
    // With another pump on the way it is drawn as it stands; a second run to a place reached
    // already closes a ring.
    const networks::House ring = tests::house_of(
        with(house_text, "fittings: {elbow: 3}}]",
             "fittings: {elbow: 3}, pump: {mode: constant_pressure, setting: 5 kPa, curve: [[0 "
             "m3/h, 30 kPa], [2 m3/h, 10 kPa]]}}, {run: second, from: source, to: manifold, pipe: "
             "{bore: 20 mm, friction_factor: 0.03}, length: 30 m}]"));
    const HouseDrawing found = draw_house(size(ring).house, drive_verdict(ring));
    REQUIRE(found.outcome.converged());
    CHECK_FALSE(found.as_set);
    REQUIRE(found.parts.size() == 4);
    CHECK_FALSE(found.parts[0].closes_ring);
    CHECK(found.parts[1].closes_ring);
    CHECK(found.parts[0].pump == "pump");
    CHECK_THAT(found.parts[0].flow_m3_s + found.parts[1].flow_m3_s,
               WithinRel(found.parts[2].flow_m3_s + found.parts[3].flow_m3_s, 1e-9));
    CHECK_THAT(found.source_m3_s,
               WithinRel(found.parts[0].flow_m3_s + found.parts[1].flow_m3_s, 1e-9));
}
