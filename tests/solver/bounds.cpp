// Limiters, one-way parts and shut valves at exact complementarity.
#include "solver/solve.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::tests;

namespace {

constexpr networks::PressureRise rise{20e3};

solver::Solution solved(const SmallNetwork &n) {
    solver::Solution s = solver::solve(n.network);
    REQUIRE(s.outcome.converged());
    REQUIRE(check_network(n.network, s).passes());
    return s;
}

} // namespace

TEST_CASE("A limiter takes what its circuit has left") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, rise);
    const auto valve = n.link(b, c, networks::FlowFactor{1.0});
    const auto limiter = n.link(c, a, networks::FlowLimiter{2.0, 0.05});
    const solver::Solution s = solved(n);
    CHECK(s.flow_kg_s[limiter] == 0.05);
    CHECK_THAT(s.loss_pa[limiter], Catch::WithinAbs(20e3 - s.loss_pa[valve], 1e-6));
    CHECK(s.open_loss_pa[limiter] < s.loss_pa[limiter]);
}

TEST_CASE("A limiter that its circuit cannot fill is an open valve") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node();
    n.link(a, b, rise);
    const auto limiter = n.link(b, a, networks::FlowLimiter{0.1, 5.0});
    const solver::Solution s = solved(n);
    CHECK(s.flow_kg_s[limiter] < 5.0);
    CHECK(s.loss_pa[limiter] == s.open_loss_pa[limiter]);
}

TEST_CASE("A check valve that pressure shuts passes exactly nothing") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node();
    n.link(a, b, rise);
    const auto load = n.link(b, a, networks::FlowFactor{1.0});
    const auto check = n.link(a, b, networks::OneWay{1.0, 0.0});
    const solver::Solution s = solved(n);
    CHECK(s.flow_kg_s[check] == 0.0);
    CHECK(s.flow_kg_s[load] > 0.0);
}

TEST_CASE("A bypass valve opens at its pressure and not before") {
    for (const double opens_pa : {19.9e3, 20.1e3}) {
        SmallNetwork n;
        const auto a = n.node(), b = n.node();
        n.link(a, b, rise);
        n.link(b, a, networks::FlowFactor{1.0});
        const auto bypass = n.link(b, a, networks::OneWay{1.0, opens_pa});
        const solver::Solution s = solved(n);
        INFO("opens at " << opens_pa);
        CHECK((s.flow_kg_s[bypass] > 0.0) == (opens_pa < 20e3));
    }
}

TEST_CASE("Of two limiters one after the other the tighter one binds") {
    SmallNetwork n; // a side way between them keeps them apart as branches
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, rise);
    const auto wide = n.link(b, c, networks::FlowLimiter{1.0, 0.0501});
    const auto tight = n.link(c, a, networks::FlowLimiter{1.0, 0.05});
    const auto side = n.link(a, c, networks::OneWay{1.0, 0.0});
    const solver::Solution s = solved(n);
    CHECK(s.flow_kg_s[tight] == 0.05);
    CHECK(s.flow_kg_s[wide] + s.flow_kg_s[side] == Approx(0.05).epsilon(1e-12));
}

TEST_CASE("A part between shut valves has no known pressure") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node(), d = n.node();
    n.link(a, b, rise);
    n.link(b, a, networks::FlowFactor{1.0});
    n.link(b, c, networks::Shut{});
    n.link(c, d, networks::FlowFactor{1.0});
    n.link(d, a, networks::Shut{});
    n.network.fill = networks::NodePressure{a, 1e5};
    const solver::Solution s = solved(n);
    CHECK(s.pressure_known[b]);
    CHECK_FALSE(s.pressure_known[c]);
    CHECK_FALSE(s.pressure_known[d]);
}
