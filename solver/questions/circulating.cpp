#include "solver/questions/circulating.hpp"

#include "networks/same_flow.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>

namespace headroom::solver {

using networks::House;
using networks::Link;
using networks::Network;

namespace {

using Zones = std::vector<std::string>;

// For each loop and radiator whether water can pass it.
std::vector<char> served(const House &house, const Zones &open) {
    const Network network = as_built(with_zones(house, open));
    const std::vector<char> passed = on_closed_way(network);
    std::vector<char> out(network.emitters.size());
    for (std::size_t i = 0; i < network.emitters.size(); ++i) {
        const std::vector<networks::LinkId> &links = network.emitters[i].links;
        out[i] = std::all_of(links.begin(), links.end(),
                             [&](networks::LinkId link) { return passed[link] != 0; });
    }
    return out;
}

Zones without(Zones zones, const std::string &zone) {
    std::erase(zones, zone);
    return zones;
}

// Zones taken out one by one as long as the rest serves it: of two ways to it one is kept.
Zones one_way_to(const House &house, std::size_t emitter, const Zones &all) {
    Zones open = all;
    for (const std::string &zone : all)
        if (served(house, without(open, zone))[emitter])
            open = without(open, zone);
    return open;
}

bool holds(const Zones &set, const Zones &part) {
    return std::all_of(part.begin(), part.end(), [&](const std::string &zone) {
        return std::find(set.begin(), set.end(), zone) != set.end();
    });
}

} // namespace

Network as_built(House house) {
    house.condition = {};
    return networks::expand(house);
}

std::vector<char> on_closed_way(const Network &network) {
    std::vector<std::size_t> vertex(network.nodes.size());
    for (std::size_t v = 0; v < vertex.size(); ++v)
        vertex[v] = v + 1;
    for (const networks::NodePressure &held : network.held)
        vertex[held.node] = 0;
    std::vector<networks::GraphEdge> edges;
    std::vector<std::size_t> link_of;
    for (std::size_t e = 0; e < network.links.size(); ++e) {
        const Link &link = network.links[e];
        if (std::holds_alternative<networks::Shut>(link.component))
            continue;
        edges.push_back({vertex[link.from], vertex[link.to]});
        link_of.push_back(e);
    }
    for (const networks::NodeFlow &fixed : network.fixed)
        edges.push_back({0, vertex[fixed.node]});
    const networks::SameFlow classes = networks::same_flow_classes(network.nodes.size() + 1, edges);
    std::vector<char> out(network.links.size(), 0);
    std::vector<networks::GraphEdge> closed;
    for (std::size_t i = 0; i < link_of.size(); ++i)
        if (classes.class_of[i] != networks::SameFlow::none) {
            out[link_of[i]] = 1;
            closed.push_back(edges[i]);
        }
    if (!network.source)
        return out;
    const auto part = networks::connected_parts(network.nodes.size() + 1, closed);
    const std::size_t pump = network.source->pump;
    for (std::size_t i = 0; i < link_of.size(); ++i)
        if (!out[pump] || part[edges[i].from] != part[vertex[network.links[pump].from]])
            out[link_of[i]] = 0;
    return out;
}

std::vector<Zones> least_zone_sets(const House &house) {
    const Zones all = zone_names(house);
    const std::vector<char> ever = served(house, all);
    std::vector<Zones> asked(ever.size());
    for (const std::string &zone : all) {
        const std::vector<char> still = served(house, without(all, zone));
        for (std::size_t i = 0; i < ever.size(); ++i)
            if (ever[i] && !still[i])
                asked[i].push_back(zone);
    }
    std::vector<Zones> out;
    for (std::size_t i = 0; i < ever.size(); ++i) {
        if (!ever[i])
            continue;
        if (!served(house, asked[i])[i])
            asked[i] = one_way_to(house, i, all);
        if (std::find(out.begin(), out.end(), asked[i]) == out.end())
            out.push_back(asked[i]);
    }
    std::erase_if(out, [found = out](const Zones &set) {
        return std::any_of(found.begin(), found.end(), [&](const Zones &other) {
            return other.size() < set.size() && holds(set, other);
        });
    });
    return out;
}

} // namespace headroom::solver
