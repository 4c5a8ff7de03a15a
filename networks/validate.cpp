#include "networks/names.hpp"
#include "networks/network.hpp"
#include "networks/read_parts.hpp"
#include "networks/same_flow.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <set>

namespace headroom::networks {
namespace {

std::string suggestion(const std::string &name, const std::vector<std::string> &known,
                       std::string otherwise) {
    const std::string near = nearest(name, known);
    return near.empty() ? std::move(otherwise) : fmt::format("did you mean `{}`?", near);
}

void check_unique_names(const House &house, Diagnostics &diagnostics) {
    std::set<std::string> runs;
    for (const Run &run : house.runs)
        if (!run.name.empty() && !runs.insert(run.name).second)
            diagnostics.error("duplicate-name", run.place,
                              fmt::format("there are two runs `{}`", run.name), "rename one");
    std::set<std::string> emitters;
    for (const Emitter &emitter : house.emitters)
        if (!emitter.name.empty() && !emitters.insert(emitter.name).second)
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

// A place reference must be a place that a run leads to.
void check_place(const std::string &name, Place place, std::string_view what, const Names &names,
                 Diagnostics &diagnostics) {
    if (!name.empty() && !names.place(name))
        diagnostics.error("unconnected", place,
                          fmt::format("no run leads to `{}`, where {}", name, what),
                          suggestion(name, names.places(), "add a run that ends there"));
}

void check_references(const House &house, const Names &names, Diagnostics &diagnostics) {
    for (const Run &run : house.runs) {
        if (!run.one_way)
            continue;
        for (const auto &[end, place] :
             {std::pair(&run.from, run.from_place), std::pair(&run.to, run.to_place)})
            if (names.place(*end))
                diagnostics.error("which-side", place,
                                  fmt::format("one-way run `{}` ends at `{}`, which has a flow and "
                                              "a return side",
                                              run.name, *end),
                                  fmt::format("write `{}.flow` or `{}.return`", *end, *end));
    }
    for (const Emitter &emitter : house.emitters) {
        if (!emitter.to.empty()) {
            if (emitter.to == emitter.from)
                diagnostics.error("same-ends", emitter.to_place,
                                  fmt::format("radiator `{}` ends where it starts", emitter.name),
                                  "give it two different ends");
            check_junction(emitter.from, emitter.from_place, names, diagnostics);
            check_junction(emitter.to, emitter.to_place, names, diagnostics);
        } else {
            check_place(emitter.from, emitter.from_place,
                        fmt::format("`{}` is fed from", emitter.name), names, diagnostics);
        }
    }
    for (const Bypass &bypass : house.bypasses)
        check_place(bypass.at, bypass.at_place, "the bypass is", names, diagnostics);
    if (house.hot_water)
        check_place(house.hot_water->from, house.hot_water->from_place, "the diverter is", names,
                    diagnostics);
}

/// A part that no run leads to.
struct Unreached {
    std::string name;
    Place place;
    std::string message;
    std::string help;
};

std::vector<Unreached> unreached_parts(const House &house, const Names &names,
                                       const std::set<std::string> &one_way_places) {
    std::vector<Unreached> out;
    const auto reached = [&](const std::string &place) {
        return names.runs_at(place) > 0 || one_way_places.contains(place);
    };
    for (const Manifold &manifold : house.manifolds)
        if (!reached(manifold.name))
            out.push_back({manifold.name, manifold.place,
                           fmt::format("no run leads to manifold `{}`", manifold.name),
                           "add a run under `pipework:` with `to:` this manifold"});
    if (house.separator && !reached(house.separator->name))
        out.push_back({house.separator->name, house.separator->place, "no run leads to the header",
                       "add a run `from: source` `to: header`"});
    if (house.source && !reached("source"))
        out.push_back({"source", house.source->place, "no run leaves the source",
                       "add a run `from: source`"});
    return out;
}

// A place or junction that one run reaches and nothing else is at is a slip of the pen; so is a
// part that no run reaches. Where the first explains the second, only the first is reported.
void check_connections(const House &house, const Names &names, Diagnostics &diagnostics) {
    std::set<std::string> one_way_places;
    std::map<std::string, int> uses; // of places by other than runs, of junctions by all
    for (const Run &run : house.runs)
        if (run.one_way)
            for (const std::string *end : {&run.from, &run.to}) {
                ++uses[*end];
                one_way_places.insert(end->substr(0, end->rfind('.')));
            }
    for (const Emitter &emitter : house.emitters) {
        ++uses[emitter.from];
        ++uses[emitter.to];
    }
    for (const Bypass &bypass : house.bypasses)
        ++uses[bypass.at];
    for (const Manifold &manifold : house.manifolds)
        ++uses[manifold.name];
    for (const HeldPressure &end : house.held)
        ++uses[end.at];
    for (const OpenVessel &end : house.vessels)
        ++uses[end.at];
    for (const FixedFlow &end : house.fixed)
        ++uses[end.at];
    if (house.hot_water)
        ++uses[house.hot_water->from];

    std::vector<Unreached> unreached = unreached_parts(house, names, one_way_places);
    const auto dead = [&](const std::string &name, bool one_way) {
        if (one_way)
            return names.junction(name) && uses[name] == 1;
        return names.runs_at(name) == 1 && name != "source" && uses[name] == 0 &&
               !one_way_places.contains(name) &&
               !(house.separator && name == house.separator->name);
    };
    for (const Run &run : house.runs)
        for (const auto &[end, place] :
             {std::pair(&run.from, run.from_place), std::pair(&run.to, run.to_place)}) {
            if (!dead(*end, run.one_way))
                continue;
            std::vector<std::string> others = run.one_way ? names.points() : names.places();
            std::erase(others, *end);
            std::string meant = nearest(*end, others);
            if (meant.empty() && unreached.size() == 1)
                meant = unreached.front().name;
            std::erase_if(unreached, [&](const Unreached &part) { return part.name == meant; });
            std::string message =
                fmt::format("run `{}` leads to `{}`, where nothing else is", run.name, *end);
            std::string help = meant.empty() ? "add what is there, or remove the run"
                                             : fmt::format("did you mean `{}`?", meant);
            // An open network may well end in a main that nobody draws from.
            if (run.one_way && meant.empty() && !house.source)
                diagnostics.warning("dead-end", place, std::move(message), std::move(help));
            else
                diagnostics.error("dead-end", place, std::move(message), std::move(help));
        }
    for (const Unreached &part : unreached)
        diagnostics.error("unconnected", part.place, part.message, part.help);
}

void check_junction_levels(const Reading &reading, const Names &names) {
    for (const Text &junction : reading.junction_levels)
        if (!names.place(junction.value) && !names.junction(junction.value) &&
            !names.side_of_place(junction.value))
            reading.diagnostics.error(
                "unknown-junction", junction.place,
                fmt::format("nothing joins at `{}`, so it needs no level", junction.value),
                suggestion(junction.value, names.all(), "name the end of a run, or remove it"));
}

void check_ends(const House &house, const Names &names, Diagnostics &diagnostics) {
    std::set<std::string> held;
    const auto hold = [&](const std::string &at, Place place) {
        check_junction(at, place, names, diagnostics);
        if (!at.empty() && !held.insert(at).second)
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
        check_junction(house.fill->at, house.fill->place, names, diagnostics);
        check_junction(house.fill->safety_valve_at, house.fill->safety_valve_place, names,
                       diagnostics);
    }
    if (!diagnostics.has_errors() && !house.source && house.held.empty() && house.vessels.empty() &&
        house.fixed.empty())
        diagnostics.error("nothing-drives", {},
                          "the house has no `source`, and the network no `ends`",
                          "add a `source:` with its circulator");
}

void check_tees(const House &house, const Names &names, Diagnostics &diagnostics) {
    for (const Tee &tee : house.tees) {
        if (tee.at.empty())
            continue;
        if (!names.place(tee.at) && !names.junction(tee.at) && !names.side_of_place(tee.at)) {
            diagnostics.error("unknown-junction", tee.at_place,
                              fmt::format("nothing joins at `{}`", tee.at),
                              suggestion(tee.at, names.all(), "name the end of a run"));
            continue;
        }
        const std::set<std::string> legs{tee.combined, tee.through, tee.branch};
        if (legs.size() < 3 && !legs.contains(""))
            diagnostics.error("same-leg", tee.branch_place, "a tee joins three different runs",
                              "name the three runs that meet there");
        for (const auto &[leg, place] : {std::pair(&tee.combined, tee.combined_place),
                                         std::pair(&tee.through, tee.through_place),
                                         std::pair(&tee.branch, tee.branch_place)}) {
            bool found = leg->empty();
            for (const Run &run : house.runs)
                found = found || (run.name == *leg && (run.from == tee.at || run.to == tee.at));
            for (const Emitter &emitter : house.emitters)
                found = found ||
                        (emitter.name == *leg && (emitter.from == tee.at || emitter.to == tee.at));
            if (!found)
                diagnostics.error("unknown-leg", place,
                                  fmt::format("no run or radiator `{}` ends at `{}`", *leg, tee.at),
                                  "name the three runs that meet there");
        }
    }
}

// Water cannot come back colder than the room it heats.
void check_temperatures(const House &house, Diagnostics &diagnostics) {
    if (!house.source)
        return;
    if (!house.source->flow_temperature_given) {
        // Found from the emitters, if each says how it gives its heat.
        const auto tells = [](const Emitter &emitter) {
            return !std::holds_alternative<std::monostate>(emitter.emission);
        };
        if (!std::all_of(house.emitters.begin(), house.emitters.end(), tells) ||
            house.emitters.empty())
            diagnostics.error("missing-key", house.source->place,
                              "source has no `flow_temperature`",
                              "the water temperature the source sends on the design day, such as "
                              "`flow_temperature: 40 degC`; it may be left out where every loop "
                              "lies in a described `floor` and every radiator has its `output`");
        return;
    }
    const auto back_c = [&](const Emitter &emitter) {
        return house.source->flow_temperature_c - emitter.drop_k;
    };
    const auto cold = [&](const Emitter &emitter) { return back_c(emitter) <= emitter.indoor_c; };
    const auto first = std::find_if(house.emitters.begin(), house.emitters.end(), cold);
    if (first == house.emitters.end())
        return;
    const auto others = std::count_if(house.emitters.begin(), house.emitters.end(), cold) - 1;
    diagnostics.error("too-cold", first->place,
                      fmt::format("water would leave `{}` at {}, but its room is to be {}{}",
                                  first->name, written(back_c(*first), Dimension::Temperature),
                                  written(first->indoor_c, Dimension::Temperature),
                                  others > 0 ? fmt::format(" (and so for {} more)", others) : ""),
                      "raise the source's `flow_temperature` or lower the `drop`");
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

void check_junction(const std::string &name, Place place, const Names &names,
                    Diagnostics &diagnostics) {
    if (name.empty() || names.junction(name) || names.side_of_place(name))
        return;
    if (names.place(name))
        diagnostics.error("which-side", place,
                          fmt::format("`{}` has a flow and a return side", name),
                          fmt::format("write `{}.flow` or `{}.return`", name, name));
    else
        diagnostics.error("unknown-junction", place, fmt::format("nothing joins at `{}`", name),
                          suggestion(name, names.points(), "name the end of a run"));
}

void validate(Reading &reading) {
    const House &house = reading.house;
    check_unique_names(house, reading.diagnostics);
    if (!reading.places_known)
        return;
    const Names names(house);
    check_references(house, names, reading.diagnostics);
    check_connections(house, names, reading.diagnostics);
    check_junction_levels(reading, names);
    check_ends(house, names, reading.diagnostics);
    check_tees(house, names, reading.diagnostics);
    check_readings(house, names, reading.diagnostics);
    check_temperatures(house, reading.diagnostics);
    check_slips(reading);
    if (!reading.diagnostics.has_errors())
        check_floor_areas(reading);
    if (!reading.diagnostics.has_errors())
        check_circuits(house, reading.diagnostics);
    if (!reading.diagnostics.has_errors())
        validate_protection(reading);
    if (!reading.diagnostics.has_errors())
        warn_of_cold_rooms(reading);
}

} // namespace headroom::networks
