#include "solver/questions/cycle_store.hpp"

#include "models/units.hpp"

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

constexpr double screed_j_m3k = 2.0e6; // common practice, no source

double round_m3(double bore_m, double length_m) {
    return 0.25 * models::pi * bore_m * bore_m * length_m;
}

double pipe_water_m3(const House &house) {
    double volume = 0.0;
    for (const networks::Run &run : house.runs)
        volume +=
            round_m3(run.pipe.bore_m, run.flow.length_m + (run.one_way ? 0.0 : run.back.length_m));
    for (const networks::Emitter &emitter : house.emitters) {
        const int pipes = emitter.kind == networks::Emitter::Kind::Radiator ? 2 : 1;
        volume += pipes * round_m3(emitter.pipe.bore_m, emitter.length_m);
    }
    if (house.separator)
        volume += house.separator->volume_m3.value_or(
            round_m3(house.separator->bore_m, house.separator->height_m));
    return volume;
}

// Screed from the pipe's underside up; over a groove board the dry layer alone.
double layer_depth_m(const models::FloorSection &section) {
    return section.cover_m + (section.board ? 0.0 : section.pipe.overall_diameter_m());
}

} // namespace

StoredHeat stored_heat(const House &house, double water_c) {
    StoredHeat out;
    out.pipe_water_m3 = pipe_water_m3(house);
    out.added_water_m3 = house.cycle_store.added_water_m3.value_or(0.0);
    out.water_swing_k = house.cycle_store.water_swing_k.value_or(house.habits[Habit::WaterSwing]);
    out.floor_swing_k = house.cycle_store.floor_swing_k.value_or(house.habits[Habit::FloorSwing]);
    const models::FluidState fluid = models::fluid_state(house.fluid, water_c);
    out.water_j = (out.pipe_water_m3 + out.added_water_m3) * fluid.density_kg_m3 *
                  fluid.heat_capacity_j_kg_k * out.water_swing_k;
    for (const networks::Emitter &emitter : house.emitters)
        if (const auto *part = std::get_if<networks::FloorPart>(&emitter.emission))
            out.screed_m3 += part->area_m2 * layer_depth_m(part->section);
    out.floor_j = out.screed_m3 * screed_j_m3k * out.floor_swing_k;
    return out;
}

} // namespace headroom::solver
