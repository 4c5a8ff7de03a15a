#include "networks/same_flow.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <functional>
#include <random>
#include <string>
#include <vector>

using namespace headroom::networks;

namespace {

struct Graph {
    std::size_t vertices;
    std::vector<GraphEdge> edges;
};

Graph random_graph(std::mt19937 &random) {
    const auto below = [&](std::size_t n) { return random() % n; };
    Graph graph{1 + below(7), {}};
    const std::size_t edges = below(12);
    for (std::size_t i = 0; i < edges; ++i) // parallel edges and self-loops included
        graph.edges.push_back({below(graph.vertices), below(graph.vertices)});
    return graph;
}

// Number of connected parts when the edges `a` and `b` are taken away; colours spread until
// nothing changes.
std::size_t parts_without(const Graph &graph, std::size_t a, std::size_t b) {
    std::vector<std::size_t> colour(graph.vertices);
    for (std::size_t v = 0; v < graph.vertices; ++v)
        colour[v] = v;
    for (bool changed = true; changed;) {
        changed = false;
        for (std::size_t e = 0; e < graph.edges.size(); ++e) {
            if (e == a || e == b)
                continue;
            std::size_t &from = colour[graph.edges[e].from];
            std::size_t &to = colour[graph.edges[e].to];
            changed = changed || from != to;
            from = to = std::min(from, to);
        }
    }
    std::sort(colour.begin(), colour.end());
    return static_cast<std::size_t>(std::unique(colour.begin(), colour.end()) - colour.begin());
}

constexpr std::size_t none = SameFlow::none;

// A flow that is balanced at every vertex: a random amount around the cycle that each edge outside
// a spanning tree closes.
std::vector<long> random_circulation(const Graph &graph, std::mt19937 &random) {
    std::vector<long> flow(graph.edges.size(), 0);
    std::vector<char> tree(graph.edges.size(), 0);
    std::vector<char> seen(graph.vertices, 0);
    const std::function<void(std::size_t)> grow = [&](std::size_t at) {
        seen[at] = 1;
        for (std::size_t e = 0; e < graph.edges.size(); ++e)
            for (const auto &[here, there] : {std::pair(graph.edges[e].from, graph.edges[e].to),
                                              std::pair(graph.edges[e].to, graph.edges[e].from)})
                if (here == at && !seen[there]) {
                    tree[e] = 1;
                    grow(there);
                }
    };
    for (std::size_t v = 0; v < graph.vertices; ++v)
        if (!seen[v])
            grow(v);
    // The tree's path between two vertices, as signed edges.
    const std::function<bool(std::size_t, std::size_t, std::size_t, long)> send =
        [&](std::size_t from, std::size_t to, std::size_t came_by, long amount) {
            if (from == to)
                return true;
            for (std::size_t e = 0; e < graph.edges.size(); ++e) {
                if (!tree[e] || e == came_by)
                    continue;
                const auto [a, b] = graph.edges[e];
                if (a == from && send(b, to, e, amount)) {
                    flow[e] += amount;
                    return true;
                }
                if (b == from && send(a, to, e, amount)) {
                    flow[e] -= amount;
                    return true;
                }
            }
            return false;
        };
    for (std::size_t e = 0; e < graph.edges.size(); ++e) {
        if (tree[e])
            continue;
        const long amount = static_cast<long>(random() % 1'000'000) - 500'000;
        flow[e] += amount;
        send(graph.edges[e].to, graph.edges[e].from, none, amount);
    }
    return flow;
}

std::string text_of(const Graph &graph) {
    std::string out = std::to_string(graph.vertices) + " vertices:";
    for (const GraphEdge &edge : graph.edges)
        out += " " + std::to_string(edge.from) + "-" + std::to_string(edge.to);
    return out;
}

} // namespace

TEST_CASE("Two edges share a class just when taking away both cuts more than either alone") {
    std::mt19937 random(20240229);
    for (int round = 0; round < 600; ++round) {
        const Graph graph = random_graph(random);
        const SameFlow classes = same_flow_classes(graph.vertices, graph.edges);
        const std::size_t whole = parts_without(graph, none, none);
        INFO(text_of(graph));
        REQUIRE(classes.class_of.size() == graph.edges.size());
        for (std::size_t a = 0; a < graph.edges.size(); ++a) {
            const bool bridge = parts_without(graph, a, none) > whole;
            INFO("edge " << a);
            REQUIRE((classes.class_of[a] == none) == bridge);
            REQUIRE((classes.sign[a] == 0) == bridge);
            for (std::size_t b = a + 1; b < graph.edges.size() && !bridge; ++b) {
                if (parts_without(graph, b, none) > whole)
                    continue;
                INFO("edge " << b);
                REQUIRE((classes.class_of[a] == classes.class_of[b]) ==
                        (parts_without(graph, a, b) > whole));
            }
        }
    }
}

