#include "solver/heat/emission.hpp"
#include "solver/questions/drill_work.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::EmitterLinks;
using networks::House;
using networks::LinkId;

constexpr double no_flow_share = 1e-3; // of a loop's flow; less is no water
constexpr double above_k = 0.01;       // more above a limit than the solution's own tolerance

// The link that gives the emitter's heat.
LinkId heat_link(const DrillState &state, const EmitterLinks &emitter) {
    for (LinkId id : emitter.links)
        if (state.network.links[id].exchange.kind == networks::Exchange::Kind::Emitter)
            return id;
    return emitter.links.front();
}

double heat_w(const DrillState &state, const EmitterLinks &emitter) {
    const LinkId id = heat_link(state, emitter);
    return std::abs(state.solution.flow_kg_s[id]) * mean_heat_capacity_j_kg_k(state.network) *
           (state.solution.heat.in_c[id] - state.solution.heat.out_c[id]);
}

double room_c(const House &house, const DrillState &state, const Emitter &emitter) {
    for (const RoomBalance &room : state.solution.rooms)
        if (house.rooms[room.room].name == emitter.room)
            return room.reached_c;
    return emitter.indoor_c;
}

void add_surface(const DrillWork &work, const DrillState &state, const Emitter &emitter,
                 double water_c, double flow_kg_s, FloorWater &out) {
    const auto *part = std::get_if<networks::FloorPart>(&emitter.emission);
    const double room = room_c(work.house, state, emitter);
    if (part == nullptr || water_c <= room)
        return;
    const double surface =
        emitter_heat(emitter.emission, work.house.fluid, water_c, room, flow_kg_s)
            .surface_highest_c;
    if (out.surface_c && surface <= *out.surface_c)
        return;
    out.surface_c = surface;
    out.surface_limit_c = emitter.surface_limit_c
                              ? *emitter.surface_limit_c
                              : work.house.habits[networks::Habit::SurfaceLimit];
}

} // namespace

DrillState drill_state(const House &house) {
    DrillState state{networks::expand(house), {}};
    state.solution = solve(state.network, &house);
    return state;
}

double felt_c(const networks::Stat &stat, const DrillState &state) {
    const networks::Network &network = state.network;
    std::optional<std::size_t> at;
    for (std::size_t v = 0; v < network.nodes.size(); ++v)
        if (network.nodes[v].name == stat.point + ", heating side" ||
            (!at && network.nodes[v].name == stat.point))
            at = v;
    if (!at)
        return still_room_c;
    double passing = 0.0;
    for (LinkId id = 0; id < network.links.size(); ++id)
        if (network.links[id].from == *at || network.links[id].to == *at)
            passing += 0.5 * std::abs(state.solution.flow_kg_s[id]);
    return still_room_c + moving_share(passing) * (state.solution.heat.node_c[*at] - still_room_c);
}

House with_stat_tripped(House house, const networks::Stat &stat) {
    if (stat.pump_run)
        house.runs[*stat.pump_run].pump->mode = networks::PumpMode::Stopped;
    if (stat.valve && house.runs[stat.valve->first].parts[stat.valve->second].falls_shut)
        house.runs[stat.valve->first].parts[stat.valve->second].open = false;
    return house;
}

double source_flow_m3_s(const DrillState &state) {
    const LinkId pump = state.network.source->pump;
    return state.solution.flow_kg_s[pump] / state.solution.fluid[pump].density_kg_m3;
}

double run_flow_kg_s(const DrillState &state, std::size_t run) {
    for (LinkId id = 0; id < state.network.links.size(); ++id) {
        const networks::Owner &owner = state.network.links[id].owner;
        if (owner.kind == networks::Owner::Kind::Run && owner.index == run &&
            owner.side == networks::Side::Flow)
            return state.solution.flow_kg_s[id];
    }
    return 0.0;
}

double heat_taken_w(const DrillState &state, double sent_c) {
    const double flow = state.solution.flow_kg_s[state.network.source->pump];
    const auto arrives = flow >= 0.0 ? state.network.source->back : state.network.source->flow;
    return std::abs(flow) * mean_heat_capacity_j_kg_k(state.network) *
           (sent_c - state.solution.heat.node_c[arrives]);
}

FloorWater floor_water(const DrillWork &work, const DrillState &state, std::size_t manifold) {
    FloorWater out;
    double free = 0.0;
    double flow = 0.0;
    for (const EmitterLinks &links : state.network.emitters) {
        const auto &loops = work.house.manifolds[manifold].loops;
        if (std::find(loops.begin(), loops.end(), links.emitter) == loops.end())
            continue;
        const Emitter &emitter = work.house.emitters[links.emitter];
        const LinkId id = heat_link(state, links);
        const double passes = std::abs(state.solution.flow_kg_s[id]);
        flow += passes;
        free += work.free_kg_s[links.emitter];
        out.flow_m3_s += passes / state.solution.fluid[id].density_kg_m3;
        const double share = passes / work.free_kg_s[links.emitter];
        const double limit = floor_limit_c(work.house, emitter);
        if (out.loop.empty()) {
            out.loop = emitter.name;
            out.limit_c = limit;
        }
        if (share < no_flow_share)
            continue;
        const double water = state.solution.heat.in_c[id];
        if (!out.water_c || water - limit > *out.water_c - out.limit_c) {
            out.water_c = water;
            out.limit_c = limit;
            out.loop = emitter.name;
        }
        out.too_hot = out.too_hot || (share >= creep_share && water > limit + above_k);
        add_surface(work, state, emitter, water, passes, out);
    }
    out.flow_share = free > 0.0 ? flow / free : 0.0;
    return out;
}

std::vector<RoomShare> room_shares(const DrillWork &work, const DrillState &state) {
    struct Sum {
        std::string room;
        double wanted_c, needs_w, gets_w;
    };
    const House &house = work.house;
    std::vector<Sum> sums;
    for (const EmitterLinks &links : state.network.emitters) {
        const Emitter &emitter = house.emitters[links.emitter];
        const std::string &name = emitter.room.empty() ? emitter.name : emitter.room;
        auto at = std::find_if(sums.begin(), sums.end(),
                               [&](const Sum &sum) { return sum.room == name; });
        if (at == sums.end())
            at = sums.insert(sums.end(), {name, emitter.indoor_c, 0.0, 0.0});
        at->needs_w += emitter.heat_w;
        at->gets_w += heat_w(state, links);
    }
    std::vector<RoomShare> out;
    for (const Sum &sum : sums) {
        RoomShare room{sum.room, sum.gets_w / sum.needs_w, std::nullopt, sum.wanted_c};
        for (const RoomBalance &balance : state.solution.rooms)
            if (house.rooms[balance.room].name == sum.room && house.outdoor_c) {
                room.reached_c = balance.reached_c;
                room.share =
                    (balance.reached_c - *house.outdoor_c) / (sum.wanted_c - *house.outdoor_c);
            }
        out.push_back(std::move(room));
    }
    return out;
}

} // namespace headroom::solver
