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

TEST_CASE("A second way takes what a limiter leaves") {
    SmallNetwork n = through(networks::FlowLimiter{1.0, 0.06}, 0.1);
    n.link(0, 1, networks::FlowLimiter{1.0, 0.04}); // together just enough
    CHECK_FALSE(find_contradiction(n.network, nullptr));
    n.network.links.back().component = networks::FlowLimiter{1.0, 0.0399};
    CHECK(find_contradiction(n.network, nullptr));
    n.link(0, 1, valve);
    CHECK_FALSE(find_contradiction(n.network, nullptr));
}

TEST_CASE("A limiter does not limit what comes back through it") {
    CHECK_FALSE(
        find_contradiction(through(networks::FlowLimiter{1.0, 0.06}, -0.1).network, nullptr));
}

TEST_CASE(
    "Of several fixed outflows the one behind a shut valve is named, with what the rest take") {
    SmallNetwork n;
    const auto in = n.node(), middle = n.node(), near = n.node(), far = n.node();
    n.link(in, middle, valve);
    n.link(middle, near, valve);
    n.link(middle, far, networks::Shut{});
    n.network.fixed = {{in, 0.3, 0}, {near, -0.1, 1}, {far, -0.2, 2}};
    const auto found = find_contradiction(n.network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L2`");
    CHECK_THAT(found->explanation, Contains("0.3 kg/s") && Contains("only 0.1 kg/s"));
}

TEST_CASE(
    "A shut valve between a fixed outflow and the held pressure that should feed it is named") {
    SmallNetwork n;
    const auto held = n.node(), middle = n.node(), tap = n.node();
    n.link(held, middle, networks::Shut{});
    n.link(middle, tap, valve);
    n.network.held = {{held, 3e5}};
    n.network.fixed = {{tap, -0.1, 0}};
    const auto found = find_contradiction(n.network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across `L0`");
    CHECK_THAT(found->explanation, Contains("only 0 kg/s"));
    n.link(held, tap, networks::OneWay{1.0, 0.0});
    CHECK_FALSE(find_contradiction(n.network, nullptr));
}

TEST_CASE("Held pressures give and take side by side what fixed flows leave over") {
    // 0.3 kg/s comes in and 0.1 kg/s goes out on either side of a shut valve, each with a held
    // pressure of its own.
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node(), d = n.node();
    n.link(a, b, valve);
    n.link(b, c, networks::Shut{});
    n.link(c, d, valve);
    n.network.held = {{b, 1e5}, {c, 3e5}};
    n.network.fixed = {{a, 0.3, 0}, {d, -0.1, 1}};
    CHECK_FALSE(find_contradiction(n.network, nullptr));
    const solver::Solution s = solver::solve(n.network);
    REQUIRE(s.outcome.converged());
    CHECK(s.flow_kg_s == std::vector<double>{0.3, 0.0, 0.1});
}

TEST_CASE("A fixed flow into a part of its own that nothing leaves is a contradiction") {
    SmallNetwork n = through(valve, 0.1);
    const auto lost = n.node(), gone = n.node();
    n.link(lost, gone, valve);
    n.network.fixed[1] = {gone, -0.1, 1}; // in on one part, out on the other
    const auto found = find_contradiction(n.network, nullptr);
    REQUIRE(found);
    CHECK(found->equation == "mass balance across a part with no way out");
}
