#include "networks/protection.hpp"

#include "networks/network.hpp"
#include "networks/same_flow.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

using Runs = std::vector<std::size_t>;

std::string point_name(const std::string &place, bool one_way, Side side) {
    return one_way ? place : place + (side == Side::Flow ? ".flow" : ".return");
}

// A one-way run names the side it ends at.
std::string place_of(const std::string &end) {
    const std::string flow = ".flow";
    return end.ends_with(flow) ? end.substr(0, end.size() - flow.size()) : end;
}

bool holds(const Runs &runs, std::size_t run) {
    return std::find(runs.begin(), runs.end(), run) != runs.end();
}

// Floors whose water has passed the run, and why a stat on it cannot feel what they get.
void look_behind_run(const House &house, std::size_t r, Stat &stat) {
    const Run &run = house.runs[r];
    for (std::size_t m = 0; m < house.manifolds.size(); ++m) {
        const Runs path = feeding_runs(house, house.manifolds[m].name);
        const auto at = std::find(path.begin(), path.end(), r);
        if (at == path.end())
            continue;
        stat.floors.push_back(m);
        const auto mixes = [&](std::size_t k) { return house.runs[k].mixer.has_value(); };
        const auto behind = std::find_if(path.begin(), at, mixes);
        if (behind != at)
            stat.blind = fmt::format("it sits before the mixer of run {}, in water that is not yet "
                                     "mixed",
                                     house.runs[*behind].name);
        else if (stat.limit.at_start && run.mixer)
            stat.blind = "it sits before the mixer of its run, in water that is not yet mixed";
    }
    if (stat.floors.empty())
        stat.blind = "no floor is fed through its run";
}

std::optional<std::size_t> stopped_pump(const House &house, const Stat &stat, const Runs &near) {
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        if (!stat.limit.pump_run.empty() && house.runs[r].name == stat.limit.pump_run)
            return house.runs[r].pump ? std::optional(r) : std::nullopt;
    if (!stat.limit.pump_run.empty())
        return std::nullopt;
    const auto found = std::find_if(near.begin(), near.end(),
                                    [&](std::size_t r) { return house.runs[r].pump.has_value(); });
    return found == near.end() ? std::nullopt : std::optional(*found);
}

// The valve of that name on the runs nearby, or else the only one in the house.
std::optional<std::pair<std::size_t, std::size_t>>
shut_valve(const House &house, const std::string &name, const Runs &near) {
    const auto valve_in = [&](std::size_t r) -> std::optional<std::pair<std::size_t, std::size_t>> {
        for (std::size_t p = 0; p < house.runs[r].parts.size(); ++p)
            if (house.runs[r].parts[p].kind == Part::Kind::Zone &&
                house.runs[r].parts[p].name == name)
                return std::pair(r, p);
        return std::nullopt;
    };
    for (std::size_t r : near)
        if (const auto found = valve_in(r))
            return found;
    std::optional<std::pair<std::size_t, std::size_t>> only;
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        if (const auto found = valve_in(r)) {
            if (only)
                return std::nullopt;
            only = found;
        }
    return only;
}

void aim(const House &house, Stat &stat, const Runs &near) {
    if (stat.limit.side == Side::Return)
        stat.blind = "it sits on the return, behind the floor, where the water has already cooled";
    if (stat.limit.stops == HighLimit::Stops::Pump)
        stat.pump_run = stopped_pump(house, stat, near);
    else
        stat.valve = shut_valve(house, stat.limit.valve, near);
}

// Every valve in every position that parts something: all of them shut at once.
House all_shut(House house) {
    for (Run &run : house.runs) {
        for (Part &part : run.parts)
            if (part.kind != Part::Kind::Plain) {
                part.kind = Part::Kind::Zone;
                part.open = false;
            }
        if (run.mixer) {
            run.mixer->kv_m3_h = 0.0;
            run.mixer->set_c.reset();
        }
    }
    for (Emitter &emitter : house.emitters)
        emitter.balancing.kind = Balancing::Kind::Shut;
    house.bypasses.clear();
    house.condition = {};
    return house;
}

bool isolates(const Network &network, const House &house, const Link &link) {
    if (link.owner.kind != Owner::Kind::Run)
        return false;
    const Run &run = house.runs[link.owner.index];
    const RunSide &side = link.owner.side == Side::Flow ? run.flow : run.back;
    return !network.nodes.empty() &&
           std::any_of(side.fittings.begin(), side.fittings.end(), [](const FittingCount &f) {
               return f.name.find("valve") != std::string::npos &&
                      f.name.find("freeze") == std::string::npos;
           });
}

// Whether the way from the source to the node survives all valves shut, or only the isolating
// valves among fittings left open.
enum class Way { Open, ThroughIsolatingValves, Parted };

