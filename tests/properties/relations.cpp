// What must stay the same, or may only move one way, when a network is changed. Each law is tried
// over random networks of the class in which it holds; temperatures are frozen throughout.
#include "models/units.hpp"
#include "tests/support/frozen_flow.hpp"
#include "tests/support/random_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstdint>
#include <vector>

using namespace headroom;
using namespace headroom::tests;
using networks::LinkId;
using networks::Network;

namespace {

constexpr std::uint64_t networks_each = 300;

// Flows count as the same within a billionth of the largest; where nothing drives, rounding is
// left.
double same(const FrozenFlow &flow) {
    return 1e-9 * flow.largest() + 1e-15;
}

// Ordinary sizes: where a bore of 300 mm stands beside a Kv of 1e-4, a loss of 1e-8 Pa, a hundredth
// of the tolerance, already moves a flow by more than the share above.
RandomKind ordinary_sizes() {
    RandomKind kind;
    kind.extremes = false;
    kind.controlled = false;
    return kind;
}

// Every law odd in its flow, and no help from density.
RandomKind odd_laws() {
    RandomKind kind = ordinary_sizes();
    kind.set_valued = false;
    kind.pump_curves = false;
    kind.buoyancy = false;
    return kind;
}

FrozenFlow solved(const Network &network) {
    FrozenFlow flow = frozen_flow(network);
    REQUIRE(flow.outcome.converged());
    return flow;
}

// Some link of the network whose component is a T, or none.
template <class T> std::vector<LinkId> links_of_kind(const Network &network) {
    std::vector<LinkId> found;
    for (LinkId e = 0; e < network.links.size(); ++e)
        if (std::holds_alternative<T>(network.links[e].component))
            found.push_back(e);
    return found;
}

Network permuted(const Network &network, Random &random, std::vector<std::size_t> &link_order) {
    const std::vector<std::size_t> node_of = random.permutation(network.nodes.size());
    link_order = random.permutation(network.links.size());
    Network out = network;
    for (std::size_t v = 0; v < network.nodes.size(); ++v)
        out.nodes[node_of[v]] = network.nodes[v];
    for (std::size_t i = 0; i < link_order.size(); ++i) {
        out.links[i] = network.links[link_order[i]];
        out.links[i].from = node_of[out.links[i].from];
        out.links[i].to = node_of[out.links[i].to];
    }
    for (networks::NodePressure &held : out.held)
        held.node = node_of[held.node];
    for (networks::NodeFlow &fixed : out.fixed)
        fixed.node = node_of[fixed.node];
    if (out.fill)
        out.fill->node = node_of[out.fill->node];
    return out;
}

// Every drive in the network by a factor: rises and held potentials; fixed flows by another.
Network driven(Network network, double pressure_factor, double flow_factor) {
    for (networks::Link &link : network.links)
        if (auto *rise = std::get_if<networks::PressureRise>(&link.component))
            rise->rise_pa *= pressure_factor;
    for (networks::NodePressure &held : network.held) {
        const double column = network.reference_density_kg_m3 * models::gravity_m_per_s2 *
                              network.nodes[held.node].elevation_m;
        held.pressure_pa = pressure_factor * (held.pressure_pa + column) - column;
    }
    for (networks::NodeFlow &fixed : network.fixed)
        fixed.in_kg_s *= flow_factor;
    return network;
}

} // namespace

TEST_CASE("The order of nodes and links makes no difference to flows") {
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, ordinary_sizes());
        Random random(seed);
        std::vector<std::size_t> order;
        const Network other = permuted(network, random, order);
        const FrozenFlow here = solved(network);
        const FrozenFlow there = solved(other);
        INFO("seed " << seed);
        for (std::size_t i = 0; i < order.size(); ++i)
            CHECK(std::abs(there.flow_kg_s[i] - here.flow_kg_s[order[i]]) <= same(here));
    }
}

TEST_CASE("One pipe carries what two in series of the same length together carry") {
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network whole = random_network(seed, ordinary_sizes());
        const std::vector<LinkId> pipes = links_of_kind<networks::PipeFriction>(whole);
        if (pipes.empty())
            continue;
        Random random(seed);
        const LinkId cut = pipes[random.below(pipes.size())];
        const double share = random.uniform(0.1, 0.9);
        Network halves = whole;
        const std::size_t middle = halves.nodes.size();
        halves.nodes.push_back({"middle", random.uniform(0.0, 5.0)});
        networks::Link second = halves.links[cut];
        second.from = middle;
        halves.links[cut].to = middle;
        std::get<networks::PipeFriction>(halves.links[cut].component).pipe.length_m *= share;
        std::get<networks::PipeFriction>(second.component).pipe.length_m *= 1.0 - share;
        halves.links.push_back(second);
        const FrozenFlow one = solved(whole);
        const FrozenFlow two = solved(halves);
        INFO("seed " << seed << ", link " << cut);
        for (LinkId e = 0; e < whole.links.size(); ++e)
            CHECK(std::abs(two.flow_kg_s[e] - one.flow_kg_s[e]) <= same(one));
        CHECK(two.flow_kg_s.back() == two.flow_kg_s[cut]);
    }
}

