#include "solver/questions/emitters.hpp"

#include "models/water_film.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/size.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FloorPart;
using networks::House;

bool described(const Emitter &emitter) {
    return !std::holds_alternative<std::monostate>(emitter.emission);
}

// Where models::nusselt_number() changes its law.
models::Regime film_regime(double reynolds) {
    return reynolds <= 2300.0  ? models::Regime::Laminar
           : reynolds < 4000.0 ? models::Regime::Transition
                               : models::Regime::Turbulent;
}

// The kind of floor that this section is built as.
std::string floor_name(const House &house, models::FloorSection section) {
    for (const networks::FloorBuild &floor : house.floors) {
        models::FloorSection built = floor.section;
        built.spacing_m = section.spacing_m;
        built.pipe = section.pipe;
        if (built == section)
            return floor.name;
    }
    return "";
}

std::size_t section_of(const House &house, const Emitter &loop, const FloorPart &part,
                       EmittersAnswer &out) {
    const auto known =
        std::find_if(out.sections.begin(), out.sections.end(),
                     [&](const FloorFactors &row) { return row.section == part.section; });
    if (known != out.sections.end()) {
        known->loops.push_back(loop.name);
        return static_cast<std::size_t>(known - out.sections.begin());
    }
    FloorFactors row;
    row.floor = floor_name(house, part.section);
    row.pipe = loop.pipe.name;
    row.section = part.section;
    row.loops = {loop.name};
    row.range = models::en1264_range(part.section);
    row.factors = models::en1264_characteristic(part.section);
    row.cells = part.response->cells;
    row.grid_step_share = part.response->grid_correction;
    out.sections.push_back(std::move(row));
    return out.sections.size() - 1;
}

// Heat up per K of mean water above the room, with a film or without.
double up_w_m2k(const FloorPart &part, double film_mk_w, double mean_c, double room_c) {
    const auto conductances = models::floor_conductances(*part.response, film_mk_w);
    return models::floor_state(conductances, mean_c, room_c, part.below_c).heat_up_w_m2 /
           (mean_c - room_c);
}

void add_floor(const Sizing &sizing, const SizedEmitter &sized, EmittersAnswer &out) {
    const House &house = sizing.house;
    const Emitter &loop = house.emitters[sized.emitter];
    const auto &part = std::get<FloorPart>(loop.emission);
    const EmitterHeat heat = emitter_heat(loop.emission, house.fluid, sized.inlet_c, loop.indoor_c,
                                          sized.flow_kg_s, sizing.heat_capacity_j_kg_k);
    const models::FluidState water = models::fluid_state(house.fluid, heat.mean_c);
    LoopOutput row{};
    row.name = loop.name;
    row.section = section_of(house, loop, part, out);
    row.asked_w_m2 = sized.room_w / part.area_m2;
    row.drop_k = sized.drop_k;
    const double bore = part.section.pipe.bore_m();
    row.reynolds = models::reynolds_number(bore, water, sized.flow_kg_s);
    row.regime = film_regime(row.reynolds);
    row.film_mk_w = models::water_film_resistance(water, bore, sized.flow_kg_s);
    row.without_film_w_m2k = up_w_m2k(part, 0.0, heat.mean_c, loop.indoor_c);
    row.conduction_w_m2k = heat.to_room_w / part.area_m2 / (heat.mean_c - loop.indoor_c);
    row.needs_c = sized.own_flow_c;
    row.surface_limit_c =
        loop.surface_limit_c.value_or(house.habits[networks::Habit::SurfaceLimit]);
    row.surface_highest_c = heat.surface_highest_c;
    row.even_surface_c = loop.indoor_c + models::base_curve_excess_k(row.asked_w_m2);
    row.limit = models::en1264_limit(part.section, row.surface_limit_c - loop.indoor_c);
    row.down = models::downward_loss(part.section, row.asked_w_m2, loop.indoor_c, part.below_c);
    row.down_w_m2 = (heat.from_water_w - heat.to_room_w) / part.area_m2;
    if (const auto &factors = out.sections[row.section].factors) {
        row.standard_w_m2k = factors->characteristic_w_m2_k;
        const double cooling_k = sized.own_flow_c - sized.own_inlet_c;
        row.standard_needs_c =
            loop.indoor_c + cooling_k +
            models::supply_excess_k(row.asked_w_m2 / *row.standard_w_m2k, sized.design_drop_k);
    }
    out.floors.push_back(std::move(row));
}

