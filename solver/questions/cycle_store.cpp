#include "solver/questions/cycle_store.hpp"

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

constexpr double screed_j_m3k = 2.0e6; // common practice, no source

// Screed from the pipe's underside up; over a groove board the dry layer alone.
double layer_depth_m(const models::FloorSection &section) {
    return section.cover_m + (section.board ? 0.0 : section.pipe.overall_diameter_m());
}

} // namespace

StoredHeat stored_heat(const House &house, double held_water_m3, double water_c) {
    StoredHeat out;
    out.held_water_m3 = held_water_m3;
    const std::optional<double> other_m3 = house.fill ? house.fill->other_m3 : std::nullopt;
    out.added_water_m3 = house.cycle_store.added_water_m3.value_or(other_m3.value_or(0.0));
    out.water_swing_k = house.cycle_store.water_swing_k.value_or(house.habits[Habit::WaterSwing]);
    out.floor_swing_k = house.cycle_store.floor_swing_k.value_or(house.habits[Habit::FloorSwing]);
    const models::FluidState fluid = models::fluid_state(house.fluid, water_c);
    out.water_j = (out.held_water_m3 + out.added_water_m3) * fluid.density_kg_m3 *
                  fluid.heat_capacity_j_kg_k * out.water_swing_k;
    for (const networks::Emitter &emitter : house.emitters)
        if (const auto *part = std::get_if<networks::FloorPart>(&emitter.emission))
            out.screed_m3 += part->area_m2 * layer_depth_m(part->section);
    out.floor_j = out.screed_m3 * screed_j_m3k * out.floor_swing_k;
    return out;
}

} // namespace headroom::solver
