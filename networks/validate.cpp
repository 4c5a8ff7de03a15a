#include "networks/network.hpp"
#include "networks/read_parts.hpp"
#include "networks/same_flow.hpp"

#include <fmt/format.h>
#include <map>
#include <set>

namespace headroom::networks {
namespace {

/// Every place (a flow and a return) and junction (a single point) that the house names.
class Names {
public:
    explicit Names(const House &house) {
        for (const Run &run : house.runs)
            if (!run.one_way) {
                ++runs_at_[run.from];
                ++runs_at_[run.to];
            }
        for (const auto &[name, count] : runs_at_)
            places_.insert(name);
        if (house.source)
            places_.insert("source");
        if (house.separator)
            places_.insert(house.separator->name);
        for (const Manifold &manifold : house.manifolds)
            places_.insert(manifold.name);
        for (const Run &run : house.runs)
            if (run.one_way) {
                add_junction(run.from);
                add_junction(run.to);
            }
    }

    bool place(const std::string &name) const { return places_.contains(name); }
    bool junction(const std::string &name) const { return junctions_.contains(name); }
    /// "X.flow" or "X.return" of a place.
    bool side_of_place(const std::string &name) const {
        for (const char *side : {".flow", ".return"})
            if (name.ends_with(side) &&
                place(name.substr(0, name.size() - std::string_view(side).size())))
                return true;
        return false;
    }
    int runs_at(const std::string &name) const {
        const auto found = runs_at_.find(name);
        return found == runs_at_.end() ? 0 : found->second;
    }
    const std::map<std::string, int> &two_way() const { return runs_at_; }
    std::vector<std::string> all() const {
        std::vector<std::string> out(places_.begin(), places_.end());
        out.insert(out.end(), junctions_.begin(), junctions_.end());
        return out;
    }
    std::vector<std::string> places() const { return {places_.begin(), places_.end()}; }

private:
    void add_junction(const std::string &name) {
        if (!side_of_place(name) && !places_.contains(name))
            junctions_.insert(name);
    }
    std::map<std::string, int> runs_at_;
    std::set<std::string> places_;
    std::set<std::string> junctions_;
};

std::string suggestion(const std::string &name, const std::vector<std::string> &known,
                       std::string otherwise) {
    const std::string near = nearest(name, known);
    return near.empty() ? std::move(otherwise) : fmt::format("did you mean `{}`?", near);
}

void check_unique_names(const House &house, Diagnostics &diagnostics) {
    std::set<std::string> runs;
    for (const Run &run : house.runs)
        if (!runs.insert(run.name).second)
            diagnostics.error("duplicate-name", run.place,
                              fmt::format("there are two runs `{}`", run.name), "rename one");
    std::set<std::string> emitters;
    for (const Emitter &emitter : house.emitters)
        if (!emitters.insert(emitter.name).second)
            diagnostics.error("duplicate-name", emitter.place,
                              fmt::format("there are two loops or radiators `{}`", emitter.name),
                              "rename one");
    for (const Manifold &manifold : house.manifolds)
        if (manifold.name == "source" || manifold.name == "header")
            diagnostics.error(
                "duplicate-name", manifold.place,
                fmt::format("`{}` already names another part of the house", manifold.name),
                "rename the manifold");
}

// A junction reference must be a junction of one-way runs or one side of a place.
void check_junction(const std::string &name, Place place, const Names &names,
                    Diagnostics &diagnostics) {
    if (names.junction(name) || names.side_of_place(name))
        return;
    if (names.place(name))
        diagnostics.error("which-side", place,
                          fmt::format("`{}` has a flow and a return side", name),
                          fmt::format("write `{}.flow` or `{}.return`", name, name));
    else
        diagnostics.error("unknown-junction", place, fmt::format("nothing joins at `{}`", name),
                          suggestion(name, names.all(), "name the end of a run"));
}

void check_connections(const House &house, const Names &names, Diagnostics &diagnostics) {
    for (const Run &run : house.runs) {
        if (!run.one_way)
            continue;
        for (const std::string *end : {&run.from, &run.to})
            if (names.place(*end))
                diagnostics.error("which-side", run.place,
                                  fmt::format("one-way run `{}` ends at `{}`, which has a flow and "
                                              "a return side",
                                              run.name, *end),
                                  fmt::format("write `{}.flow` or `{}.return`", *end, *end));
    }
    std::set<std::string> one_way_places;
    for (const Run &run : house.runs)
        if (run.one_way)
            for (const std::string *end : {&run.from, &run.to})
                if (const std::size_t dot = end->rfind('.'); dot != std::string::npos)
                    one_way_places.insert(end->substr(0, dot));
    const auto reached = [&](const std::string &place) {
        return names.runs_at(place) > 0 || one_way_places.contains(place);
    };
    for (const Manifold &manifold : house.manifolds)
        if (!reached(manifold.name))
            diagnostics.error("unconnected", manifold.place,
                              fmt::format("no run leads to manifold `{}`", manifold.name),
                              "add a run under `pipework:` with `to:` this manifold");
    if (house.separator && !reached(house.separator->name))
        diagnostics.error("unconnected", house.separator->place, "no run leads to the header",
                          "add a run `from: source` `to: header`");
    if (house.source && !reached("source"))
        diagnostics.error("unconnected", house.source->place, "no run leaves the source",
                          "add a run `from: source`");
    for (const Emitter &emitter : house.emitters) {
        if (!emitter.to.empty()) {
            check_junction(emitter.from, emitter.place, names, diagnostics);
            check_junction(emitter.to, emitter.place, names, diagnostics);
        } else if (!names.place(emitter.from)) {
            diagnostics.error(
                "unconnected", emitter.place,
                fmt::format("no run leads to `{}`, where `{}` is fed from", emitter.from,
                            emitter.name),
                suggestion(emitter.from, names.places(), "add a run that ends there"));
        }
    }
    for (const Bypass &bypass : house.bypasses)
        if (!names.place(bypass.at))
            diagnostics.error("unconnected", bypass.place,
                              fmt::format("no run leads to `{}`, where the bypass is", bypass.at),
                              suggestion(bypass.at, names.places(), "add a run that ends there"));
    if (house.hot_water && !names.place(house.hot_water->from))
        diagnostics.error(
            "unconnected", house.hot_water->place,
            fmt::format("no run leads to `{}`, where the diverter is", house.hot_water->from),
            suggestion(house.hot_water->from, names.places(), "use `from: source`"));
    // A place that one run reaches and nothing else is at is a slip of the pen.
    std::set<std::string> used;
    for (const Emitter &emitter : house.emitters)
        used.insert(emitter.from);
    for (const Bypass &bypass : house.bypasses)
        used.insert(bypass.at);
    for (const auto &[name, count] : names.two_way()) {
        const bool is_end = name == "source" || used.contains(name) ||
                            one_way_places.contains(name) ||
                            (house.separator && name == house.separator->name);
        if (count > 1 || is_end)
            continue;
        for (const Run &run : house.runs)
            if (!run.one_way && (run.from == name || run.to == name)) {
                std::vector<std::string> others = names.places();
                std::erase(others, name);
                diagnostics.error(
                    "dead-end", run.place,
                    fmt::format("run `{}` leads to `{}`, where nothing else is", run.name, name),
                    suggestion(name, others, "add what is there, or remove the run"));
            }
    }
}

void check_ends(const House &house, const Names &names, Diagnostics &diagnostics) {
    std::set<std::string> held;
    const auto hold = [&](const std::string &at, Place place) {
        check_junction(at, place, names, diagnostics);
        if (!held.insert(at).second)
            diagnostics.error("two-references", place,
                              fmt::format("two pressures are held at `{}`", at), "keep one");
    };
    for (const HeldPressure &end : house.held)
        hold(end.at, end.place);
    for (const OpenVessel &vessel : house.vessels)
        hold(vessel.at, vessel.place);
    for (const FixedFlow &flow : house.fixed)
        check_junction(flow.at, flow.place, names, diagnostics);
    if (house.fill) {
        if (!held.empty())
            diagnostics.error("two-references",
                              house.held.empty() ? house.vessels.front().place
                                                 : house.held.front().place,
                              "the pressure is set twice: by `fill` and by a held end",
                              "an expansion vessel belongs to a closed system, held pressures and "
                              "open vessels to an open one; keep one kind");
        check_junction(house.fill->at, {}, names, diagnostics);
    }
    if (!house.source && house.held.empty() && house.vessels.empty() && house.fixed.empty())
        diagnostics.error("nothing-drives", {},
                          "the house has no `source`, and the network no `ends`",
                          "add a `source:` with its circulator");
}

void check_tees(const House &house, const Names &names, Diagnostics &diagnostics) {
    for (const Tee &tee : house.tees) {
        if (!names.place(tee.at) && !names.junction(tee.at) && !names.side_of_place(tee.at))
            diagnostics.error("unconnected", tee.place,
                              fmt::format("nothing joins at `{}`", tee.at),
                              suggestion(tee.at, names.all(), "name the end of a run"));
        for (const std::string *leg : {&tee.combined, &tee.through, &tee.branch}) {
            bool found = false;
            for (const Run &run : house.runs)
                found = found || (run.name == *leg && (run.from == tee.at || run.to == tee.at));
            for (const Emitter &emitter : house.emitters)
                found = found ||
                        (emitter.name == *leg && (emitter.from == tee.at || emitter.to == tee.at));
            if (!found)
                diagnostics.error("unknown-leg", tee.place,
                                  fmt::format("no run or radiator `{}` ends at `{}`", *leg, tee.at),
                                  "name the three runs that meet there");
        }
    }
}

// Water that cannot come back does not flow: every emitter must lie on a circuit.
void check_circuits(const House &house, Diagnostics &diagnostics) {
    const Network network = expand(house);
    const std::size_t ground = network.nodes.size();
    std::vector<GraphEdge> edges;
    for (const Link &link : network.links)
        edges.push_back({link.from, link.to});
    for (const NodePressure &held : network.held)
        edges.push_back({ground, held.node});
    for (const NodeFlow &fixed : network.fixed)
        edges.push_back({ground, fixed.node});
    const SameFlow classes = same_flow_classes(network.nodes.size() + 1, edges);
    const std::vector<std::size_t> parts = connected_parts(network.nodes.size() + 1, edges);
    for (const EmitterLinks &emitter : network.emitters) {
        const Emitter &data = house.emitters[emitter.emitter];
        const LinkId link = emitter.links.front();
        const bool apart =
            network.source && parts[network.links[link].from] != parts[network.source->flow];
        if (classes.class_of[link] == SameFlow::none || apart)
            diagnostics.error("no-return", data.place,
                              fmt::format("`{}` has no way back to the source, so nothing can flow "
                                          "through it",
                                          data.name),
                              "check the ends of the one-way runs on its flow and return");
    }
    if (network.source && classes.class_of[network.source->pump] == SameFlow::none)
        diagnostics.error("no-return", house.source->place,
                          "no circuit leads from the source and back to it",
                          "every one-way run that leaves the source needs one that returns");
}

} // namespace

void validate(Reading &reading) {
    const House &house = reading.house;
    const Names names(house);
    check_unique_names(house, reading.diagnostics);
    check_connections(house, names, reading.diagnostics);
    check_ends(house, names, reading.diagnostics);
    check_tees(house, names, reading.diagnostics);
    if (!reading.diagnostics.has_errors())
        check_circuits(house, reading.diagnostics);
}

} // namespace headroom::networks
