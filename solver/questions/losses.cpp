#include "solver/questions/losses.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

// Adds to the part of that name, or as a new one.
void gather(std::vector<LossPart> &parts, const std::string &what, double loss_w) {
    const auto known = std::find_if(parts.begin(), parts.end(),
                                    [&](const LossPart &part) { return part.what == what; });
    if (known != parts.end())
        known->loss_w += loss_w;
    else
        parts.push_back({what, loss_w});
}

} // namespace

LossesAnswer losses(const networks::House &house) {
    LossesAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.outdoor_c = house.outdoor_c;
    out.air_heat = house.air_heat;
    out.bridge_w_m2k = house.habits[networks::Habit::ThermalBridge];
    double area = 0.0;
    bool all_areas = true;
    double coefficient = 0.0;
    for (const networks::Room &room : house.rooms) {
        RoomRow row{room.name,       room.indoor_c, room.floor_area_m2,
                    room.surveyed_w, std::nullopt,  networks::worked_losses(house, room),
                    room.loss_w};
        if (networks::has_worked_loss(room)) {
            double worked = 0.0;
            for (const networks::RoomPartLoss &part : row.parts) {
                worked += part.loss_w;
                gather(out.shares, part.what, part.loss_w);
            }
            row.worked_w = worked;
            if (!room.fabric.empty() && !room.thermal_bridge_w_m2k)
                out.bridges_assumed = true;
        }
        out.total_w += row.used_w;
        if (out.outdoor_c && room.indoor_c > *out.outdoor_c)
            coefficient += row.used_w / (room.indoor_c - *out.outdoor_c);
        area += room.floor_area_m2.value_or(0.0);
        all_areas = all_areas && room.floor_area_m2.has_value();
        out.rooms.push_back(std::move(row));
    }
    if (out.outdoor_c)
        out.coefficient_w_k = coefficient;
    if (all_areas)
        out.floor_area_m2 = area;
    return out;
}

} // namespace headroom::solver
