// Gauge pressures by hand: from the fill or the held ends, the height, and what parts take.
#include "solver/flow/pressures.hpp"

#include "solver/flow/branches.hpp"
#include "solver/solve.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;

namespace {

constexpr networks::FlowFactor valve{1.0};

// 1000 kg/m3 under standard gravity.
constexpr double pa_per_m = 9806.65;

// Flows carry 1e-10 of themselves as error and laws are met to 1e-6 Pa; what several of them add
// up to stays within this.
constexpr double exact_pa = 1e-5;

SmallNetwork stated() {
    SmallNetwork n;
    n.network.fluid.kind = models::FluidKind::Stated; // 1000 kg/m3
    return n;
}

solver::Solution solved(const SmallNetwork &n) {
    solver::Solution s = solver::solve(n.network);
    REQUIRE(s.outcome.converged());
    REQUIRE(check_network(n.network, s).passes());
    return s;
}

// A pump of 10 kPa and two equal valves in a ring, with heights of 0, 2 and 5 m.
struct Ring {
    SmallNetwork n = stated();
    networks::NodeId suction = n.node(0.0), pressed = n.node(2.0), top = n.node(5.0);
    networks::LinkId pump = n.link(suction, pressed, networks::PressureRise{10e3});
    networks::LinkId up = n.link(pressed, top, valve), down = n.link(top, suction, valve);
};

} // namespace

TEST_CASE("Still water has the fill's pressure less its weight") {
    SmallNetwork n = stated();
    const auto vessel = n.node(1.0), top = n.node(7.0), cellar = n.node(-2.0);
    n.link(vessel, top, valve);
    n.link(top, cellar, valve);
    n.link(cellar, vessel, valve);
    n.network.fill = networks::NodePressure{vessel, 1.5e5};
    const solver::Solution s = solved(n);
    CHECK(s.absolute);
    CHECK(s.pressure_pa[vessel] == Approx(150000.0).margin(exact_pa));
    CHECK(s.pressure_pa[top] == Approx(91160.1).margin(exact_pa));      // 6 m up
    CHECK(s.pressure_pa[cellar] == Approx(179419.95).margin(exact_pa)); // 3 m down
}

TEST_CASE("A pump adds its rise behind itself where the vessel joins its suction side") {
    Ring ring;
    ring.n.network.fill = networks::NodePressure{ring.suction, 1e5};
    const solver::Solution s = solved(ring.n);
    CHECK(s.pressure_pa[ring.suction] == Approx(100e3).margin(exact_pa));
    CHECK(s.pressure_pa[ring.pressed] == Approx(110e3 - 2.0 * pa_per_m).margin(exact_pa));
    CHECK(s.pressure_pa[ring.top] == Approx(105e3 - 5.0 * pa_per_m).margin(exact_pa));
    CHECK(s.loss_pa[ring.up] == Approx(5e3).margin(exact_pa));
    CHECK(s.loss_pa[ring.down] == Approx(5e3).margin(exact_pa));
}

TEST_CASE("A pump lowers its suction side where the vessel joins behind it") {
    Ring ring;
    ring.n.network.fill = networks::NodePressure{ring.pressed, 1e5};
    const solver::Solution s = solved(ring.n);
    CHECK(s.pressure_pa[ring.pressed] == Approx(100e3).margin(exact_pa));
    CHECK(s.pressure_pa[ring.suction] == Approx(90e3 + 2.0 * pa_per_m).margin(exact_pa));
    CHECK(s.pressure_pa[ring.top] == Approx(95e3 - 3.0 * pa_per_m).margin(exact_pa));
}

TEST_CASE("The vessel takes no part in the flow, wherever it joins") {
    Ring ring;
    ring.n.network.fill = networks::NodePressure{ring.suction, 1e5};
    const solver::Solution there = solved(ring.n);
    ring.n.network.fill = networks::NodePressure{ring.top, 3e5};
    const solver::Solution here = solved(ring.n);
    CHECK(here.flow_kg_s == there.flow_kg_s);
    // 5 kPa across Kv 1: 0.2236 m3/h. The law is linear below 0.01 Pa, which is 1e-6 of the flow.
    CHECK(here.flow_kg_s[ring.up] == Approx(std::sqrt(0.05) / 3.6).epsilon(2e-6));
}

