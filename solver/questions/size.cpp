#include "solver/questions/size.hpp"

#include "models/floor_en1264.hpp"
#include "solver/heat/emission.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FloorPart;
using networks::House;

constexpr double least_drop_k = 1.0; // no more flow than this is ever given

double heat_capacity(const House &house, double flow_c, double drop_k) {
    return models::fluid_state(house.fluid, flow_c - 0.5 * drop_k).heat_capacity_j_kg_k;
}

// The drop from which design_flow_kg_s() makes this very flow again: heat over flow and the heat
// capacity at the mean of the two ends.
double drop_of_flow(const House &house, double water_w, double flow_c, double flow_kg_s) {
    double drop_k = 0.0;
    for (int round = 0; round < 8; ++round)
        drop_k = water_w / (flow_kg_s * heat_capacity(house, flow_c, drop_k));
    return drop_k;
}

void size_floor(const FloorPart &part, const House &house, SizedEmitter &row, double water_c,
                double room_c) {
    const EmitterHeat heat = emitter_heat(part, house.fluid, water_c, room_c, row.flow_kg_s);
    row.surface_c = heat.surface_highest_c;
    if (heat.mean_c > room_c)
        row.conduction_w_m2k = heat.to_room_w / part.area_m2 / (heat.mean_c - room_c);
    if (const auto standard = models::en1264_characteristic(part.section))
        row.standard_w_m2k = standard->characteristic_w_m2_k;
}

SizedEmitter own_need(const House &house, std::size_t index) {
    const Emitter &emitter = house.emitters[index];
    SizedEmitter row{};
    row.emitter = index;
    row.room_w = emitter.room_heat_w;
    row.own_flow_c = inlet_for_heat(emitter.emission, house.fluid, emitter.indoor_c,
                                    emitter.room_heat_w, emitter.drop_k);
    return row;
}

void size_at(const House &house, double flow_c, SizedEmitter &row) {
    const Emitter &emitter = house.emitters[row.emitter];
    const auto gives = [&](double flow) {
        return emitter_heat(emitter.emission, house.fluid, flow_c, emitter.indoor_c, flow);
    };
    // The most flow: a drop of 1 K. Output there depends on the flow a little; one look suffices.
    const double most = 2.0 * std::max(row.room_w, 1.0) /
                        (heat_capacity(house, flow_c, least_drop_k) * least_drop_k);
    row.most_w = gives(most).to_room_w;
    const double flow =
        flow_for_heat(emitter.emission, house.fluid, flow_c, emitter.indoor_c, row.room_w, most);
    row.reaches = flow > 0.0;
    row.flow_kg_s = row.reaches ? flow : most;
    const EmitterHeat heat = gives(row.flow_kg_s);
    row.water_w = heat.from_water_w;
    row.drop_k = drop_of_flow(house, row.water_w, flow_c, row.flow_kg_s);
    if (const auto *part = std::get_if<FloorPart>(&emitter.emission)) {
        size_floor(*part, house, row, flow_c, emitter.indoor_c);
        row.surface_limit_c = emitter.surface_limit_c ? *emitter.surface_limit_c
                                                      : house.habits[networks::Habit::SurfaceLimit];
    }
}

} // namespace

Sizing size(House house) {
    Sizing out;
    with_responses(house);
    for (std::size_t i = 0; i < house.emitters.size(); ++i)
        if (!std::holds_alternative<std::monostate>(house.emitters[i].emission))
            out.emitters.push_back(own_need(house, i));
    if (!house.source || out.emitters.empty()) {
        out.house = std::move(house);
        return out;
    }
    const auto most = std::max_element(
        out.emitters.begin(), out.emitters.end(),
        [](const SizedEmitter &a, const SizedEmitter &b) { return a.own_flow_c < b.own_flow_c; });
    out.needed_c = most->own_flow_c;
    out.set_by = house.emitters[most->emitter].name;
    if (!house.source->flow_temperature_given) {
        out.temperature_computed = true;
        house.source->flow_temperature_c = out.needed_c;
    }
    const double flow_c = house.source->flow_temperature_c;
    for (SizedEmitter &row : out.emitters) {
        size_at(house, flow_c, row);
        Emitter &emitter = house.emitters[row.emitter];
        emitter.heat_w = row.water_w;
        emitter.drop_k = row.drop_k;
    }
    out.house = std::move(house);
    return out;
}

} // namespace headroom::solver
