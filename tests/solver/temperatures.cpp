#include "solver/heat/temperatures.hpp"
#include "solver/solve.hpp"
#include "tests/support/random_network.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <utility>

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

namespace {

// Published separator energy balance (what enters its two halves leaves them), our own arithmetic:
// the primary comes at 45 degC, the secondary comes back at 35 degC whatever its flow.
struct Separator {
    SmallNetwork n;
    networks::NodeId upper = n.node(), lower = n.node(), sent = n.node(), returned = n.node();
    networks::LinkId primary = n.source(lower, upper, valve, 45.0);
    networks::LinkId header = n.link(upper, lower, valve);
    networks::LinkId secondary = n.link(upper, sent, valve);
    networks::LinkId load = n.source(sent, returned, valve, 35.0);
    networks::LinkId home = n.link(lower, returned, valve); // drawn against its flow

    Temperatures at(double first, double second) const {
        return temperatures(n.network, {first, first - second, second, second, -second});
    }
};

constexpr double exact_k = 1e-9; // a linear system of a few equations, solved to rounding

} // namespace

TEST_CASE("A separator with 0.30 primary and 0.20 secondary kg/s returns 38.33333 degC") {
    const Separator separator;
    const Temperatures heat = separator.at(0.30, 0.20);
    // (0.10 * 45 + 0.20 * 35)/0.30 = 115/3
    CHECK(heat.in_c[separator.primary] == Approx(115.0 / 3.0).margin(exact_k));
    CHECK(heat.node_c[separator.sent] == Approx(45.0).margin(exact_k));
    CHECK(heat.out_c[separator.home] == Approx(35.0).margin(exact_k));
    CHECK(heat.out_c[separator.header] == Approx(45.0).margin(exact_k));
}

TEST_CASE("A separator with 0.20 primary and 0.30 secondary kg/s sends 41.66667 degC") {
    const Separator separator;
    const Temperatures heat = separator.at(0.20, 0.30);
    // (0.20 * 45 + 0.10 * 35)/0.30 = 125/3
    CHECK(heat.in_c[separator.secondary] == Approx(125.0 / 3.0).margin(exact_k));
    CHECK(heat.in_c[separator.load] == Approx(125.0 / 3.0).margin(exact_k));
    CHECK(heat.in_c[separator.primary] == Approx(35.0).margin(exact_k));
    CHECK(heat.out_c[separator.header] == Approx(35.0).margin(exact_k)); // upwards
}

TEST_CASE("A separator with equal flows mixes nothing") {
    const Separator separator;
    const Temperatures heat = separator.at(0.25, 0.25);
    CHECK(heat.in_c[separator.secondary] == Approx(45.0).margin(exact_k));
    CHECK(heat.in_c[separator.primary] == Approx(35.0).margin(exact_k));
}

TEST_CASE("Water returned to its own inlet has the temperature that the balance gives") {
    // 0.1 kg/s at 60 degC enters a ring of 0.4 kg/s; the ring cools what passes to 30 degC, and
    // 0.3 kg/s of that go round again: (0.1 * 60 + 0.3 * 30)/0.4 = 37.5.
    SmallNetwork n;
    const auto back = n.node(), sent = n.node(), mixed = n.node(), cooled = n.node();
    n.source(back, sent, valve, 60.0);
    n.link(sent, mixed, valve);
    const auto cooler = n.source(mixed, cooled, valve, 30.0);
    n.link(mixed, cooled, valve); // still: carries nothing of the 37.5 across
    const auto again = n.link(cooled, mixed, valve);
    n.link(cooled, back, valve);
    const Temperatures heat = temperatures(n.network, {0.1, 0.1, 0.4, 0.0, 0.3, 0.1});
    CHECK(heat.in_c[cooler] == Approx(37.5).margin(exact_k));
    CHECK(heat.in_c[again] == Approx(30.0).margin(exact_k));
    CHECK(heat.node_c[back] == Approx(30.0).margin(exact_k));
}

TEST_CASE("An emitter of m c ln 2 halves its water's excess over the room") {
    // c of water at 35 degC: 4178.69 J/(kg K) (IAPWS-IF97). 0.1 kg/s: 417.869 ln 2 = 289.6447 W/K.
    SmallNetwork n;
    const auto back = n.node(), sent = n.node();
    n.source(back, sent, valve, 60.0);
    const auto emitter = n.emitter(sent, back, valve, 20.0, 289.6447);
    for (networks::Link &link : n.network.links)
        link.expected_c = 35.0;
    const Temperatures heat = temperatures(n.network, {0.1, 0.1});
    // The polynomial for c is within 8e-6 of the published one: 40 K * 0.5 * 0.69 * 8e-6.
    CHECK(heat.out_c[emitter] == Approx(40.0).margin(1.5e-4));
    // The mean of 40 exp(-x ln 2) over the way is 20/ln 2.
    CHECK(heat.full_c[emitter] == Approx(48.853901).margin(1.5e-4));
}