TEST_CASE("A dead end changes no flow and has none") {
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, ordinary_sizes());
        const std::vector<LinkId> pipes = links_of_kind<networks::PipeFriction>(network);
        if (pipes.empty())
            continue;
        Random random(seed);
        Network extended = network;
        networks::Link dead = network.links[pipes.front()];
        dead.from = random.below(network.nodes.size());
        dead.to = extended.nodes.size();
        extended.nodes.push_back({"dead end", random.uniform(-2.0, 5.0)});
        extended.links.push_back(dead);
        const FrozenFlow without = solved(network);
        const FrozenFlow with = solved(extended);
        INFO("seed " << seed);
        for (LinkId e = 0; e < network.links.size(); ++e)
            CHECK(std::abs(with.flow_kg_s[e] - without.flow_kg_s[e]) <= same(without));
        CHECK(with.flow_kg_s.back() == 0.0);
    }
}

TEST_CASE("Where every law is odd, turning all drives round turns all flows round") {
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, odd_laws());
        const FrozenFlow there = solved(network);
        const FrozenFlow back = solved(driven(network, -1.0, -1.0));
        INFO("seed " << seed);
        for (LinkId e = 0; e < network.links.size(); ++e)
            CHECK(std::abs(there.flow_kg_s[e] + back.flow_kg_s[e]) <= same(there));
    }
}

TEST_CASE("Where every law is quadratic, four times the drive gives twice the flow") {
    RandomKind kind = odd_laws();
    kind.all_pipes = true;
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, kind);
        const std::vector<models::FluidState> fluid = expected_states(network);
        const FrozenFlow once = solved(network);
        const FrozenFlow four = solved(driven(network, 4.0, 2.0));
        INFO("seed " << seed);
        for (LinkId e : links_of_kind<networks::PipeFriction>(network)) {
            double warm = 0.0;
            const models::Loss loss = networks::component_loss(network.links[e].component, fluid[e],
                                                               once.flow_kg_s[e], warm);
            // A flow is known as well as its loss is: to 1e-8 Pa or 1e-11 of the greatest over the
            // slope, which vanishes with the flow.
            if (std::abs(loss.pressure_pa) < 1.0)
                continue;
            ++compared;
            CHECK(std::abs(four.flow_kg_s[e] - 2.0 * once.flow_kg_s[e]) <=
                  same(once) + 1e-6 / loss.slope_pa_s_per_kg);
        }
    }
    CHECK(compared > 1000);
}

TEST_CASE("Opening a valve never lowers its own flow") {
    int tried = 0;
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, ordinary_sizes());
        const std::vector<LinkId> valves = links_of_kind<networks::FlowFactor>(network);
        if (valves.empty())
            continue;
        Random random(seed);
        const LinkId valve = valves[random.below(valves.size())];
        Network opened = network;
        std::get<networks::FlowFactor>(opened.links[valve].component).kv_m3_h *=
            random.uniform(1.01, 4.0);
        const FrozenFlow before = solved(network);
        const FrozenFlow after = solved(opened);
        INFO("seed " << seed << ", link " << valve);
        CHECK(std::abs(after.flow_kg_s[valve]) >= std::abs(before.flow_kg_s[valve]) - same(before));
        ++tried;
    }
    CHECK(tried > 100);
}

TEST_CASE("A longer pipe never carries more") {
    int tried = 0;
    for (std::uint64_t seed = 1; seed <= networks_each; ++seed) {
        const Network network = random_network(seed, ordinary_sizes());
        const std::vector<LinkId> pipes = links_of_kind<networks::PipeFriction>(network);
        if (pipes.empty())
            continue;
        Random random(seed);
        const LinkId pipe = pipes[random.below(pipes.size())];
        Network longer = network;
        std::get<networks::PipeFriction>(longer.links[pipe].component).pipe.length_m *=
            random.uniform(1.01, 4.0);
        const FrozenFlow before = solved(network);
        const FrozenFlow after = solved(longer);
        INFO("seed " << seed << ", link " << pipe);
        CHECK(std::abs(after.flow_kg_s[pipe]) <= std::abs(before.flow_kg_s[pipe]) + same(before));
        ++tried;
    }
    CHECK(tried > 100);
}
