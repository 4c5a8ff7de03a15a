// Working points of pumps by hand. Flows in m3/h, 1000 kg/m3, so that a valve takes (V/Kv)^2 bar.
#include "solver/solve.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;
using networks::RunningPump;

namespace {

constexpr double m3_h = 1.0 / 3600.0;

// A straight curve: 40 kPa less 10 kPa for each m3/h.
models::PumpCurve straight() {
    return models::make_pump_curve({{0.0, 40e3}, {3.0 * m3_h, 10e3}});
}

// One that rises to 24 kPa at 0.6 m3/h before it falls.
models::PumpCurve drooping() {
    return models::make_pump_curve({{0.0, 21e3},
                                    {0.3 * m3_h, 23e3},
                                    {0.6 * m3_h, 24e3},
                                    {1.2 * m3_h, 18e3},
                                    {1.6 * m3_h, 8e3}});
}

RunningPump proportional(double set_pa) {
    RunningPump pump{straight()};
    pump.control = networks::PumpControl::Proportional;
    pump.proportional_pa = set_pa;
    return pump;
}

struct Circuit {
    SmallNetwork n;
    networks::LinkId pump, load;
    solver::Solution solution;

    Circuit(networks::Component component, double kv_m3_h, double density_kg_m3 = 1000.0) {
        n.network.fluid.kind = models::FluidKind::Stated;
        n.network.fluid.stated_density_kg_m3 = density_kg_m3;
        const auto suction = n.node(), pressed = n.node();
        pump = n.link(suction, pressed, std::move(component));
        load = n.link(pressed, suction, networks::FlowFactor{kv_m3_h});
    }

    Circuit &solve() {
        solution = solver::solve(n.network);
        REQUIRE(solution.outcome.converged());
        const NetworkCheck check = check_network(as_solved(n.network, solution), solution);
        INFO(check.where);
        REQUIRE(check.passes());
        return *this;
    }

    double volume_m3_h(networks::LinkId e) const {
        return solution.flow_kg_s[e] / n.network.fluid.stated_density_kg_m3 / m3_h;
    }
    double volume_m3_h() const { return volume_m3_h(pump); }
    double head_pa() const { return -solution.loss_pa[pump]; }
};

// A valve's law leaves the square by up to 0.005 Pa, and curves are no steeper than 30 Pa for
// each l/h here: heads to 0.01 Pa and flows to 1e-6 of themselves.
constexpr double head_margin_pa = 0.01;
constexpr double flow_share = 1e-6;

double kv_through(double flow_m3_h, double head_pa) {
    return flow_m3_h / std::sqrt(head_pa / 1e5);
}

} // namespace

TEST_CASE("A fixed speed works where the straight curve meets the valve") {
    const Circuit c = Circuit(RunningPump{straight()}, kv_through(1.0, 30e3)).solve();
    CHECK(c.volume_m3_h() == Approx(1.0).epsilon(flow_share));
    CHECK(c.head_pa() == Approx(30e3).margin(head_margin_pa));
}

TEST_CASE("Half speed gives half the flow and a quarter of the head in the same circuit") {
    const Circuit c = Circuit(RunningPump{straight(), 0.5}, kv_through(1.0, 30e3)).solve();
    CHECK(c.volume_m3_h() == Approx(0.5).epsilon(flow_share));
    CHECK(c.head_pa() == Approx(7.5e3).margin(head_margin_pa));
}

TEST_CASE("A lighter liquid flows as fast in volume at the same metres of head") {
    const Circuit c = Circuit(RunningPump{straight()}, kv_through(1.0, 30e3), 900.0).solve();
    CHECK(c.solution.flow_kg_s[c.pump] == Approx(0.25).epsilon(flow_share)); // 900/3600
    CHECK(c.head_pa() == Approx(27e3).margin(head_margin_pa));
}

TEST_CASE("Constant pressure holds its setting below the curve and gives the curve beyond") {
    RunningPump pump{straight()};
    pump.limit_pa = pump.setting_pa = 20e3;
    const Circuit held = Circuit(pump, 1.0).solve(); // sqrt(0.2) m3/h, where the curve has 35.5 kPa
    CHECK(held.head_pa() == Approx(20e3).margin(1e-6)); // the tolerance of every law
    CHECK(held.volume_m3_h() == Approx(0.4472136).epsilon(flow_share));
    const Circuit beyond = Circuit(pump, kv_through(2.5, 15e3)).solve();
    CHECK(beyond.head_pa() == Approx(15e3).margin(head_margin_pa));
    CHECK(beyond.volume_m3_h() == Approx(2.5).epsilon(flow_share));
}

