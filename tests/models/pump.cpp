#include "models/pump.hpp"

#include "models/units.hpp"
#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr double m3_h = 1.0 / 3600.0;

/// Falling curves of several habits: smooth, with a knee, with a flat stretch, of two points, and
/// beginning above zero flow.
std::vector<PumpCurve> falling_curves() {
    return {
        make_pump_curve({{0.0, 62e3}, {1.0 * m3_h, 55e3}, {2.0 * m3_h, 38e3}, {3.0 * m3_h, 9e3}}),
        make_pump_curve(
            {{0.0, 60e3}, {1.5 * m3_h, 59.5e3}, {1.7 * m3_h, 40e3}, {3.0 * m3_h, 39e3}}),
        make_pump_curve({{0.0, 50e3}, {0.2 * m3_h, 49e3}, {0.9 * m3_h, 30e3}, {2.5 * m3_h, 2e3}}),
        make_pump_curve({{0.0, 40e3}, {2.0 * m3_h, 10e3}}),
        make_pump_curve({{0.4 * m3_h, 58e3}, {1.2 * m3_h, 50e3}, {2.4 * m3_h, 21e3}})};
}

PumpCurve smooth_curve() {
    return falling_curves().front();
}

PumpCurve drooping_curve() {
    return make_pump_curve(
        {{0.0, 40e3}, {0.6 * m3_h, 44e3}, {1.4 * m3_h, 41e3}, {2.6 * m3_h, 15e3}});
}

PumpCurve one_point_curve() {
    return make_pump_curve({{1.2 * m3_h, 25e3}});
}

/// The curve as a law of volume flow in m3/s, so that the shared checks apply.
auto as_law(const PumpCurve &curve, double speed) {
    return [&curve, speed](double flow) {
        const PumpPressure rise = pump_pressure(curve, flow, speed);
        return Loss{rise.pressure_pa, rise.slope_pa_s_m3};
    };
}

auto running(const PumpCurve &curve, double speed, double limit, double density) {
    return [&curve, speed, limit, density](double flow) {
        return running_pump_loss(curve, speed, limit, density, flow);
    };
}

} // namespace

TEST_CASE("A pump curve passes through its points") {
    std::vector<PumpCurve> curves = falling_curves();
    curves.push_back(drooping_curve());
    curves.push_back(one_point_curve());
    for (const PumpCurve &curve : curves)
        for (const CurvePoint &point : curve.points) {
            INFO("flow " << point.flow_m3_s << " m3/s");
            CHECK_THAT(pump_pressure(curve, point.flow_m3_s, 1.0).pressure_pa,
                       WithinRel(point.pressure_pa, 1e-13));
        }
}

TEST_CASE("A pump curve through falling points falls everywhere between and beyond them") {
    for (const PumpCurve &curve : falling_curves()) {
        const double first = curve.points.front().flow_m3_s;
        double before = 1e12;
        for (const double flow : spread(first, 1.5 * curve.points.back().flow_m3_s, 2001)) {
            const PumpPressure rise = pump_pressure(curve, flow, 1.0);
            INFO("flow " << flow << " m3/s");
            CHECK(rise.pressure_pa < before);
            CHECK(rise.slope_pa_s_m3 <= 0.0);
            before = rise.pressure_pa;
        }
    }
}

TEST_CASE("A pump curve never leaves the heads of the two points it runs between") {
    std::vector<PumpCurve> curves = falling_curves();
    curves.push_back(drooping_curve());
    curves.push_back(make_pump_curve({{0.0, 40e3}, {0.6 * m3_h, 40.5e3}, {1.2 * m3_h, 20e3}}));
    for (const PumpCurve &curve : curves)
        for (std::size_t i = 1; i < curve.points.size(); ++i) {
            const CurvePoint &a = curve.points[i - 1];
            const CurvePoint &b = curve.points[i];
            for (const double flow : spread(a.flow_m3_s, b.flow_m3_s, 201)) {
                const double head = pump_pressure(curve, flow, 1.0).pressure_pa;
                INFO("flow " << flow << " m3/s");
                CHECK(head <= std::max(a.pressure_pa, b.pressure_pa) * (1.0 + 1e-14));
                CHECK(head >= std::min(a.pressure_pa, b.pressure_pa) * (1.0 - 1e-14));
            }
        }
}