// At a held inlet and drop output goes with the rated output, so that the one which would just do
// follows by proportion.
void add_radiator(const House &house, const SizedEmitter &sized, EmittersAnswer &out) {
    const Emitter &emitter = house.emitters[sized.emitter];
    RadiatorOutput row{};
    row.name = emitter.name;
    row.body = emitter.body;
    row.radiator = std::get<models::Radiator>(emitter.emission);
    row.exponent_assumed = emitter.exponent_assumed;
    row.room_c = emitter.indoor_c;
    row.room_w = sized.room_w;
    row.in_c = sized.inlet_c;
    const EmitterHeat heat = heat_at_drop(emitter.emission, house.fluid, sized.inlet_c,
                                          emitter.indoor_c, sized.room_w, sized.design_drop_k);
    row.out_c = heat.out_c;
    row.gives_w = heat.to_room_w;
    row.excess_k = 0.5 * (row.in_c + row.out_c) - row.room_c;
    const double as_connected_w = row.radiator.share * row.radiator.rated_w;
    row.factor = row.gives_w / as_connected_w;
    row.rated_share = as_connected_w / row.room_w;
    if (row.gives_w > 0.0) {
        row.needs_rated_w = row.radiator.rated_w * row.room_w / row.gives_w;
        row.needs_rated_share = row.rated_share * row.room_w / row.gives_w;
    }
    out.radiators.push_back(row);
}

} // namespace

std::string why_no_emitters(const House &house) {
    if (!house.source)
        return "the house has no source";
    if (std::none_of(house.emitters.begin(), house.emitters.end(), described))
        return "no loop lies in a described floor and no radiator gives its rated output";
    return "";
}

EmittersAnswer emitters(const House &given) {
    const Sizing sizing = size(given);
    const House &house = sizing.house;
    EmittersAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.flow_temperature_c = house.source->flow_temperature_c;
    out.temperature_computed = sizing.temperature_computed;
    out.set_by = sizing.set_by;
    if (!sizing.settled)
        out.warnings.push_back(unsettled_inlets(sizing));
    for (const SizedEmitter &sized : sizing.emitters) {
        if (std::holds_alternative<FloorPart>(house.emitters[sized.emitter].emission))
            add_floor(sizing, sized, out);
        else
            add_radiator(house, sized, out);
    }
    for (const Emitter &emitter : house.emitters)
        if (!described(emitter))
            out.not_described.push_back(emitter.name);
    return out;
}

std::string range_words(models::En1264Range range) {
    switch (range) {
    case models::En1264Range::Covered:
        return "";
    case models::En1264Range::Impossible:
        return "it cannot be built";
    case models::En1264Range::DryBoard:
        return "a groove board (type B), for whose plate no table of a_WL could be sourced";
    case models::En1264Range::SurfaceCoefficient:
        return "a surface coefficient other than 10.8 W/(m2 K)";
    case models::En1264Range::Spacing:
        return "pipes closer than 50 mm";
    case models::En1264Range::Diameter:
        return "a pipe outside 8 to 30 mm";
    case models::En1264Range::Cover:
        return "less than 10 mm over the pipe";
    case models::En1264Range::CoveringResistance:
        return "a covering above 0.15 m2 K/W";
    case models::En1264Range::WideAndThick:
        return "a spacing above 375 mm under a cover above 187.5 mm";
    }
    return "";
}

} // namespace headroom::solver