TEST_CASE("Every balanced flow is the same, by sign, throughout a class and zero on bridges") {
    std::mt19937 random(7);
    for (int round = 0; round < 600; ++round) {
        const Graph graph = random_graph(random);
        const SameFlow classes = same_flow_classes(graph.vertices, graph.edges);
        const std::vector<long> flow = random_circulation(graph, random);
        std::vector<long> of_class(classes.classes, 0);
        std::vector<char> known(classes.classes, 0);
        INFO(text_of(graph));
        for (std::size_t e = 0; e < graph.edges.size(); ++e) {
            INFO("edge " << e);
            if (classes.class_of[e] == none) {
                REQUIRE(flow[e] == 0);
                continue;
            }
            REQUIRE(std::abs(classes.sign[e]) == 1);
            REQUIRE(classes.class_of[e] < classes.classes);
            const long along = flow[e] * classes.sign[e];
            if (known[classes.class_of[e]])
                REQUIRE(along == of_class[classes.class_of[e]]);
            of_class[classes.class_of[e]] = along;
            known[classes.class_of[e]] = 1;
        }
        REQUIRE(std::all_of(known.begin(), known.end(), [](char k) { return k != 0; }));
    }
}

TEST_CASE("Classes are numbered by their first edge, whose sign is positive") {
    std::mt19937 random(11);
    for (int round = 0; round < 200; ++round) {
        const Graph graph = random_graph(random);
        const SameFlow classes = same_flow_classes(graph.vertices, graph.edges);
        std::size_t next = 0;
        for (std::size_t e = 0; e < graph.edges.size(); ++e)
            if (classes.class_of[e] == next) {
                REQUIRE(classes.sign[e] == 1);
                ++next;
            } else if (classes.class_of[e] != none) {
                REQUIRE(classes.class_of[e] < next);
            }
        REQUIRE(next == classes.classes);
    }
}

TEST_CASE("A series chain is one class, each member with its own direction") {
    // 0 -> 1 <- 2 -> 0, and a parallel pair 0 => 3 -> 0
    const SameFlow ring = same_flow_classes(3, {{0, 1}, {2, 1}, {2, 0}});
    CHECK(ring.classes == 1);
    CHECK(ring.sign == std::vector<int>{1, -1, 1});
}

TEST_CASE("The flow and return pipe of a branch carry the same flow the opposite way") {
    // source 0-1, flow pipe 0-2, return pipe 3-1, two loops 2-3 in parallel
    const SameFlow tree = same_flow_classes(4, {{1, 0}, {0, 2}, {3, 1}, {2, 3}, {2, 3}});
    CHECK(tree.classes == 3);
    CHECK(tree.class_of == std::vector<std::size_t>{0, 0, 0, 1, 2});
    CHECK(tree.sign == std::vector<int>{1, 1, 1, 1, 1});
}

TEST_CASE("A graph without edges or vertices has no classes") {
    CHECK(same_flow_classes(0, {}).classes == 0);
    CHECK(same_flow_classes(5, {}).classes == 0);
    CHECK(connected_parts(0, {}).empty());
}

TEST_CASE("Connected parts are numbered in the order of their first vertices") {
    CHECK(connected_parts(5, {{3, 1}, {4, 0}}) == std::vector<std::size_t>{0, 1, 2, 1, 0});
    CHECK(connected_parts(3, {}) == std::vector<std::size_t>{0, 1, 2});
    CHECK(connected_parts(2, {{0, 0}, {1, 1}}) == std::vector<std::size_t>{0, 1});
}

TEST_CASE("Vertices share a part just when edges join them") {
    std::mt19937 random(3);
    for (int round = 0; round < 200; ++round) {
        const Graph graph = random_graph(random);
        const auto parts = connected_parts(graph.vertices, graph.edges);
        for (const GraphEdge &edge : graph.edges)
            REQUIRE(parts[edge.from] == parts[edge.to]);
        REQUIRE(*std::max_element(parts.begin(), parts.end()) + 1 ==
                parts_without(graph, none, none));
    }
}

TEST_CASE("A hundred thousand pipes are classed in a moment") {
    std::vector<GraphEdge> edges;
    const std::size_t n = 50'000;
    for (std::size_t v = 0; v < n; ++v) {
        edges.push_back({v, (v + 1) % n});
        edges.push_back({v, (v * 7919 + 13) % n});
    }
    CHECK(same_flow_classes(n, edges).class_of.size() == edges.size());
}