TEST_CASE("Two points make a straight pump curve") {
    const PumpCurve curve = make_pump_curve({{0.0, 40e3}, {2.0 * m3_h, 10e3}});
    CHECK_THAT(pump_pressure(curve, 0.5 * m3_h, 1.0).pressure_pa, WithinRel(32.5e3, 1e-13));
    CHECK_THAT(pump_pressure(curve, 1.5 * m3_h, 1.0).pressure_pa, WithinRel(17.5e3, 1e-13));
}

TEST_CASE("The slope of a pump curve is its derivative before, between and beyond its points") {
    for (const PumpCurve &curve : falling_curves())
        for (const double speed : {1.0, 0.55}) {
            const double last = curve.points.back().flow_m3_s;
            std::vector<double> flows;
            for (const double share : {-0.3, -0.01, 0.04, 0.3, 0.55, 0.75, 0.97, 1.02, 1.5, 4.0})
                flows.push_back(speed * share * last);
            INFO("speed " << speed);
            check_slopes(as_law(curve, speed), flows, 1e-3 * last);
        }
}

TEST_CASE("Value and slope of a pump curve agree on both sides of each of its points") {
    for (const PumpCurve &curve : falling_curves()) {
        const double steepest = curve.points.front().pressure_pa / curve.points.back().flow_m3_s;
        for (const CurvePoint &point : curve.points) {
            const double nudge = 1e-13 * curve.points.back().flow_m3_s;
            const PumpPressure before = pump_pressure(curve, point.flow_m3_s - nudge, 1.0);
            const PumpPressure at = pump_pressure(curve, point.flow_m3_s, 1.0);
            const PumpPressure after = pump_pressure(curve, point.flow_m3_s + nudge, 1.0);
            INFO("flow " << point.flow_m3_s << " m3/s");
            CHECK_THAT(before.pressure_pa, WithinRel(at.pressure_pa, 1e-9));
            CHECK_THAT(after.pressure_pa, WithinRel(at.pressure_pa, 1e-9));
            CHECK_THAT(before.slope_pa_s_m3, WithinAbs(at.slope_pa_s_m3, 1e-9 * steepest));
            CHECK_THAT(after.slope_pa_s_m3, WithinAbs(at.slope_pa_s_m3, 1e-9 * steepest));
        }
    }
}

TEST_CASE("A pump curve that begins above zero flow is flat from there back to zero") {
    const PumpCurve curve = falling_curves().back();
    for (const double share : {0.0, 0.5, 1.0}) {
        const PumpPressure rise = pump_pressure(curve, share * 0.4 * m3_h, 1.0);
        CHECK(rise.pressure_pa == 58e3);
        CHECK(rise.slope_pa_s_m3 == 0.0);
    }
}

TEST_CASE("At another speed flows scale with it and heads with its square") {
    for (const PumpCurve &curve : falling_curves())
        for (const double speed : {0.3, 0.8, 1.1})
            for (const double share : {-0.2, 0.0, 0.3, 0.8, 1.4}) {
                const double flow = share * curve.points.back().flow_m3_s;
                const PumpPressure full = pump_pressure(curve, flow, 1.0);
                const PumpPressure scaled = pump_pressure(curve, speed * flow, speed);
                INFO("speed " << speed << ", flow share " << share);
                CHECK_THAT(scaled.pressure_pa, WithinRel(speed * speed * full.pressure_pa, 1e-10));
                CHECK_THAT(scaled.slope_pa_s_m3, WithinRel(speed * full.slope_pa_s_m3, 1e-10));
            }
}

TEST_CASE("Shaft power scales with the cube of speed") {
    CHECK_THAT(affinity_power(60.0, 0.5), WithinRel(7.5, 1e-15));
    CHECK(affinity_power(60.0, 1.0) == 60.0);
}

TEST_CASE("The rising stretch of a drooping curve is kept as it is") {
    const PumpCurve curve = drooping_curve();
    CHECK_THAT(pump_pressure(curve, 0.0, 1.0).pressure_pa, WithinRel(40e3, 1e-14));
    double before = 0.0;
    for (const double flow : spread(0.0, 0.6 * m3_h, 101)) {
        const double head = pump_pressure(curve, flow, 1.0).pressure_pa;
        CHECK(head > before);
        before = head;
    }
}