TEST_CASE("Without a fill pressures are relative and say so") {
    const Ring ring;
    const solver::Solution s = solved(ring.n);
    CHECK_FALSE(s.absolute);
    CHECK(s.pressure_pa[ring.pressed] - s.pressure_pa[ring.suction] ==
          Approx(10e3 - 2.0 * pa_per_m).margin(exact_pa));
}

TEST_CASE("With buoyancy a column weighs what its own water weighs") {
    // 980 kg/m3 while pressures are measured from a column of 1000.
    SmallNetwork n = stated();
    n.network.fluid.stated_density_kg_m3 = 980.0;
    n.network.buoyancy = true;
    const auto vessel = n.node(), top = n.node(10.0), again = n.node(10.0);
    const auto riser = n.link(vessel, top, valve);
    n.link(top, again, valve);
    n.network.fill = networks::NodePressure{vessel, 2e5};
    const solver::Solution s = solved(n);
    const double column_pa = 980.0 * 9.80665 * 10.0;
    CHECK(s.pressure_pa[top] == Approx(2e5 - column_pa).margin(exact_pa));
    CHECK(s.pressure_pa[again] == Approx(2e5 - column_pa).margin(exact_pa));
    CHECK(s.loss_pa[riser] == 0.0); // weight is no loss
}

TEST_CASE("A part with one end open has a known pressure, one behind two shut valves has none") {
    Ring ring;
    SmallNetwork &n = ring.n;
    n.network.fill = networks::NodePressure{ring.suction, 1e5};
    const auto idle = n.node(2.0), cut = n.node(2.0), beyond = n.node(2.0);
    n.link(ring.pressed, idle, valve);
    n.link(idle, cut, networks::Shut{});
    n.link(cut, beyond, valve);
    n.link(beyond, ring.suction, networks::Shut{});
    const solver::Solution s = solved(n);
    CHECK(s.pressure_known[idle]);
    CHECK(s.pressure_pa[idle] == Approx(110e3 - 2.0 * pa_per_m).margin(exact_pa));
    CHECK_FALSE(s.pressure_known[cut]);
    CHECK_FALSE(s.pressure_known[beyond]);
}

TEST_CASE("A shut valve takes what stands across it") {
    Ring ring;
    const auto shut = ring.n.link(ring.pressed, ring.suction, networks::Shut{});
    const solver::Solution s = solved(ring.n);
    CHECK(s.flow_kg_s[shut] == 0.0);
    CHECK(s.open_loss_pa[shut] == 0.0);
    CHECK(s.loss_pa[shut] == Approx(10e3).margin(exact_pa));
}

TEST_CASE("A circuit that only check valves join keeps a level of its own") {
    // Both check valves lead out of the idle pair and only pressure could say which opens: neither.
    Ring ring;
    SmallNetwork &n = ring.n;
    n.network.fill = networks::NodePressure{ring.suction, 1e5};
    const auto a = n.node(), b = n.node();
    n.link(a, b, valve);
    n.link(a, ring.pressed, networks::OneWay{1.0, 0.0});
    n.link(b, ring.suction, networks::OneWay{1.0, 0.0});
    const solver::Solution s = solved(n);
    CHECK(s.flow_kg_s[ring.up] == Approx(std::sqrt(0.05) / 3.6).epsilon(2e-6));
    CHECK_FALSE(s.pressure_known[a]);
    CHECK_FALSE(s.pressure_known[b]);
}

