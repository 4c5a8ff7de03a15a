#include "solver/flow/feasible.hpp"
#include "solver/solve.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::tests;
using Catch::Matchers::Contains;
using solver::find_contradiction;

namespace {

constexpr networks::FlowFactor valve{1.0};

// From one end to the other by way of the part in question and a valve.
SmallNetwork through(networks::Component part, double flow_kg_s) {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, std::move(part));
    n.link(b, c, valve);
    n.network.fixed = {{a, flow_kg_s, 0}, {c, -flow_kg_s, 1}};
    return n;
}

} // namespace

TEST_CASE("Fixed flows that a network passes contradict nothing") {
    CHECK_FALSE(find_contradiction(through(valve, 0.1).network, nullptr));
    CHECK_FALSE(find_contradiction(through(networks::OneWay{1.0, 100.0}, 0.1).network, nullptr));
    CHECK_FALSE(find_contradiction(through(networks::FlowLimiter{1.0, 0.1}, 0.1).network, nullptr));
    CHECK_FALSE(find_contradiction(through(networks::Shut{}, 0.0).network, nullptr));
}

TEST_CASE("A shut valve in the only way of a fixed flow is named") {
    const auto found = find_contradiction(through(networks::Shut{}, 0.1).network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L0`");
}

TEST_CASE("A check valve against a fixed flow is named") {
    const auto found =
        find_contradiction(through(networks::OneWay{1.0, 0.0}, -0.1).network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L0`");
}

TEST_CASE("A limiter below a fixed flow is named, with what can pass") {
    const auto found =
        find_contradiction(through(networks::FlowLimiter{1.0, 0.06}, 0.1).network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L0`");
    CHECK_THAT(found->explanation, Contains("0.1 kg/s") && Contains("0.06 kg/s"));
}

TEST_CASE("The whole cut is named where several parts limit together") {
    SmallNetwork n = through(networks::FlowLimiter{1.0, 0.06}, 0.1);
    n.link(0, 1, networks::FlowLimiter{1.0, 0.03});
    const auto found = find_contradiction(n.network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L0`, `L2`");
}

TEST_CASE("Fixed flows that do not add up to nothing need a held pressure") {
    SmallNetwork n = through(valve, 0.1);
    n.network.fixed.pop_back();
    const auto found = find_contradiction(n.network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance of the whole network");
    n.network.held = {{2, 1e5}};
    CHECK_FALSE(find_contradiction(n.network, nullptr));
}

TEST_CASE("A contradiction is a solve's outcome") {
    const solver::Solution solution = solver::solve(through(networks::Shut{}, 0.1).network);
    CHECK(solution.outcome.reason == solver::StopReason::Contradiction);
    CHECK(solution.outcome.worst_equation == "mass balance across `L0`");
}
