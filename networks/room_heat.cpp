#include "networks/room_heat.hpp"

namespace headroom::networks {

bool has_worked_loss(const Room &room) {
    return !room.fabric.empty() || room.air_changes_per_h.has_value();
}

std::vector<RoomPartLoss> worked_losses(const House &house, const Room &room) {
    std::vector<RoomPartLoss> parts;
    if (!has_worked_loss(room) || !house.outdoor_c)
        return parts;
    const double outdoor = *house.outdoor_c;
    double bridges = 0.0;
    for (const FabricPart &part : room.fabric) {
        parts.push_back({part.what, models::element_loss_w(part.element, room.indoor_c, outdoor)});
        models::FabricElement bridge = part.element;
        bridge.u_w_m2k = 0.0;
        bridge.thermal_bridge_w_m2k = room.thermal_bridge_w_m2k
                                          ? *room.thermal_bridge_w_m2k
                                          : house.habits[Habit::ThermalBridge];
        if (!part.element.beyond_c) // a partition between rooms has none to outside
            bridges += models::element_loss_w(bridge, room.indoor_c, outdoor);
    }
    if (!room.fabric.empty())
        parts.push_back({"thermal bridges", bridges});
    if (room.air_changes_per_h && room.volume_m3)
        parts.push_back({"air", models::air_loss_w(*room.air_changes_per_h, *room.volume_m3,
                                                   room.indoor_c, outdoor, house.air_heat)});
    return parts;
}

} // namespace headroom::networks