TEST_CASE("Between two held ends the height that separates them counts against the pressure") {
    SmallNetwork n = stated();
    const auto main = n.node(), middle = n.node(2.0), tank = n.node(5.0);
    const auto first = n.link(main, middle, valve), second = n.link(middle, tank, valve);
    n.network.held = {{main, 2e5}, {tank, 1e5}};
    const solver::Solution s = solved(n);
    const double driving = 1e5 - 5.0 * pa_per_m; // 50966.75 Pa, half of it for each valve
    CHECK(s.absolute);
    CHECK(s.loss_pa[first] == Approx(25483.375).margin(exact_pa));
    CHECK(s.loss_pa[second] == Approx(25483.375).margin(exact_pa));
    CHECK(s.pressure_pa[main] == 2e5);
    CHECK(s.pressure_pa[middle] == Approx(154903.325).margin(exact_pa));
    CHECK(s.pressure_pa[tank] == Approx(1e5).margin(exact_pa));
    // Kv: V = Kv sqrt(dp/1 bar); the law is linear below 0.01 Pa, 1e-7 of the flow here.
    CHECK(s.flow_kg_s[first] == Approx(std::sqrt(0.5 * driving / 1e5) / 3.6).epsilon(2e-7));
}

TEST_CASE("Three held pressures meet where what comes in leaves again") {
    // 3 bar on one side, 1 bar on two, equal valves: sqrt(3 - x) = 2 sqrt(x - 1), so x = 1.4 bar.
    SmallNetwork n = stated();
    const auto high = n.node(), low = n.node(), other = n.node(), joint = n.node();
    const auto in = n.link(high, joint, valve);
    const auto out = n.link(joint, low, valve);
    const auto back = n.link(other, joint, valve); // drawn against its flow
    n.network.held = {{low, 1e5}, {high, 3e5}, {other, 1e5}};
    const solver::Solution s = solved(n);
    // Each law is off the square by 0.005 Pa at most.
    CHECK(s.pressure_pa[joint] == Approx(1.4e5).margin(0.005));
    CHECK(s.flow_kg_s[in] == Approx(2.0 * s.flow_kg_s[out]).epsilon(1e-9));
    CHECK(s.flow_kg_s[back] == Approx(-s.flow_kg_s[out]).epsilon(1e-9));
}

TEST_CASE("An open vessel's surface is at no gauge pressure and its foot bears the column") {
    SmallNetwork n = stated();
    const auto surface = n.node(8.0), foot = n.node(0.0), tap = n.node(0.0);
    n.link(surface, foot, valve);
    n.link(foot, tap, valve);
    n.network.held = {{surface, 0.0}};
    n.network.fixed = {{tap, -0.1, 0}};
    const solver::Solution s = solved(n);
    // 0.36 m3/h through Kv 1 takes 0.1296 bar.
    CHECK(s.pressure_pa[foot] == Approx(78453.2 - 12960.0).margin(0.006));
    CHECK(s.pressure_pa[tap] == Approx(78453.2 - 25920.0).margin(0.012));
}

TEST_CASE("A law that gives no number is never passed over, wherever it stands among the links") {
    for (const bool last : {true, false}) {
        Ring ring;
        const auto faulty = ring.n.node(), sound = ring.n.node();
        const networks::LocalLoss no_number{std::nan(""), 0.02};
        if (!last)
            ring.n.link(ring.top, faulty, no_number);
        ring.n.link(ring.top, sound, valve);
        if (last)
            ring.n.link(ring.top, faulty, no_number);
        INFO((last ? "last" : "not last"));
        CHECK_FALSE(solver::solve(ring.n.network).outcome.converged());
    }
}

TEST_CASE("Flows that miss the pressure held at one end of a line of pipes fail the check") {
    SmallNetwork n;
    const auto high = n.node(), between = n.node(), low = n.node();
    n.link(high, between, plain_pipe());
    n.link(between, low, plain_pipe(20));
    n.network.held = {{high, 1e5}, {low, 0.0}};
    const solver::Solution right = solved(n);
    const auto branches = solver::contract(n.network);
    solver::FlowEquations equations(n.network, branches);
    equations.set_fluid(right.fluid);
    equations.solve();
    for (const double factor : {0.0, 0.5, 1.001, 3.0}) {
        solver::Solution wrong = right;
        for (double &flow : wrong.flow_kg_s)
            flow *= factor;
        solver::recover_pressures(n.network, nullptr, equations, wrong);
        CHECK(wrong.outcome.reason == solver::StopReason::CheckFailed);
        CHECK(wrong.outcome.worst_law_pa > 100.0);
    }
}