TEST_CASE("Constant flow that is reached throttles the curve down to what the circuit takes") {
    RunningPump pump{straight()};
    pump.most_kg_s = 0.2; // 0.72 m3/h, where the curve has 32.8 kPa
    const Circuit c = Circuit(pump, 2.0).solve();
    CHECK(c.solution.flow_kg_s[c.pump] == 0.2);
    CHECK(c.head_pa() == Approx(12960.0).margin(head_margin_pa)); // (0.72/2)^2 bar
    CHECK(-c.solution.open_loss_pa[c.pump] == Approx(32.8e3).margin(1e-6));
}

TEST_CASE("Constant flow that is not reached leaves the curve as it is") {
    RunningPump pump{straight()};
    pump.most_kg_s = 0.3; // 1.08 m3/h; the circuit takes 1 m3/h at most
    const Circuit c = Circuit(pump, kv_through(1.0, 30e3)).solve();
    CHECK(c.volume_m3_h() == Approx(1.0).epsilon(flow_share));
    CHECK(c.head_pa() == Approx(30e3).margin(head_margin_pa));
}

TEST_CASE(
    "Proportional pressure stands on the line from half the setting to its end at the curve") {
    // Set 20 kPa, which the curve has at 2 m3/h: the line is 10 kPa and 5 kPa for each m3/h.
    for (const double flow_m3_h : {0.05, 0.4, 1.0, 1.9}) {
        const double line_pa = 10e3 + 5e3 * flow_m3_h;
        const Circuit c = Circuit(proportional(20e3), kv_through(flow_m3_h, line_pa)).solve();
        INFO(flow_m3_h << " m3/h");
        CHECK(c.volume_m3_h() == Approx(flow_m3_h).epsilon(flow_share));
        CHECK(c.head_pa() == Approx(line_pa).margin(head_margin_pa));
        CHECK(c.solution.remarks.empty());
    }
}

TEST_CASE("Proportional pressure beyond its line's end follows the curve") {
    const Circuit c = Circuit(proportional(20e3), kv_through(2.5, 15e3)).solve();
    CHECK(c.volume_m3_h() == Approx(2.5).epsilon(flow_share));
    CHECK(c.head_pa() == Approx(15e3).margin(head_margin_pa));
}

TEST_CASE("A bypass valve that proportional pressure can open or leave shut is remarked") {
    // With the bypass shut Kv 1 works at  u^2 bar = 10 kPa + 5 kPa u :  u = 0.342214 m3/h and
    // 11711.07 Pa. Once it is open, at 14 kPa, Kv 7 in it draws the pump up its line to near 19
    // kPa.
    Circuit c(proportional(20e3), 1.0);
    const auto bypass = c.n.link(1, 0, networks::OneWay{7.0, 14e3});
    c.solve();
    CHECK(c.solution.flow_kg_s[bypass] == 0.0);
    CHECK(c.volume_m3_h() == Approx(0.342214).margin(1e-6));
    CHECK(c.head_pa() == Approx(11711.07).margin(head_margin_pa));
    REQUIRE(c.solution.remarks.size() == 1);
    CHECK_THAT(c.solution.remarks[0], Catch::Matchers::Contains("possible working points"));
}

TEST_CASE("Working points that lie close together are not overlooked") {
    // The same, but the bypass opens at 12 kPa: the line meets the circuit at 11711.07 Pa, near
    // 12.05 kPa and, with Kv 4 in the bypass, at 16 kPa: 0.4 + 4 sqrt(0.04) = 1.2 m3/h.
    Circuit c(proportional(20e3), 1.0);
    const auto bypass = c.n.link(1, 0, networks::OneWay{4.0, 12e3});
    c.solve();
    CHECK(c.solution.flow_kg_s[bypass] == 0.0);
    CHECK(c.head_pa() == Approx(11711.07).margin(head_margin_pa));
    CHECK(c.solution.remarks.size() == 1);
}

TEST_CASE("A bypass valve that is open at the only working point is no remark") {
    // Opens at 5 kPa with Kv 1 beside Kv 1. At 12.9 kPa: 0.359166 + 0.281069 = 0.640235 m3/h, and
    // the line there 13201 Pa; the root by bisection of the line at  sqrt(p) + sqrt(p - 0.05 bar).
    Circuit c(proportional(20e3), 1.0);
    const auto bypass = c.n.link(1, 0, networks::OneWay{1.0, 5e3});
    c.solve();
    double low = 0.05, high = 0.2; // bar
    for (int i = 0; i < 60; ++i) {
        const double p = 0.5 * (low + high);
        (0.1 + 0.05 * (std::sqrt(p) + std::sqrt(p - 0.05)) > p ? low : high) = p;
    }
    CHECK(c.head_pa() == Approx(1e5 * low).margin(head_margin_pa));
    CHECK(c.solution.flow_kg_s[bypass] > 0.0);
    CHECK(c.solution.remarks.empty());
}

