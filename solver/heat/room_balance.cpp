#include "solver/heat/room_balance.hpp"

#include "solver/heat/emission.hpp"
#include "solver/root.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::solver {
namespace {

using networks::Network;
using networks::RoomLinks;

double output_w(const Network &network, const RoomLinks &room, const std::vector<double> &flow_kg_s,
                const Temperatures &heat, double heat_capacity, double room_c) {
    double sum = 0.0;
    for (networks::LinkId id : room.emitters)
        if (const double flow = std::abs(flow_kg_s[id]); flow >= standing_kg_s)
            sum += emitter_heat(network.links[id].exchange.emission, network.fluid, heat.in_c[id],
                                room_c, flow, heat_capacity)
                       .to_room_w;
    return sum;
}

} // namespace

std::vector<RoomBalance> settle_rooms(Network &network, const std::vector<double> &flow_kg_s,
                                      const Temperatures &heat) {
    std::vector<RoomBalance> out;
    const double heat_capacity = mean_heat_capacity_j_kg_k(network);
    for (const RoomLinks &room : network.rooms) {
        const auto output = [&](double room_c) {
            return output_w(network, room, flow_kg_s, heat, heat_capacity, room_c);
        };
        double warmest = room.outdoor_c + 1.0;
        for (networks::LinkId id : room.emitters)
            warmest = std::max(warmest, heat.in_c[id]);
        const auto excess = [&](double room_c) {
            return output(room_c) - room.loss_w_k * (room_c - room.outdoor_c);
        };
        const double reached =
            bracketed_root(excess, room.outdoor_c, warmest, 1e-10 * room.loss_w_k);
        const double given = room.loss_w_k * (reached - room.outdoor_c);
        const double step = 0.01;
        const double fall = (output(reached - step) - output(reached + step)) / (2.0 * step);
        out.push_back({room.room, reached, given, given > 0.0 ? fall / given : 0.0});
        for (networks::LinkId id : room.emitters)
            network.links[id].exchange.room_c = reached;
    }
    return out;
}

} // namespace headroom::solver