TEST_CASE("Water turned round in every pipe has the same temperatures at every node") {
    const Separator separator;
    SmallNetwork turned = separator.n;
    std::vector<double> flows{0.30, 0.10, 0.20, 0.20, -0.20};
    for (const networks::LinkId e : {separator.header, separator.secondary, separator.home}) {
        std::swap(turned.network.links[e].from, turned.network.links[e].to);
        flows[e] = -flows[e];
    }
    const Temperatures heat = temperatures(turned.network, flows);
    CHECK(heat.node_c == separator.at(0.30, 0.20).node_c);
}

TEST_CASE("Nearly still water is as far from the room's temperature as its flow squared says") {
    // m^2/(m^2 + (1e-6 kg/s)^2) of 40 K: a tenth at a third of a mg/s, nine tenths at three.
    SmallNetwork n;
    const auto back = n.node(), sent = n.node();
    n.source(back, sent, valve, 60.0);
    n.link(sent, back, valve);
    const auto creeping = n.link(sent, back, valve);
    for (const auto &[flow, celsius] :
         {std::pair{1e-6 / 3.0, 24.0}, {3e-6, 56.0}, {-3e-6, 56.0}, {1e-4, 59.996}}) {
        const Temperatures heat = temperatures(n.network, {0.1, 0.1 - flow, flow});
        INFO(flow << " kg/s");
        CHECK(heat.mean_c[creeping] == Approx(celsius).margin(1e-6));
        CHECK(heat.full_c[creeping] == Approx(60.0).margin(1e-9));
    }
}

TEST_CASE("Where nothing flows, or nothing heats, water is as warm as expected") {
    SmallNetwork n;
    const auto back = n.node(), sent = n.node();
    n.link(back, sent, valve, 37.0);
    n.link(sent, back, valve, 33.0);
    CHECK(temperatures(n.network, {0.1, 0.1}).mean_c == std::vector<double>{37.0, 33.0});
    n.network.links.clear();
    n.source(back, sent, valve, 37.0);
    n.link(sent, back, valve, 33.0);
    CHECK(temperatures(n.network, {0.0, 0.0}).mean_c == std::vector<double>{37.0, 33.0});
}

TEST_CASE("Through a mesh with rings, headers and water that creeps the heat given is taken") {
    // Flows by hand, balanced at every node to rounding.
    SmallNetwork n;
    const auto back = n.node(), sent = n.node(), a = n.node(), b = n.node(), c = n.node();
    n.source(back, sent, valve, 70.0);
    n.link(sent, a, valve);
    n.link(sent, back, valve);
    n.emitter(a, b, valve, 20.0, 400.0);
    n.emitter(a, c, valve, 18.0, 150.0);
    n.link(c, b, valve);
    n.link(a, b, valve); // against its direction: a ring by way of the first emitter
    n.emitter(c, a, valve, 22.0, 3.0);
    n.link(b, back, valve);
    const std::vector<double> flow{0.5, 0.3, 0.2, 0.65, 0.05, 0.049, -0.399, 0.001, 0.3};
    const Temperatures heat = temperatures(n.network, flow);
    double given = 0.0, taken = 0.0; // over c, kg K/s
    for (std::size_t e = 0; e < flow.size(); ++e) {
        const double gained = std::abs(flow[e]) * (heat.out_c[e] - heat.in_c[e]);
        (n.network.links[e].exchange.kind == networks::Exchange::Kind::Source ? given : taken) +=
            gained;
    }
    CHECK(given > 1.0);
    CHECK(-taken == Approx(given).epsilon(1e-8));
}

TEST_CASE("An emitter without conductance passes its water on as warm as it came") {
    SmallNetwork n;
    const auto back = n.node(), sent = n.node();
    n.source(back, sent, valve, 60.0);
    const auto idle = n.emitter(sent, back, valve, 20.0, 0.0);
    const Temperatures heat = temperatures(n.network, {0.1, 0.1});
    CHECK(heat.out_c[idle] == Approx(60.0).margin(exact_k));
    CHECK(heat.full_c[idle] == Approx(60.0).margin(exact_k));
}

TEST_CASE("Water in a source is as warm as it is sent, whatever comes back") {
    const Separator separator;
    const Temperatures heat = separator.at(0.30, 0.20);
    CHECK(heat.full_c[separator.primary] == 45.0);
    CHECK(heat.full_c[separator.load] == 35.0);
    // 0.30 kg/s: 1 - 1.1e-11 of the way from the room's temperature.
    CHECK(heat.mean_c[separator.primary] == Approx(45.0).margin(exact_k));
}
