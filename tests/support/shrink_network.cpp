#include "tests/support/shrink_network.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::tests {

using namespace networks;

namespace {

void renumber(LinkId &link, LinkId gone) {
    if (link > gone)
        --link;
}

// Takes a link out of a list of links.
void leave_out(std::vector<LinkId> &links, LinkId gone) {
    std::erase(links, gone);
    for (LinkId &link : links)
        renumber(link, gone);
}

void leave_out(std::optional<LinkId> &link, LinkId gone) {
    if (link == gone)
        link.reset();
    else if (link)
        renumber(*link, gone);
}

void leave_out(EmitterLinks &emitter, LinkId gone) {
    leave_out(emitter.links, gone);
    leave_out(emitter.balancing, gone);
    leave_out(emitter.pipe, gone);
}

// Takes out what stands on the link, and numbers the rest anew.
template <class T, class... Member>
void leave_out(std::vector<T> &list, LinkId gone, Member... member) {
    std::erase_if(list, [&](const T &item) { return ((item.*member == gone) || ...); });
    for (T &item : list)
        (renumber(item.*member, gone), ...);
}

template <class T>
bool shorten(Network &network, std::vector<T> Network::*list, const auto &fails) {
    bool any = false;
    for (std::size_t i = (network.*list).size(); i-- > 0;) {
        Network fewer = network;
        (fewer.*list).erase((fewer.*list).begin() + static_cast<std::ptrdiff_t>(i));
        if (fails(fewer)) {
            network = fewer;
            any = true;
        }
    }
    return any;
}

bool drop_links(Network &network, const auto &fails) {
    bool any = false;
    for (LinkId e = network.links.size(); e-- > 0;) {
        Network fewer = without_link(network, e);
        if (fails(fewer)) {
            network = fewer;
            any = true;
        }
    }
    return any;
}

} // namespace

Network without_link(const Network &network, LinkId gone) {
    Network out = network;
    out.links.erase(out.links.begin() + static_cast<std::ptrdiff_t>(gone));
    if (out.source) {
        leave_out(out.source->inner, gone);
        if (out.source->pump == gone)
            out.source.reset();
        else
            renumber(out.source->pump, gone);
    }
    leave_out(out.separator, gone);
    for (EmitterLinks &emitter : out.emitters)
        leave_out(emitter, gone);
    std::erase_if(out.emitters, [](const EmitterLinks &emitter) { return emitter.links.empty(); });
    if (out.coil)
        leave_out(*out.coil, gone);
    leave_out(out.tees, gone, &TeeNode::combined, &TeeNode::through, &TeeNode::branch,
              &TeeNode::through_leg, &TeeNode::branch_leg);
    leave_out(out.mixers, gone, &MixerNode::hot, &MixerNode::cold);
    for (RoomLinks &room : out.rooms)
        leave_out(room.emitters, gone);
    return out;
}

Network shrunk_network(Network network, const std::function<bool(const Network &)> &fails) {
    for (bool smaller = true; smaller;) {
        smaller = drop_links(network, fails);
        smaller |= shorten(network, &Network::held, fails);
        smaller |= shorten(network, &Network::fixed, fails);
        smaller |= shorten(network, &Network::tees, fails);
    }
    return network;
}

std::string described(const Network &network) {
    static constexpr const char *kinds[] = {
        "pipe", "local loss",   "Kv",           "one way",      "flow limiter",
        "shut", "running pump", "stopped pump", "leg of a tee", "pressure rise"};
    static_assert(std::size(kinds) == std::variant_size_v<Component>);
    std::string text;
    for (const Link &link : network.links)
        text += fmt::format("{}: {} to {}, {}\n", link.name, network.nodes[link.from].name,
                            network.nodes[link.to].name, kinds[link.component.index()]);
    for (const NodePressure &held : network.held)
        text += fmt::format("{} held at {} Pa\n", network.nodes[held.node].name, held.pressure_pa);
    for (const NodeFlow &fixed : network.fixed)
        text += fmt::format("{} kg/s into {}\n", fixed.in_kg_s, network.nodes[fixed.node].name);
    return text;
}

} // namespace headroom::tests
