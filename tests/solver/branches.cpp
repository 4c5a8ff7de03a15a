// The contraction in numbers: which flow each link of a branch carries, and within what bounds.
#include "solver/flow/branches.hpp"

#include "networks/same_flow.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace headroom;
using namespace headroom::tests;
using solver::BranchSystem;

namespace {

constexpr networks::FlowFactor valve{1.0};

// Flow of a link whose branch carries a prescribed flow.
double prescribed(const BranchSystem &system, networks::LinkId link) {
    const solver::Branch &branch = system.branches.at(system.branch_of[link]);
    REQUIRE(branch.prescribed);
    return system.sign_of[link] * branch.prescribed_kg_s;
}

// Bounds of a link's branch, seen along the link.
networks::FlowBounds bounds_along(const BranchSystem &system, networks::LinkId link) {
    const networks::FlowBounds bounds = system.branches.at(system.branch_of[link]).bounds;
    if (system.sign_of[link] > 0)
        return bounds;
    return {-bounds.most_kg_s, -bounds.least_kg_s};
}

// A ring of three parts; the last one is turned round.
BranchSystem ring(networks::Component first, networks::Component second,
                  networks::Component turned) {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, std::move(first));
    n.link(b, c, std::move(second));
    n.link(a, c, std::move(turned));
    return solver::contract(n.network);
}

} // namespace

TEST_CASE(
    "Every link of a chain stands in its branch once, and the branch joins the chain's ends") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, valve);
    n.link(b, c, valve);
    n.link(c, a, valve); // three links round: one branch from a node to itself
    n.link(a, a, valve); // and one of its own
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 2);
    CHECK(system.members_of(0).size() == 3);
    CHECK(system.members_of(1).size() == 1);
    for (std::size_t b = 0; b < system.branches.size(); ++b) {
        CHECK(system.branches[b].from == system.branches[b].to);
        for (const solver::Member &member : system.members_of(b)) {
            CHECK(system.branch_of[member.link] == b);
            CHECK(system.sign_of[member.link] == member.sign);
        }
    }
}

TEST_CASE("Links in parallel stay apart though they join the same two nodes") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node();
    const std::array links{n.link(a, b, valve), n.link(a, b, valve), n.link(b, a, valve)};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 3);
    CHECK(system.nodes == 3); // the ground, to which nothing is held, and the two
    for (std::size_t i = 0; i < links.size(); ++i)
        CHECK(system.branch_of[links[i]] == i);
}

TEST_CASE("Flow and return that mirror each other along a tree of runs are one branch a run") {
    // A source, a trunk with a tap at its middle, a loop at each. Return links point towards the
    // source, so along the water as flow links do.
    SmallNetwork n;
    const auto sent = n.node(), back = n.node();
    const auto near_flow = n.node(), near_back = n.node();
    const auto far_flow = n.node(), far_back = n.node();
    const auto source = n.link(back, sent, networks::PressureRise{1e4});
    const auto first_flow = n.link(sent, near_flow, valve);
    const auto first_back = n.link(near_back, back, valve);
    n.link(near_flow, near_back, valve);
    const auto second_flow = n.link(near_flow, far_flow, valve);
    const auto second_back = n.link(near_back, far_back, valve); // drawn against the water
    const auto loop = n.link(far_flow, far_back, valve);
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 3);
    CHECK(system.branch_of[first_flow] == system.branch_of[source]);
    CHECK(system.branch_of[first_back] == system.branch_of[source]);
    CHECK(system.sign_of[first_back] == system.sign_of[first_flow]);
    CHECK(system.branch_of[second_flow] == system.branch_of[loop]);
    CHECK(system.branch_of[second_back] == system.branch_of[loop]);
    CHECK(system.sign_of[second_flow] == system.sign_of[loop]);
    CHECK(system.sign_of[second_back] == -system.sign_of[loop]);
    CHECK(system.branch_of[second_flow] != system.branch_of[first_flow]);
}

TEST_CASE("Two rings joined by one pipe exchange nothing through it") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node(), d = n.node();
    n.link(a, b, networks::PressureRise{1e4});
    n.link(b, a, valve);
    const auto joint = n.link(b, c, valve);
    n.link(c, d, networks::PressureRise{2e4});
    n.link(d, c, valve);
    const BranchSystem system = solver::contract(n.network);
    CHECK(system.branch_of[joint] == BranchSystem::no_branch);
    CHECK(system.sign_of[joint] == 0);
    CHECK(system.branches.size() == 2);
}

