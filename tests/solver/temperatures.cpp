#include "solver/heat/temperatures.hpp"
#include "solver/solve.hpp"
#include "tests/support/random_network.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;
using solver::temperatures;
using solver::Temperatures;

namespace {

constexpr networks::FlowFactor valve{1.0};

double kept(const networks::Network &network, networks::LinkId e, double flow_kg_s) {
    return std::exp(-network.links[e].exchange.conductance_w_k /
                    (flow_kg_s * solver::mean_heat_capacity_j_kg_k(network)));
}

// Source, header and one secondary circuit with an emitter; flows as given.
struct Header {
    SmallNetwork n;
    networks::NodeId upper, lower, sent;
    networks::LinkId emitter;

    Header() {
        upper = n.node();
        lower = n.node();
        sent = n.node();
        n.source(lower, upper, valve, 60.0);
        n.link(upper, lower, networks::LocalLoss{1.0, 0.08}); // along the header
        n.link(upper, sent, valve);
        emitter = n.emitter(sent, lower, valve, 20.0, 1500.0);
    }

    Temperatures at(double primary, double secondary) const {
        return temperatures(n.network, {primary, primary - secondary, secondary, secondary});
    }
};

} // namespace

TEST_CASE("Streams mix at a node to their flow-weighted mean") {
    SmallNetwork n;
    const auto sent = n.node(), mixed = n.node(), back = n.node();
    n.source(back, sent, valve, 50.0);
    const auto emitter = n.emitter(sent, mixed, valve, 20.0, 800.0);
    n.link(sent, mixed, valve);
    n.link(mixed, back, valve);
    const Temperatures heat = temperatures(n.network, {0.3, 0.2, 0.1, 0.3});
    const double cooled = 20.0 + 30.0 * kept(n.network, emitter, 0.2);
    CHECK_THAT(heat.out_c[emitter], Catch::WithinRel(cooled, 1e-12));
    CHECK_THAT(heat.node_c[mixed], Catch::WithinRel((0.2 * cooled + 0.1 * 50.0) / 0.3, 1e-12));
    CHECK_THAT(heat.node_c[back], Catch::WithinRel(heat.node_c[mixed], 1e-12));
}

TEST_CASE("A header with more primary than secondary flow warms the return, not the sent water") {
    const Header header;
    const Temperatures heat = header.at(1.0, 0.6);
    const double returned = 20.0 + 40.0 * kept(header.n.network, header.emitter, 0.6);
    CHECK_THAT(heat.node_c[header.sent], Catch::WithinRel(60.0, 1e-12));
    CHECK_THAT(heat.node_c[header.lower], Catch::WithinRel(0.4 * 60.0 + 0.6 * returned, 1e-12));
}

TEST_CASE("What a secondary circuit draws beyond the primary is its own return water") {
    const Header header;
    const Temperatures heat = header.at(0.6, 1.0);
    // sent = 0.6*60 + 0.4*r ,  r = 20 + k (sent - 20)
    const double k = kept(header.n.network, header.emitter, 1.0);
    const double sent = (0.6 * 60.0 + 0.4 * 20.0 * (1.0 - k)) / (1.0 - 0.4 * k);
    CHECK_THAT(heat.node_c[header.sent], Catch::WithinRel(sent, 1e-12));
    CHECK_THAT(heat.node_c[header.lower], Catch::WithinRel(20.0 + k * (sent - 20.0), 1e-12));
}

TEST_CASE("Water that goes round many times for each that enters has its exact temperature") {
    SmallNetwork n;
    const auto sent = n.node(), ring = n.node(), end = n.node(), back = n.node();
    n.source(back, sent, valve, 50.0);
    n.link(sent, ring, valve);
    const auto emitter = n.emitter(ring, end, valve, 20.0, 100.0);
    n.link(end, ring, valve);
    n.link(end, back, valve);
    const double enters = 0.001, round = 1.0;
    const Temperatures heat =
        temperatures(n.network, {enters, enters, enters + round, round, enters});
    const double k = kept(n.network, emitter, enters + round);
    // (e + r) T = 50 e + r (20 + k (T - 20))
    const double expected =
        (50.0 * enters + 20.0 * round * (1.0 - k)) / (enters + round * (1.0 - k));
    CHECK_THAT(heat.node_c[ring], Catch::WithinRel(expected, 1e-11));
}

