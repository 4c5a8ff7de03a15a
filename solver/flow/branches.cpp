#include "solver/flow/branches.hpp"

#include "networks/same_flow.hpp"

#include <algorithm>
#include <numeric>

namespace headroom::solver {
namespace {

using networks::GraphEdge;
using networks::SameFlow;

// Union-find with path halving; the smaller index is the root, so ground stays 0.
class Merged {
public:
    explicit Merged(std::size_t n) : parent_(n) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }
    std::size_t root(std::size_t v) {
        while (parent_[v] != v)
            v = parent_[v] = parent_[parent_[v]];
        return v;
    }
    void join(std::size_t a, std::size_t b) {
        a = root(a);
        b = root(b);
        parent_[std::max(a, b)] = std::min(a, b);
    }

private:
    std::vector<std::size_t> parent_;
};

// Vertices of the graph: ground is 0, node n is n + 1, and held nodes are the ground.
std::vector<std::size_t> vertices_of(const networks::Network &network) {
    std::vector<std::size_t> vertex(network.nodes.size());
    std::iota(vertex.begin(), vertex.end(), std::size_t{1});
    for (const networks::NodePressure &held : network.held)
        vertex[held.node] = 0;
    return vertex;
}

void add_bounds(Branch &branch, const networks::FlowBounds &bounds, int sign) {
    const double least = sign > 0 ? bounds.least_kg_s : -bounds.most_kg_s;
    const double most = sign > 0 ? bounds.most_kg_s : -bounds.least_kg_s;
    branch.bounds.least_kg_s = std::max(branch.bounds.least_kg_s, least);
    branch.bounds.most_kg_s = std::min(branch.bounds.most_kg_s, most);
}

} // namespace

void BranchSystem::list_members() {
    first_member.assign(branches.size() + 1, 0);
    for (std::uint32_t branch : branch_of)
        if (branch != no_branch)
            ++first_member[branch + 1];
    std::partial_sum(first_member.begin(), first_member.end(), first_member.begin());
    members.resize(first_member.back());
    std::vector<std::uint32_t> next(first_member.begin(), first_member.end() - 1);
    for (std::size_t e = 0; e < branch_of.size(); ++e)
        if (branch_of[e] != no_branch)
            members[next[branch_of[e]]++] = {static_cast<std::uint32_t>(e), sign_of[e]};
}

BranchSystem contract(const networks::Network &network) {
    const std::size_t links = network.links.size();
    const std::vector<std::size_t> vertex = vertices_of(network);
    std::vector<GraphEdge> edges;
    edges.reserve(links + network.fixed.size());
    for (const networks::Link &link : network.links)
        edges.push_back({vertex[link.from], vertex[link.to]});
    for (const networks::NodeFlow &fixed : network.fixed)
        edges.push_back({0, vertex[fixed.node]});
    const SameFlow classes = networks::same_flow_classes(network.nodes.size() + 1, edges);

    BranchSystem system;
    system.branch_of.assign(links, BranchSystem::no_branch);
    system.sign_of.resize(links);
    // The first link of a class stands for it; the others, and all bridges, are contracted away.
    std::vector<std::size_t> branch_of_class(classes.classes, SameFlow::none);
    Merged merged(network.nodes.size() + 1);
    for (std::size_t e = 0; e < links; ++e) {
        const std::size_t c = classes.class_of[e];
        if (c == SameFlow::none) {
            merged.join(edges[e].from, edges[e].to);
            continue;
        }
        if (branch_of_class[c] == SameFlow::none) {
            branch_of_class[c] = system.branches.size();
            system.branches.push_back({edges[e].from, edges[e].to, false, 0.0, {}});
            system.branches.back().bounds = {-models::no_limit, models::no_limit};
        } else {
            merged.join(edges[e].from, edges[e].to);
        }
        Branch &branch = system.branches[branch_of_class[c]];
        system.branch_of[e] = static_cast<std::uint32_t>(branch_of_class[c]);
        system.sign_of[e] = static_cast<std::int8_t>(classes.sign[e]);
        add_bounds(branch, networks::flow_bounds(network.links[e].component), classes.sign[e]);
    }
    system.list_members();
    // A class with a fixed flow in it carries that flow; the member's direction is the class's.
    for (std::size_t f = 0; f < network.fixed.size(); ++f) {
        const std::size_t c = classes.class_of[links + f];
        if (c == SameFlow::none || branch_of_class[c] == SameFlow::none)
            continue;
        Branch &branch = system.branches[branch_of_class[c]];
        branch.prescribed = true;
        branch.prescribed_kg_s = classes.sign[links + f] * network.fixed[f].in_kg_s;
    }
    for (Branch &branch : system.branches)
        if (!branch.prescribed && branch.bounds.least_kg_s >= branch.bounds.most_kg_s) {
            branch.prescribed = true;
            branch.prescribed_kg_s = branch.bounds.most_kg_s;
        }

    // Number the merged nodes, ground first.
    std::vector<std::size_t> number(network.nodes.size() + 1, SameFlow::none);
    number[0] = 0;
    for (Branch &branch : system.branches)
        for (std::size_t *end : {&branch.from, &branch.to}) {
            std::size_t &n = number[merged.root(*end)];
            if (n == SameFlow::none)
                n = system.nodes++;
            *end = n;
        }
    system.inflow_kg_s.resize(system.nodes);
    for (const networks::NodeFlow &fixed : network.fixed) {
        const std::size_t n = number[merged.root(vertex[fixed.node])];
        if (n == SameFlow::none)
            continue;
        system.inflow_kg_s[n] += fixed.in_kg_s;
        system.inflow_kg_s[0] -= fixed.in_kg_s;
    }
    return system;
}

} // namespace headroom::solver
