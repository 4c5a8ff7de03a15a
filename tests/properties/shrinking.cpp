// Houses and networks that fail are kept small: what is left of them, under failures made up for
// the purpose.
#include "tests/support/frozen_flow.hpp"
#include "tests/support/random_house_text.hpp"
#include "tests/support/random_network.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/shrink_house.hpp"
#include "tests/support/shrink_network.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <string>

using namespace headroom;
using namespace headroom::tests;
using networks::House;

namespace {

std::optional<House> read(const std::string &text) {
    networks::Diagnostics diagnostics;
    return networks::read_house(text, diagnostics);
}

// A house, and one of which something is true.
std::function<bool(const std::string &)> fails_if(const std::function<bool(const House &)> &is) {
    return [is](const std::string &text) {
        const auto house = read(text);
        return house && is(*house);
    };
}

bool has_long_loop(const House &house) {
    return std::any_of(house.emitters.begin(), house.emitters.end(), [](const auto &emitter) {
        return emitter.kind == networks::Emitter::Kind::FloorLoop && emitter.length_m > 60.0;
    });
}

bool has_check_valve(const House &house) {
    return std::any_of(house.runs.begin(), house.runs.end(), [](const networks::Run &run) {
        return std::any_of(run.parts.begin(), run.parts.end(), [](const networks::Part &part) {
            return part.kind == networks::Part::Kind::Check;
        });
    });
}

// Shrinks each of 40 random houses that fails, and looks at what is left.
void shrink_each(const std::function<bool(const House &)> &is,
                 const std::function<void(const std::string &)> &look) {
    int tried = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const std::string text = random_house_text(seed);
        const auto fails = fails_if(is);
        if (!fails(text))
            continue;
        ++tried;
        const std::string small = shrunk_house(text, fails);
        INFO("seed " << seed << "\n" << small);
        REQUIRE(fails(small));
        look(small);
    }
    CHECK(tried >= 10);
}

} // namespace

TEST_CASE("A house that fails for one loop is shrunk to that loop, its room and the way to it") {
    shrink_each(has_long_loop, [](const std::string &small) {
        const auto house = read(small);
        CHECK(house->emitters.size() == 1);
        CHECK(house->rooms.size() == 1);
        CHECK(house->manifolds.size() == 1);
        CHECK(house->runs.size() <= 2); // from the source to the header, and on to the manifold
        CHECK(house->bypasses.empty());
        CHECK_FALSE(house->hot_water.has_value());
    });
}

TEST_CASE(
    "A house that fails for a part of a run keeps that run and no emitter more than it needs") {
    shrink_each(has_check_valve, [](const std::string &small) {
        CHECK(read(small)->emitters.size() <= 1);
        CHECK(shrunk_house(small, fails_if(has_check_valve)) == small);
    });
}

TEST_CASE("A network that fails for one turning flow is shrunk to a drive and a way round") {
    RandomKind kind;
    kind.extremes = false;
    kind.open_ends = false;
    kind.buoyancy = false;
    // Some valve through which water flows backwards or forwards: it needs a drive and a circuit.
    const auto valve_flows = [](const networks::Network &network) {
        const FrozenFlow flow = frozen_flow(network);
        for (networks::LinkId e = 0; flow.outcome.converged() && e < network.links.size(); ++e)
            if (std::holds_alternative<networks::FlowFactor>(network.links[e].component) &&
                std::abs(flow.flow_kg_s[e]) > 1e-3)
                return true;
        return false;
    };
    int tried = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const networks::Network network = random_network(seed, kind);
        if (!valve_flows(network))
            continue;
        ++tried;
        const networks::Network small = shrunk_network(network, valve_flows);
        INFO("seed " << seed << "\n" << described(small));
        CHECK(valve_flows(small));
        CHECK(small.links.size() < network.links.size());
        // One circuit: every node that a link touches is touched by two.
        std::vector<int> touched(small.nodes.size(), 0);
        for (const networks::Link &link : small.links) {
            ++touched[link.from];
            ++touched[link.to];
        }
        for (const int links : touched)
            CHECK((links == 0 || links == 2));
    }
    CHECK(tried >= 10);
}