TEST_CASE("A fixed flow divides: each way out carries its own, the way in their sum") {
    SmallNetwork n;
    const auto in = n.node(), tee = n.node(), out = n.node(), side = n.node();
    const auto trunk = n.link(in, tee, valve);
    const auto one = n.link(tee, out, valve);
    const auto other = n.link(side, tee, valve); // drawn against its flow
    n.network.fixed = {{in, 0.5, 0}, {out, -0.3, 1}, {side, -0.2, 2}};
    const BranchSystem system = solver::contract(n.network);
    CHECK(prescribed(system, trunk) == 0.5);
    CHECK(prescribed(system, one) == 0.3);
    CHECK(prescribed(system, other) == -0.2);
}

TEST_CASE("A fixed flow comes from the ground that held pressures are") {
    SmallNetwork n;
    const auto held = n.node(), tap = n.node();
    const auto service = n.link(held, tap, valve);
    n.network.held = {{held, 3e5}};
    n.network.fixed = {{tap, -0.25, 0}};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 1);
    CHECK(prescribed(system, service) == 0.25);
}

TEST_CASE("Fixed flow between two ways is given to their node, and taken from the ground") {
    // Two unlike ways from a held pressure to a tap: neither flow is known, their sum is.
    SmallNetwork n;
    const auto held = n.node(), tap = n.node();
    const auto one = n.link(held, tap, valve);
    const auto other = n.link(held, tap, networks::FlowFactor{2.0});
    n.network.held = {{held, 3e5}};
    n.network.fixed = {{tap, -0.25, 0}};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 2);
    CHECK_FALSE(system.branches[system.branch_of[one]].prescribed);
    CHECK(system.branch_of[one] != system.branch_of[other]);
    REQUIRE(system.nodes == 2);
    CHECK(system.inflow_kg_s[0] == 0.25);
    CHECK(system.inflow_kg_s[1] == -0.25);
}

TEST_CASE("Links between held pressures are branches from the ground to itself, each alone") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    n.link(a, b, valve);
    n.link(b, c, valve);
    n.link(c, a, valve);
    n.network.held = {{a, 3e5}, {b, 2e5}, {c, 1e5}};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 3);
    CHECK(system.nodes == 1);
    for (std::size_t b = 0; b < system.branches.size(); ++b) {
        CHECK(system.branches[b].from == 0);
        CHECK(system.branches[b].to == 0);
        CHECK(system.members_of(b).size() == 1);
    }
}

TEST_CASE("Limiters that face each other bound their chain on both sides") {
    const networks::FlowBounds bounds =
        bounds_along(ring(networks::FlowLimiter{1.0, 0.2}, networks::FlowLimiter{1.0, 0.3},
                          networks::FlowLimiter{1.0, 0.1}),
                     0);
    CHECK(bounds.most_kg_s == 0.2);   // the tighter of the two along the chain
    CHECK(bounds.least_kg_s == -0.1); // the turned one, seen the other way
}

TEST_CASE("A limiter behind a check valve passes from nothing to its limit") {
    const networks::FlowBounds bounds =
        bounds_along(ring(networks::OneWay{1.0, 0.0}, networks::FlowLimiter{1.0, 0.1}, valve), 0);
    CHECK(bounds.least_kg_s == 0.0);
    CHECK(bounds.most_kg_s == 0.1);
}

TEST_CASE("A constant-flow pump bounds its chain as a limiter does") {
    networks::RunningPump pump{models::make_pump_curve({{0.0, 4e4}, {1e-3, 1e4}})};
    pump.most_kg_s = 0.4;
    const networks::FlowBounds bounds =
        bounds_along(ring(valve, networks::FlowLimiter{1.0, 0.5}, pump), 2);
    CHECK(bounds.most_kg_s == 0.4);
    CHECK(bounds.least_kg_s == -0.5);
}

TEST_CASE("Check valves that face each other shut their chain, as a shut valve does") {
    const BranchSystem facing = ring(networks::OneWay{1.0, 0.0}, valve, networks::OneWay{1.0, 0.0});
    CHECK(prescribed(facing, 0) == 0.0);
    const BranchSystem shut = ring(valve, networks::Shut{}, networks::PressureRise{1e4});
    CHECK(prescribed(shut, 2) == 0.0);
}