Way way_to(const House &shut, const Network &network, const std::string &point) {
    const auto at = std::find_if(network.nodes.begin(), network.nodes.end(),
                                 [&](const Node &node) { return node.name == point; });
    if (at == network.nodes.end() || !network.source)
        return Way::Open;
    const auto node = static_cast<std::size_t>(at - network.nodes.begin());
    const auto joined = [&](bool isolating_shut) {
        std::vector<GraphEdge> edges;
        for (const Link &link : network.links)
            if (!std::holds_alternative<Shut>(link.component) &&
                link.owner.kind != Owner::Kind::HotWater &&
                !(isolating_shut && isolates(network, shut, link)))
                edges.push_back({link.from, link.to});
        const auto parts = connected_parts(network.nodes.size(), edges);
        return parts[node] == parts[network.source->back];
    };
    return joined(true) ? Way::Open : joined(false) ? Way::ThroughIsolatingValves : Way::Parted;
}

} // namespace

Habit highest_habit(Source::Kind kind) {
    switch (kind) {
    case Source::Kind::HeatPump:
        return Habit::HighestHeatPump;
    case Source::Kind::SolidFuel:
        return Habit::HighestSolidFuel;
    case Source::Kind::Boiler:
        break;
    }
    return Habit::HighestBoiler;
}

double highest_flow_c(const House &house) {
    const Source &source = *house.source;
    return source.highest_c.value_or(house.habits[highest_habit(source.kind)]);
}

double highest_sent_c(const House &house) {
    return std::max(highest_flow_c(house), house.source->flow_temperature_c);
}

double manifold_limit_c(const House &house, const Manifold &manifold) {
    double limit_c = models::no_limit;
    for (const std::size_t loop : manifold.loops)
        limit_c = std::min(limit_c, floor_limit_c(house, house.emitters[loop]));
    return limit_c;
}

bool can_overheat(const House &house, const Manifold &manifold) {
    const double hot_water_c = house.hot_water ? house.hot_water->flow_temperature_c : 0.0;
    return std::max(highest_sent_c(house), hot_water_c) > manifold_limit_c(house, manifold);
}

std::vector<std::size_t> feeding_runs(const House &house, const std::string &place) {
    Runs path;
    std::string at = place;
    for (bool found = true; found && at != "source";) {
        found = false;
        for (std::size_t r = 0; r < house.runs.size() && !found; ++r)
            if (place_of(house.runs[r].to) == at && !holds(path, r)) {
                path.push_back(r);
                at = place_of(house.runs[r].from);
                found = true;
            }
    }
    return path;
}

std::vector<Stat> high_limit_stats(const House &house) {
    std::vector<Stat> stats;
    for (std::size_t r = 0; r < house.runs.size(); ++r) {
        const Run &run = house.runs[r];
        if (!run.high_limit)
            continue;
        Stat stat;
        stat.limit = *run.high_limit;
        stat.where = "run " + run.name;
        stat.point =
            point_name(stat.limit.at_start ? run.from : run.to, run.one_way, stat.limit.side);
        look_behind_run(house, r, stat);
        aim(house, stat, {r});
        stats.push_back(std::move(stat));
    }
    for (std::size_t m = 0; m < house.manifolds.size(); ++m) {
        const Manifold &manifold = house.manifolds[m];
        if (!manifold.high_limit)
            continue;
        Stat stat;
        stat.limit = *manifold.high_limit;
        stat.where = manifold.name;
        stat.point = point_name(manifold.name, false, stat.limit.side);
        stat.floors = {m};
        aim(house, stat, feeding_runs(house, manifold.name));
        stats.push_back(std::move(stat));
    }
    return stats;
}

std::vector<Parted> parted_from_source(const House &house) {
    std::vector<Parted> out;
    if (!house.fill || !house.source)
        return out;
    const House shut = all_shut(house);
    const Network network = expand(shut);
    const auto look = [&](const std::string &what, const std::string &at, Place place) {
        const Way way = at.empty() ? Way::Open : way_to(shut, network, at);
        if (way == Way::Open)
            return;
        Parted parted{what, at, place, way == Way::ThroughIsolatingValves, {}};
        for (const Link &link : network.links)
            if (parted.by_isolating_valves && isolates(network, shut, link))
                if (const std::string &name = shut.runs[link.owner.index].name;
                    parted.runs.empty() || parted.runs.back() != name)
                    parted.runs.push_back(name);
        out.push_back(std::move(parted));
    };
    look("the expansion vessel", house.fill->at, house.fill->place);
    look("the safety valve", house.fill->safety_valve_at, house.fill->safety_valve_place);
    return out;
}

bool is_heat_leak(const House &house, const Emitter &emitter) {
    if (!house.source || house.source->kind != Source::Kind::SolidFuel ||
        emitter.kind != Emitter::Kind::Radiator)
        return false;
    return std::any_of(house.runs.begin(), house.runs.end(), [&](const Run &run) {
        return run.name == house.source->heat_leak && run.to == emitter.from;
    });
}

std::vector<std::string> draining_glycol(const House &house) {
    std::vector<std::string> runs;
    if (house.fluid.kind != models::FluidKind::PropyleneGlycol &&
        house.fluid.kind != models::FluidKind::EthyleneGlycol)
        return runs;
    const auto drains = [](const FittingCount &f) { return f.name == "anti_freeze_valve"; };
    for (const Run &run : house.runs)
        if (std::any_of(run.flow.fittings.begin(), run.flow.fittings.end(), drains) ||
            (!run.one_way &&
             std::any_of(run.back.fittings.begin(), run.back.fittings.end(), drains)))
            runs.push_back(run.name);
    return runs;
}

} // namespace headroom::networks
