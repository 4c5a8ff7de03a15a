#include "networks/same_flow.hpp"
#include "solver/flow/branches.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <array>

using namespace headroom;
using namespace headroom::tests;
using solver::BranchSystem;

namespace {

constexpr networks::PressureRise rise{1e4};
constexpr networks::FlowFactor valve{1.0};

} // namespace

TEST_CASE("A series chain is one branch, and a link turned round in it has the other sign") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    const auto first = n.link(a, b, rise);
    const auto turned = n.link(c, b, valve);
    const auto last = n.link(c, a, valve);
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 1);
    CHECK(system.members_of(0).size() == 3);
    CHECK(system.sign_of[turned] == -system.sign_of[first]);
    CHECK(system.sign_of[last] == system.sign_of[first]);
}

TEST_CASE("The flow and the return pipe of a run are one branch, the loops it feeds one each") {
    SmallNetwork n;
    const auto sent = n.node(), back = n.node(), flow = n.node(), home = n.node();
    const auto pump = n.link(back, sent, rise);
    const auto there = n.link(sent, flow, plain_pipe());
    const auto again = n.link(home, back, plain_pipe());
    const std::array loops{n.link(flow, home, valve), n.link(flow, home, valve),
                           n.link(flow, home, valve)};
    const BranchSystem system = solver::contract(n.network);
    CHECK(system.branches.size() == 4);
    CHECK(system.branch_of[there] == system.branch_of[pump]);
    CHECK(system.branch_of[again] == system.branch_of[pump]);
    CHECK(system.sign_of[again] == system.sign_of[there]);
    CHECK(system.branch_of[loops[0]] != system.branch_of[loops[1]]);
    CHECK(system.branch_of[loops[1]] != system.branch_of[loops[2]]);
}

TEST_CASE("A bridge belongs to no branch") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), dead = n.node();
    n.link(a, b, rise);
    n.link(b, a, valve);
    const auto bridge = n.link(b, dead, valve);
    const BranchSystem system = solver::contract(n.network);
    CHECK(system.branch_of[bridge] == BranchSystem::no_branch);
    CHECK(system.sign_of[bridge] == 0);
    CHECK(system.branches.size() == 1);
}

TEST_CASE(
    "A chain that a fixed flow must pass carries it as prescribed, in each link's direction") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    const auto along = n.link(a, b, valve);
    const auto against = n.link(c, b, valve);
    n.network.fixed = {{a, 0.3, 0}, {c, -0.3, 1}};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 1);
    const solver::Branch &branch = system.branches[0];
    REQUIRE(branch.prescribed);
    CHECK(system.sign_of[along] * branch.prescribed_kg_s == 0.3);
    CHECK(system.sign_of[against] * branch.prescribed_kg_s == -0.3);
}

TEST_CASE("Held nodes are one ground") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), middle = n.node();
    const auto first = n.link(a, middle, valve);
    const auto second = n.link(middle, b, valve);
    n.network.held = {{a, 2e5}, {b, 1e5}};
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 1);
    CHECK(system.nodes == 1);
    CHECK(system.branches[0].from == 0);
    CHECK(system.branches[0].to == 0);
    CHECK(system.branch_of[first] == system.branch_of[second]);
}

TEST_CASE("A branch has the narrowest of its members' bounds, each seen in its own direction") {
    SmallNetwork n;
    const auto a = n.node(), b = n.node(), c = n.node();
    const auto along = n.link(a, b, networks::FlowLimiter{1.0, 0.2});
    n.link(b, c, networks::FlowLimiter{1.0, 0.1});
    n.link(a, c, networks::OneWay{1.0, 0.0}); // turned round: lets pass only against the others
    const BranchSystem system = solver::contract(n.network);
    REQUIRE(system.branches.size() == 1);
    const networks::FlowBounds bounds = system.branches[0].bounds;
    const bool same = system.sign_of[along] > 0;
    CHECK((same ? bounds.most_kg_s : -bounds.least_kg_s) == 0.0);
    CHECK((same ? bounds.least_kg_s : -bounds.most_kg_s) == -models::no_limit);
}
