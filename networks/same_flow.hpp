// Which edges of a graph must carry the same flow, whatever the flows are: edges that together cut
// the graph in two (2-edge cuts). Such a class is a series chain, or the flow and return pipe of
// one branch, and can be solved as a single unknown.
#pragma once

#include <cstddef>
#include <vector>

namespace headroom::networks {

struct GraphEdge {
    std::size_t from;
    std::size_t to;
};

struct SameFlow {
    /// Class of each edge, or `none` for a bridge, which carries nothing.
    std::vector<std::size_t> class_of;
    /// +1 or -1: the edge's direction against its class's; 0 for a bridge.
    std::vector<int> sign;
    std::size_t classes = 0;

    static constexpr std::size_t none = static_cast<std::size_t>(-1);
};

/// Every edge outside a spanning forest sends a random amount around its fundamental cycle; edges
/// whose totals are equal or opposite share a class. The amounts are 128 bits from a fixed seed, so
/// that two edges meet by chance with a probability below edges^2 / 2^128; the caller's check of
/// every law on the whole network would uncover such a meeting.
SameFlow same_flow_classes(std::size_t vertices, const std::vector<GraphEdge> &edges);

/// Connected part of each vertex, numbered from 0 in the order of first vertices.
std::vector<std::size_t> connected_parts(std::size_t vertices, const std::vector<GraphEdge> &edges);

} // namespace headroom::networks