TEST_CASE("A drooping curve is met at its own points, before its peak and after") {
    const Circuit before = Circuit(RunningPump{drooping()}, kv_through(0.3, 23e3)).solve();
    CHECK(before.volume_m3_h() == Approx(0.3).epsilon(flow_share));
    CHECK(before.head_pa() == Approx(23e3).margin(head_margin_pa));
    const Circuit after = Circuit(RunningPump{drooping()}, kv_through(1.2, 18e3)).solve();
    CHECK(after.volume_m3_h() == Approx(1.2).epsilon(flow_share));
    CHECK(after.head_pa() == Approx(18e3).margin(head_margin_pa));
    CHECK(after.solution.remarks.empty());
}

TEST_CASE(
    "Constant pressure holds its setting on a drooping curve too, where the curve reaches it") {
    RunningPump pump{drooping()};
    pump.limit_pa = pump.setting_pa = 12e3;
    const Circuit held = Circuit(pump, kv_through(0.5, 12e3)).solve(); // the curve has 23.8 kPa
    CHECK(held.head_pa() == Approx(12e3).margin(head_margin_pa));
    CHECK(held.volume_m3_h() == Approx(0.5).epsilon(flow_share));
    const Circuit beyond = Circuit(pump, kv_through(1.6, 8e3)).solve();
    CHECK(beyond.head_pa() == Approx(8e3).margin(head_margin_pa));
    CHECK(beyond.volume_m3_h() == Approx(1.6).epsilon(flow_share));
}

TEST_CASE("A stopped pump resists with its curve's own fall, either way round") {
    // The straight curve falls by 30 kPa to 3 m3/h: that is what 3 m3/h lose in it at a standstill.
    for (const double rise_pa : {30e3, -30e3}) {
        SmallNetwork n;
        n.network.fluid.kind = models::FluidKind::Stated;
        const auto a = n.node(), b = n.node();
        const auto stopped = n.link(a, b, networks::StoppedPump{straight()});
        n.link(b, a, networks::PressureRise{rise_pa});
        const solver::Solution s = solver::solve(n.network);
        REQUIRE(s.outcome.converged());
        CHECK(s.flow_kg_s[stopped] ==
              Approx(std::copysign(3000.0 / 3600.0, rise_pa)).epsilon(flow_share));
    }
}

TEST_CASE("Two pumps in a row add their heads and two side by side their flows") {
    SmallNetwork row;
    row.network.fluid.kind = models::FluidKind::Stated;
    const auto a = row.node(), b = row.node(), c = row.node();
    row.link(a, b, RunningPump{straight()});
    row.link(b, c, RunningPump{straight()});
    const auto load = row.link(c, a, networks::FlowFactor{kv_through(1.0, 60e3)});
    const solver::Solution in_row = solver::solve(row.network);
    REQUIRE(in_row.outcome.converged());
    CHECK(in_row.flow_kg_s[load] * 3.6 == Approx(1.0).epsilon(flow_share));

    Circuit side(RunningPump{straight()}, kv_through(2.0, 30e3));
    const auto other = side.n.link(0, 1, RunningPump{straight()});
    side.solve();
    CHECK(side.volume_m3_h() == Approx(1.0).epsilon(flow_share));
    CHECK(side.volume_m3_h(other) == Approx(1.0).epsilon(flow_share));
}

TEST_CASE("Two pumps with proportional pressure agree on both their lines") {
    // Each line is 10 kPa and 5 kPa for each m3/h. In a row on one load both stand at 15 kPa.
    Circuit row(proportional(20e3), kv_through(1.0, 30e3));
    const auto between = row.n.node();
    row.n.network.links[row.pump].to = between;
    const auto second = row.n.link(between, 1, proportional(20e3));
    row.solve();
    CHECK(row.volume_m3_h() == Approx(1.0).epsilon(flow_share));
    CHECK(row.head_pa() == Approx(15e3).margin(head_margin_pa));
    CHECK(-row.solution.loss_pa[second] == Approx(15e3).margin(head_margin_pa));

    // Side by side behind a common pipe of Kv 8, which takes 4 kPa of their 1.6 m3/h: 1.0 m3/h at
    // 15 kPa leave 11 kPa to one load, 0.6 m3/h at 13 kPa leave 9 kPa to the other.
    SmallNetwork n;
    n.network.fluid.kind = models::FluidKind::Stated;
    const auto home = n.node(), suction = n.node(), a = n.node(), b = n.node();
    n.link(home, suction, networks::FlowFactor{8.0});
    const auto first = n.link(suction, a, proportional(20e3));
    n.link(a, home, networks::FlowFactor{kv_through(1.0, 11e3)});
    const auto other = n.link(suction, b, proportional(20e3));
    n.link(b, home, networks::FlowFactor{kv_through(0.6, 9e3)});
    const solver::Solution s = solver::solve(n.network);
    INFO(s.outcome.explanation);
    REQUIRE(s.outcome.converged());
    CHECK(s.flow_kg_s[first] * 3.6 == Approx(1.0).epsilon(flow_share));
    CHECK(s.flow_kg_s[other] * 3.6 == Approx(0.6).epsilon(flow_share));
}
