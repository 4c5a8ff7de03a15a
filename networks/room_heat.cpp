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
    const double across = room.indoor_c - outdoor;
    RoomPartLoss bridges{"thermal bridges", 0.0, across};
    bridges.area_m2 = 0.0;
    bridges.u_w_m2k = room.thermal_bridge_w_m2k.value_or(house.habits[Habit::ThermalBridge]);
    for (const FabricPart &part : room.fabric) {
        const models::FabricElement &element = part.element;
        RoomPartLoss row{part.what, models::element_loss_w(element, room.indoor_c, outdoor),
                         element.beyond_c ? room.indoor_c - *element.beyond_c : across};
        row.area_m2 = element.area_m2;
        row.u_w_m2k = element.u_w_m2k;
        row.share = element.beyond_c ? 1.0 : element.temperature_factor;
        parts.push_back(row);
        if (!element.beyond_c) // a partition between rooms has none to outside
            *bridges.area_m2 += row.share * element.area_m2;
    }
    bridges.loss_w = *bridges.area_m2 * *bridges.u_w_m2k * across;
    if (!room.fabric.empty())
        parts.push_back(bridges);
    if (room.air_changes_per_h && room.volume_m3) {
        RoomPartLoss air{"air",
                         models::air_loss_w(*room.air_changes_per_h, *room.volume_m3, room.indoor_c,
                                            outdoor, house.air_heat),
                         across};
        air.volume_m3 = room.volume_m3;
        air.changes_per_h = room.air_changes_per_h;
        parts.push_back(air);
    }
    return parts;
}

} // namespace headroom::networks
