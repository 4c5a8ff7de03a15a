#include "networks/same_flow.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/breadth_first_search.hpp>
#include <boost/graph/connected_components.hpp>
#include <cstdint>
#include <numeric>

namespace headroom::networks {
namespace {

using Graph =
    boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                          boost::property<boost::edge_index_t, std::size_t>>;

Graph make_graph(std::size_t vertices, const std::vector<GraphEdge> &edges) {
    Graph graph(vertices);
    for (std::size_t i = 0; i < edges.size(); ++i)
        boost::add_edge(edges[i].from, edges[i].to, i, graph);
    return graph;
}

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

class ForestBuilder : public boost::default_bfs_visitor {
public:
    explicit ForestBuilder(Forest &forest) : forest_(&forest) {}
    void discover_vertex(std::size_t v, const Graph &) { forest_->order.push_back(v); }
    template <class E> void tree_edge(const E &e, const Graph &g) {
        forest_->parent_edge[boost::target(e, g)] = boost::get(boost::edge_index, g, e);
    }

private:
    Forest *forest_;
};

Forest spanning_forest(const Graph &graph) {
    Forest forest;
    const std::size_t n = boost::num_vertices(graph);
    forest.parent_edge.assign(n, SameFlow::none);
    forest.order.reserve(n);
    std::vector<boost::default_color_type> colours(n, boost::white_color);
    auto colour_map =
        boost::make_iterator_property_map(colours.begin(), boost::get(boost::vertex_index, graph));
    boost::queue<std::size_t> queue;
    for (std::size_t v = 0; v < n; ++v)
        if (colours[v] == boost::white_color)
            boost::breadth_first_visit(graph, v, queue, ForestBuilder(forest), colour_map);
    return forest;
}

} // namespace

SameFlow same_flow_classes(std::size_t vertices, const std::vector<GraphEdge> &edges) {
    const Forest forest = spanning_forest(make_graph(vertices, edges));
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
    std::vector<std::size_t> by_label(edges.size());
    std::iota(by_label.begin(), by_label.end(), std::size_t{0});
    const auto canonical = [&](std::size_t e) {
        return std::min(label[e].key(), (-label[e]).key());
    };
    std::stable_sort(by_label.begin(), by_label.end(),
                     [&](std::size_t a, std::size_t b) { return canonical(a) < canonical(b); });
    // Classes are numbered by their first edge, so that labels leave no trace in the order.
    std::vector<std::size_t> leader(edges.size(), SameFlow::none);
    for (std::size_t i = 0; i < by_label.size(); ++i) {
        const std::size_t e = by_label[i];
        if (label[e].zero())
            continue;
        const bool same = i > 0 && canonical(by_label[i - 1]) == canonical(e);
        leader[e] = same ? leader[by_label[i - 1]] : e;
    }
    for (std::size_t e = 0; e < edges.size(); ++e) {
        if (leader[e] == SameFlow::none)
            continue;
        if (leader[e] == e)
            result.class_of[e] = result.classes++;
        else
            result.class_of[e] = result.class_of[leader[e]];
        result.sign[e] = label[e] == label[leader[e]] ? 1 : -1;
    }
    return result;
}

std::vector<std::size_t> connected_parts(std::size_t vertices,
                                         const std::vector<GraphEdge> &edges) {
    std::vector<std::size_t> parts(vertices);
    if (vertices > 0)
        boost::connected_components(make_graph(vertices, edges), parts.data());
    return parts;
}

} // namespace headroom::networks
