#include "solver/questions/heat_balance.hpp"

#include "solver/heat/emission.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Exchange;
using networks::House;
using networks::LinkId;
using networks::Network;
using networks::Owner;

// Temperatures of the rooms that the links heat: where they float, as settled.
std::vector<double> room_temperatures(const Network &network, const Solution &solution) {
    std::vector<double> room_c;
    for (const networks::Link &link : network.links)
        room_c.push_back(link.exchange.room_c);
    for (std::size_t r = 0; r < solution.rooms.size(); ++r)
        for (LinkId id : network.rooms[r].emitters)
            room_c[id] = solution.rooms[r].reached_c;
    return room_c;
}

std::string pipe_name(const House &house, const Network &network, const networks::Link &link) {
    if (link.owner.kind == Owner::Kind::Run)
        return fmt::format("run {}", house.runs[link.owner.index].name);
    return network.owner_name(house, link.owner) + ", tails";
}

void add_pipe(HeatBalance &out, std::string where, double heat_w) {
    const auto known = std::find_if(out.pipes.begin(), out.pipes.end(),
                                    [&](const PipeLoss &pipe) { return pipe.where == where; });
    if (known == out.pipes.end())
        out.pipes.push_back({std::move(where), heat_w});
    else
        known->heat_w += heat_w;
    out.pipes_w += heat_w;
}

// What water let in at ends brings, less what water let out takes along. It has the temperature of
// the water where it comes in, and as much comes in as goes out.
double ends_w(const Network &network, const Solution &solution, double heat_capacity) {
    std::vector<double> let_in_kg_s(network.nodes.size(), 0.0);
    for (LinkId id = 0; id < network.links.size(); ++id) {
        let_in_kg_s[network.links[id].from] += solution.flow_kg_s[id];
        let_in_kg_s[network.links[id].to] -= solution.flow_kg_s[id];
    }
    std::vector<networks::NodeId> ends;
    for (const networks::NodeFlow &fixed : network.fixed)
        ends.push_back(fixed.node);
    for (const networks::NodePressure &held : network.held)
        ends.push_back(held.node);
    std::sort(ends.begin(), ends.end());
    ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
    double sum_w = 0.0;
    for (const networks::NodeId node : ends)
        sum_w += heat_capacity * let_in_kg_s[node] * solution.heat.node_c[node];
    return sum_w;
}

} // namespace

HeatBalance heat_balance(const House &house, const Network &network, const Solution &solution) {
    HeatBalance out;
    const double heat_capacity = mean_heat_capacity_j_kg_k(network);
    const std::vector<double> room_c = room_temperatures(network, solution);
    const auto given_off_w = [&](LinkId id) {
        return std::abs(solution.flow_kg_s[id]) * heat_capacity *
               (solution.heat.in_c[id] - solution.heat.out_c[id]);
    };
    for (LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        if (link.exchange.kind == Exchange::Kind::Source)
            out.source_w -= given_off_w(id);
        else if (link.exchange.kind == Exchange::Kind::Loses)
            add_pipe(out, pipe_name(house, network, link), given_off_w(id));
    }
    for (const networks::EmitterLinks &links : network.emitters) {
        EmitterBalance emitter;
        for (LinkId id : links.links) {
            const Exchange &exchange = network.links[id].exchange;
            if (exchange.kind != Exchange::Kind::Emitter)
                continue;
            const double flow = std::abs(solution.flow_kg_s[id]);
            emitter.from_water_w = given_off_w(id);
            if (std::holds_alternative<std::monostate>(exchange.emission) || flow < standing_kg_s) {
                emitter.to_room_w = emitter.from_water_w;
                continue;
            }
            const EmitterHeat heat =
                emitter_heat(exchange.emission, network.fluid, solution.heat.in_c[id], room_c[id],
                             flow, heat_capacity);
            emitter.to_room_w = heat.to_room_w;
            emitter.down_w = heat.from_water_w - heat.to_room_w;
        }
        out.rooms_w += emitter.to_room_w;
        out.down_w += emitter.down_w;
        out.emitters.push_back(emitter);
    }
    out.ends_w = ends_w(network, solution, heat_capacity);
    out.closure_w = out.source_w + out.ends_w - out.rooms_w - out.down_w - out.pipes_w;
    return out;
}

} // namespace headroom::solver