TEST_CASE("An emitter's mean temperature is the mean of its exponential, however far it cools") {
    SmallNetwork n;
    const auto sent = n.node(), back = n.node();
    n.source(back, sent, valve, 60.0);
    const auto emitter = n.emitter(sent, back, valve, 20.0, 500.0);
    const double c = solver::mean_heat_capacity_j_kg_k(n.network);
    for (const double flow : {1e-4, 1e-3, 0.01, 0.1, 1.0, 100.0}) {
        const Temperatures heat = temperatures(n.network, {flow, flow});
        const double units = 500.0 / (flow * c);
        const int pieces = 20000; // midpoint rule over exp(-N x)
        double mean = 0.0;
        for (int i = 0; i < pieces; ++i)
            mean += std::exp(-units * (i + 0.5) / pieces) / pieces;
        INFO("flow " << flow);
        CHECK_THAT(heat.full_c[emitter], Catch::WithinAbs(20.0 + 40.0 * mean, 1e-3));
    }
}

TEST_CASE("A still circuit stands at the room's temperature, a flowing one does not") {
    SmallNetwork n;
    const auto sent = n.node(), back = n.node(), dead = n.node();
    n.source(back, sent, valve, 60.0);
    n.emitter(sent, back, valve, 20.0, 500.0);
    const auto still = n.link(sent, dead, valve);
    const auto bypass = n.link(sent, back, valve);
    const Temperatures heat = temperatures(n.network, {0.1, 0.09, 0.0, 0.01});
    CHECK(heat.mean_c[still] == solver::still_room_c);
    CHECK_THAT(heat.mean_c[bypass], Catch::WithinRel(60.0, 1e-7));
    const Temperatures creeping = temperatures(n.network, {0.1, 0.1 - 1e-6, 0.0, 1e-6});
    CHECK_THAT(creeping.mean_c[bypass], Catch::WithinRel(40.0, 1e-9)); // half-way at 1e-6 kg/s
}

TEST_CASE("A circuit that nothing heats stays exactly at the room's temperature") {
    SmallNetwork n;
    const auto sent = n.node(), back = n.node(), a = n.node(), b = n.node();
    n.source(back, sent, valve, 60.0);
    n.emitter(sent, back, valve, 20.0, 500.0);
    n.link(a, b, valve);
    n.link(b, a, valve);
    n.link(sent, a, valve); // tied to the rest, without flow
    const Temperatures heat = temperatures(n.network, {0.1, 0.1, 1.0, 1.0, 0.0});
    CHECK(heat.node_c[a] == solver::still_room_c);
    CHECK(heat.node_c[b] == solver::still_room_c);
}

TEST_CASE("What the sources of random houses give is what their emitters take") {
    RandomKind kind;
    kind.extremes = false;
    kind.buoyancy = false;
    for (std::uint64_t seed = 1; seed <= 100; ++seed) {
        const networks::Network network = random_house(seed, kind);
        const solver::Solution solution = solver::solve(network);
        REQUIRE(solution.outcome.converged());
        double given = 0.0, taken = 0.0, moved = 0.0;
        for (networks::LinkId e = 0; e < network.links.size(); ++e) {
            const double gained =
                std::abs(solution.flow_kg_s[e]) * (solution.heat.out_c[e] - solution.heat.in_c[e]);
            (network.links[e].exchange.kind == networks::Exchange::Kind::Source ? given : taken) +=
                gained;
            moved += std::abs(gained);
        }
        INFO("seed " << seed);
        CHECK(std::abs(given + taken) <= 1e-8 * moved + 1e-12);
    }
}
