#include "networks/same_flow.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

namespace headroom::networks {
namespace {

// Sums modulo 2^128 in two words; addition and negation are all that is needed.
struct Label {
    std::uint64_t a = 0;
    std::uint64_t b = 0;

    Label operator+(const Label &o) const { return {a + o.a, b + o.b}; }
    Label operator-() const { return {0 - a, 0 - b}; }
    bool operator==(const Label &) const = default;
    bool zero() const { return a == 0 && b == 0; }
    auto key() const { return std::pair(a, b); }
};

std::uint64_t scrambled(std::uint64_t &state) {
    std::uint64_t z = (state += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

struct Forest {
    std::vector<std::size_t> order;       // vertices, parents before children
    std::vector<std::size_t> parent_edge; // or SameFlow::none at a root
};

// Breadth first from each vertex not yet reached, over edges listed vertex by vertex.
Forest spanning_forest(std::size_t vertices, const std::vector<GraphEdge> &edges) {
    std::vector<std::size_t> start(vertices + 1, 0), at(2 * edges.size());
    for (const GraphEdge &edge : edges) {
        ++start[edge.from + 1];
        ++start[edge.to + 1];
    }
    std::partial_sum(start.begin(), start.end(), start.begin());
    std::vector<std::size_t> next(start.begin(), start.end() - 1);
    for (std::size_t i = 0; i < edges.size(); ++i) {
        at[next[edges[i].from]++] = i;
        at[next[edges[i].to]++] = i;
    }
    Forest forest;
    forest.parent_edge.assign(vertices, SameFlow::none);
    forest.order.reserve(vertices);
    std::vector<char> reached(vertices, 0);
    for (std::size_t root = 0; root < vertices; ++root) {
        if (reached[root])
            continue;
        std::size_t done = forest.order.size();
        reached[root] = 1;
        forest.order.push_back(root);
        for (; done < forest.order.size(); ++done) {
            const std::size_t v = forest.order[done];
            for (std::size_t k = start[v]; k < start[v + 1]; ++k) {
                const GraphEdge &edge = edges[at[k]];
                const std::size_t other = edge.from == v ? edge.to : edge.from;
                if (reached[other])
                    continue;
                reached[other] = 1;
                forest.parent_edge[other] = at[k];
                forest.order.push_back(other);
            }
        }
    }
    return forest;
}

// The first edge of each label, found by its label or the opposite one.
class Leaders {
public:
    explicit Leaders(std::size_t edges) {
        std::size_t size = 16;
        while (size < 2 * edges)
            size *= 2;
        slots_.assign(size, SameFlow::none);
    }

    std::size_t leader(std::size_t edge, const std::vector<Label> &labels) {
        const auto key = canonical(labels[edge]);
        for (std::size_t i = key.first & (slots_.size() - 1);; i = (i + 1) & (slots_.size() - 1)) {
            if (slots_[i] == SameFlow::none)
                slots_[i] = edge;
            if (canonical(labels[slots_[i]]) == key)
                return slots_[i];
        }
    }

private:
    static std::pair<std::uint64_t, std::uint64_t> canonical(const Label &label) {
        return std::min(label.key(), (-label).key());
    }

    std::vector<std::size_t> slots_;
};

} // namespace

SameFlow same_flow_classes(std::size_t vertices, const std::vector<GraphEdge> &edges) {
    const Forest forest = spanning_forest(vertices, edges);
    std::vector<char> in_forest(edges.size(), 0);
    for (std::size_t edge : forest.parent_edge)
        if (edge != SameFlow::none)
            in_forest[edge] = 1;

    std::uint64_t seed = 0x68656164726F6F6DULL;
    std::vector<Label> label(edges.size());
    std::vector<Label> leaving(vertices); // what a vertex's subtree sends out by other edges
    for (std::size_t i = 0; i < edges.size(); ++i) {
        if (in_forest[i])
            continue;
        label[i] = {scrambled(seed), scrambled(seed)};
        if (edges[i].from == edges[i].to)
            continue; // a cycle by itself
        leaving[edges[i].from] = leaving[edges[i].from] + label[i];
        leaving[edges[i].to] = leaving[edges[i].to] + -label[i];
    }
    for (auto v = forest.order.rbegin(); v != forest.order.rend(); ++v) {
        const std::size_t up = forest.parent_edge[*v];
        if (up == SameFlow::none)
            continue;
        const bool downwards = edges[up].to == *v; // the edge points at the subtree it feeds
        const std::size_t parent = downwards ? edges[up].from : edges[up].to;
        label[up] = downwards ? leaving[*v] : -leaving[*v];
        leaving[parent] = leaving[parent] + leaving[*v];
    }

    SameFlow result;
    result.class_of.assign(edges.size(), SameFlow::none);
    result.sign.assign(edges.size(), 0);
    // Classes are numbered by their first edge, so that labels leave no trace in the order.
    Leaders leaders(edges.size());
    for (std::size_t e = 0; e < edges.size(); ++e) {
        if (label[e].zero())
            continue;
        const std::size_t leader = leaders.leader(e, label);
        result.class_of[e] = leader == e ? result.classes++ : result.class_of[leader];
        result.sign[e] = label[e] == label[leader] ? 1 : -1;
    }
    return result;
}

std::vector<std::size_t> connected_parts(std::size_t vertices,
                                         const std::vector<GraphEdge> &edges) {
    const Forest forest = spanning_forest(vertices, edges);
    std::vector<std::size_t> parts(vertices);
    std::size_t found = 0;
    for (std::size_t v : forest.order) {
        const std::size_t up = forest.parent_edge[v];
        if (up == SameFlow::none) {
            parts[v] = found++;
            continue;
        }
        const GraphEdge &edge = edges[up];
        parts[v] = parts[edge.from == v ? edge.to : edge.from];
    }
    return parts;
}

} // namespace headroom::networks