TEST_CASE("A pump curve knows where its greatest head lies") {
    const PumpCurve drooping = drooping_curve();
    CHECK(drooping.peak_flow_m3_s == 0.6 * m3_h);
    CHECK(drooping.peak_pressure_pa == 44e3);
    for (const PumpCurve &falling : falling_curves()) {
        CHECK(falling.peak_flow_m3_s == 0.0);
        CHECK(falling.peak_pressure_pa == falling.points.front().pressure_pa);
    }
    const PumpCurve level = make_pump_curve({{0.0, 40e3}, {1.0 * m3_h, 40e3}, {2.0 * m3_h, 20e3}});
    CHECK(level.peak_flow_m3_s == 0.0); // at no flow already, so that nothing of it rises
}

TEST_CASE("A running pump with a drooping curve holds its peak back to zero flow") {
    const PumpCurve curve = drooping_curve();
    for (const double speed : {1.0, 0.6})
        for (const double share : {0.0, 0.4, 0.999}) {
            const Loss loss =
                running_pump_loss(curve, speed, no_limit, 1000.0, share * speed * 600.0 / 3600.0);
            INFO("speed " << speed << ", share of the peak flow " << share);
            CHECK_THAT(loss.pressure_pa, WithinRel(-speed * speed * 44e3, 1e-13));
            CHECK(loss.slope_pa_s_per_kg == 0.0);
        }
}

TEST_CASE("A running pump's law never falls, whatever its curve") {
    std::vector<PumpCurve> curves = falling_curves();
    curves.push_back(drooping_curve());
    curves.push_back(one_point_curve());
    for (const PumpCurve &curve : curves)
        for (const double limit : {no_limit, 30e3}) {
            const auto law = running(curve, 0.9, limit, 985.0);
            double before = -1e12;
            for (const double flow : spread(-0.4, 1.2, 3201)) {
                const Loss loss = law(flow);
                INFO("flow " << flow << " kg/s, limit " << limit);
                CHECK(loss.pressure_pa >= before);
                CHECK(loss.slope_pa_s_per_kg >= 0.0);
                before = loss.pressure_pa;
            }
        }
}

TEST_CASE("A running pump's slope is the derivative of its law") {
    std::vector<PumpCurve> curves = falling_curves();
    curves.push_back(drooping_curve());
    for (const PumpCurve &curve : curves) {
        const double last = 985.0 * curve.points.back().flow_m3_s;
        std::vector<double> flows;
        for (const double share : {-0.3, -0.01, 0.03, 0.3, 0.55, 0.75, 0.97, 1.1, 2.0})
            flows.push_back(share * last);
        check_slopes(running(curve, 1.0, no_limit, 985.0), flows, 1e-3 * last);
        check_slopes(running(curve, 0.7, no_limit, 985.0), flows, 1e-3 * last);
    }
}

TEST_CASE("A pump's law passes the peak of a drooping curve without a kink") {
    const PumpCurve curve = drooping_curve();
    const double peak = 985.0 * curve.peak_flow_m3_s;
    const auto law = running(curve, 1.0, no_limit, 985.0);
    CHECK_THAT(law(peak * (1.0 + 1e-9)).pressure_pa, WithinRel(law(peak).pressure_pa, 1e-12));
    CHECK_THAT(law(peak * (1.0 + 1e-9)).slope_pa_s_per_kg, WithinAbs(0.0, 1e-2));
}

TEST_CASE("A pump curve that still rises at its last point does not rise beyond it") {
    const PumpCurve curve = make_pump_curve({{0.0, 40e3}, {1.0 * m3_h, 42e3}, {2.0 * m3_h, 43e3}});
    for (const double flow : {2.0, 2.1, 3.0, 10.0})
        CHECK(pump_pressure(curve, flow * m3_h, 1.0).pressure_pa <= 43e3);
    CHECK(running_pump_loss(curve, 1.0, no_limit, 1000.0, 1.0).slope_pa_s_per_kg >= 0.0);
}

