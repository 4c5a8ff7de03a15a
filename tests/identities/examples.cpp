// Laws of conservation over every example house, recomputed from the solution's flows alone.
#include "models/units.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/solved_example.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <queue>

using namespace headroom;
using namespace headroom::tests;
using networks::LinkId;
using networks::NodeId;

namespace {

double largest(const std::vector<double> &values) {
    double most = 0.0;
    for (double value : values)
        most = std::max(most, std::abs(value));
    return most;
}

// What each link takes from the water in all, its density's weight included.
std::vector<double> falls(const SolvedExample &example) {
    std::vector<double> out;
    for (LinkId e = 0; e < example.network.links.size(); ++e)
        out.push_back(link_fall_pa(example.network, example.solution.fluid[e], e,
                                   example.solution.flow_kg_s[e]) +
                      example.solution.loss_pa[e] - example.solution.open_loss_pa[e]);
    return out;
}

double density_fall(const SolvedExample &example, LinkId e) {
    const networks::Link &link = example.network.links[e];
    return example.network.buoyancy ? (example.solution.fluid[e].density_kg_m3 -
                                       example.network.reference_density_kg_m3) *
                                          models::gravity_m_per_s2 *
                                          (example.network.nodes[link.to].elevation_m -
                                           example.network.nodes[link.from].elevation_m)
                                    : 0.0;
}

} // namespace

TEST_CASE("sum of flows into a node = 0") {
    for (const SolvedExample &example : solved_examples()) {
        std::vector<double> sum(example.network.nodes.size(), 0.0);
        for (LinkId e = 0; e < example.network.links.size(); ++e) {
            sum[example.network.links[e].from] -= example.solution.flow_kg_s[e];
            sum[example.network.links[e].to] += example.solution.flow_kg_s[e];
        }
        for (const networks::NodeFlow &fixed : example.network.fixed)
            sum[fixed.node] += fixed.in_kg_s;
        for (const networks::NodePressure &held : example.network.held)
            sum[held.node] = 0.0;
        INFO(example.file);
        CHECK(largest(sum) <= 1e-10 * largest(example.solution.flow_kg_s));
    }
}

// Loops are closed by one link each over a tree of the links whose law has one value.
TEST_CASE("sum of pressure falls around a loop = 0") {
    for (const SolvedExample &example : solved_examples()) {
        const std::vector<double> fall = falls(example);
        const double slack = 1e-11 * largest(example.solution.flow_kg_s);
        const auto open = [&](LinkId e) {
            return at_bound(example.network.links[e].component, example.solution.flow_kg_s[e],
                            slack) == AtBound::No;
        };
        std::vector<double> potential(example.network.nodes.size(), 0.0);
        std::vector<int> part(example.network.nodes.size(), -1);
        std::vector<char> in_tree(example.network.links.size(), 0);
        for (NodeId root = 0; root < part.size(); ++root) {
            if (part[root] >= 0)
                continue;
            part[root] = static_cast<int>(root);
            std::queue<NodeId> waiting;
            waiting.push(root);
            while (!waiting.empty()) {
                const NodeId at = waiting.front();
                waiting.pop();
                for (LinkId e = 0; e < example.network.links.size(); ++e) {
                    const networks::Link &link = example.network.links[e];
                    if (!open(e) || (link.from != at && link.to != at))
                        continue;
                    const NodeId next = link.from == at ? link.to : link.from;
                    if (part[next] >= 0)
                        continue;
                    part[next] = part[root];
                    potential[next] = potential[at] + (link.from == at ? -fall[e] : fall[e]);
                    in_tree[e] = 1;
                    waiting.push(next);
                }
            }
        }
        INFO(example.file);
        int loops = 0;
        for (LinkId e = 0; e < example.network.links.size(); ++e) {
            const networks::Link &link = example.network.links[e];
            if (in_tree[e] || !open(e))
                continue;
            REQUIRE(part[link.from] == part[link.to]);
            INFO("closed by " << link.name);
            CHECK(std::abs(potential[link.from] - potential[link.to] - fall[e]) <=
                  std::max(1e-6, 1e-9 * largest(fall)));
            ++loops;
        }
        CHECK(loops > 0);
    }
}

TEST_CASE("pump work + buoyancy work + boundary work = dissipation") {
    for (const SolvedExample &example : solved_examples()) {
        double driven = 0.0; // Pa kg/s
        double dissipated = 0.0;
        for (LinkId e = 0; e < example.network.links.size(); ++e) {
            const double flow = example.solution.flow_kg_s[e];
            const networks::Component &component = example.network.links[e].component;
            const double lost = example.solution.loss_pa[e] * flow;
            driven -= density_fall(example, e) * flow;
            if (std::holds_alternative<networks::RunningPump>(component) ||
                std::holds_alternative<networks::PressureRise>(component))
                driven -= lost;
            else
                dissipated += lost;
        }
        const double column = example.network.reference_density_kg_m3 * models::gravity_m_per_s2;
        const auto potential = [&](NodeId v) {
            return example.solution.pressure_pa[v] + column * example.network.nodes[v].elevation_m;
        };
        std::vector<double> enters(example.network.nodes.size(), 0.0);
        for (LinkId e = 0; e < example.network.links.size(); ++e) {
            enters[example.network.links[e].from] += example.solution.flow_kg_s[e];
            enters[example.network.links[e].to] -= example.solution.flow_kg_s[e];
        }
        for (const networks::NodePressure &held : example.network.held)
            driven += potential(held.node) * enters[held.node];
        for (const networks::NodeFlow &fixed : example.network.fixed)
            driven += potential(fixed.node) * fixed.in_kg_s;
        INFO(example.file);
        CHECK(dissipated > 0.0);
        CHECK(std::abs(driven - dissipated) <= 1e-9 * dissipated);
    }
}

TEST_CASE("heat from the source = heat into emitters and out of pipes") {
    for (const SolvedExample &example : solved_examples()) {
        double given = 0.0; // kg K/s; the heat capacity is one for the whole network
        double taken = 0.0;
        for (LinkId e = 0; e < example.network.links.size(); ++e) {
            const double gained = std::abs(example.solution.flow_kg_s[e]) *
                                  (example.solution.heat.out_c[e] - example.solution.heat.in_c[e]);
            switch (example.network.links[e].exchange.kind) {
            case networks::Exchange::Kind::Source:
                given += gained;
                break;
            case networks::Exchange::Kind::Emitter:
            case networks::Exchange::Kind::Loses:
                taken -= gained;
                break;
            case networks::Exchange::Kind::None:
                CHECK(std::abs(gained) == 0.0);
                break;
            }
        }
        INFO(example.file);
        CHECK(std::abs(given - taken) <= 1e-8 * std::abs(given));
    }
}