TEST_CASE("A limited pump gives the lesser of its limit and its curve") {
    const PumpCurve curve = smooth_curve();
    const Loss limited = running_pump_loss(curve, 1.0, 30e3, 1000.0, 0.2);
    CHECK(limited.pressure_pa == -30e3);
    CHECK(limited.slope_pa_s_per_kg == 0.0);
    CHECK(running_pump_loss(curve, 1.0, 30e3, 1000.0, 0.8).pressure_pa ==
          running_pump_loss(curve, 1.0, no_limit, 1000.0, 0.8).pressure_pa);
}

TEST_CASE("A pump gives the same metres of head whatever the density") {
    const PumpCurve curve = smooth_curve();
    const double volume_flow = 1.5 * m3_h;
    for (const double density : {960.0, 1000.0, 1040.0}) {
        const Loss loss = running_pump_loss(curve, 0.9, no_limit, density, density * volume_flow);
        CHECK_THAT(-loss.pressure_pa / (density * gravity_m_per_s2),
                   WithinRel(pump_pressure(curve, volume_flow, 0.9).pressure_pa / pa_per_metre_head,
                             1e-13));
    }
}

TEST_CASE("A running pump pushed backwards gives no less than at zero flow") {
    std::vector<PumpCurve> curves = falling_curves();
    curves.push_back(drooping_curve());
    for (const PumpCurve &curve : curves)
        for (const double flow : {-1e-6, -0.01, -0.3})
            CHECK(running_pump_loss(curve, 1.0, no_limit, 1000.0, flow).pressure_pa <=
                  running_pump_loss(curve, 1.0, no_limit, 1000.0, 0.0).pressure_pa);
}

TEST_CASE("A pump of one point holds its head up to its flow and has none a twentieth beyond") {
    const PumpCurve curve = one_point_curve();
    for (const double share : {0.0, 0.5, 1.0})
        CHECK(pump_pressure(curve, share * 1.2 * m3_h, 1.0).pressure_pa == 25e3);
    const double beyond = pump_pressure(curve, 1.02 * 1.2 * m3_h, 1.0).pressure_pa;
    CHECK(beyond < 25e3);
    CHECK(beyond > 0.0);
    CHECK(pump_pressure(curve, 1.05 * 1.2 * m3_h, 1.0).pressure_pa < 0.0);
    check_slopes(as_law(curve, 1.0), {0.3 * m3_h, 1.1 * m3_h, 1.21 * m3_h, 1.5 * m3_h},
                 1e-3 * m3_h);
}

TEST_CASE("A stopped pump resists as its curve does when speed goes to zero") {
    // p(V, n) = n^2 p(V/n, 1) tends to -K V^2; at n = 1e-6 the terms in n left over are below 1e-4.
    for (const PumpCurve &curve : falling_curves()) {
        const double flow = 0.3;
        const double resistance = stopped_pump_resistance(curve, 980.0);
        CHECK(resistance > 0.0);
        const double turning = running_pump_loss(curve, 1e-6, no_limit, 980.0, flow).pressure_pa;
        CHECK_THAT(resistance * flow * flow, WithinRel(turning, 1e-4));
    }
}

TEST_CASE("A stopped pump of one point loses its stated head at its stated flow") {
    const double flow = 1000.0 * 1.2 * m3_h;
    CHECK_THAT(stopped_pump_resistance(one_point_curve(), 1000.0) * flow * flow,
               WithinRel(25e3, 1e-13));
}

TEST_CASE("Beyond its peak a running pump with a drooping curve follows that curve down") {
    const PumpCurve curve =
        make_pump_curve({{0.0, 40e3}, {1.0 * m3_h, 45e3}, {2.0 * m3_h, 30e3}, {3.0 * m3_h, 5e3}});
    REQUIRE(curve.peak_flow_m3_s > 0.0);
    // At the maker's own points, at 1000 kg/m3 and its own speed.
    for (const auto &[flow_m3_h, pressure_pa] : {std::pair(2.0, 30e3), {3.0, 5e3}})
        CHECK_THAT(
            running_pump_loss(curve, 1.0, no_limit, 1000.0, flow_m3_h * m3_h * 1000.0).pressure_pa,
            WithinRel(-pressure_pa, 1e-9));
}
