#include "solver/questions/sheet.hpp"

#include "networks/network.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/size.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::FloorPart;
using networks::House;

// The even temperature of the inner wall at which the section takes the heat the water gives.
double wall_c(const FloorPart &part, const EmitterHeat &heat, double room_c) {
    const models::FloorResponse &response = *part.response;
    const double per_m2 = heat.from_water_w / part.area_m2;
    return room_c + (per_m2 - response.wall[0][models::wall_shapes] * (part.below_c - room_c)) /
                        response.wall[0][0];
}

FloorDrawing draw_floor(const House &house, const Emitter &emitter, const FloorPart &part) {
    const EmitterHeat heat = emitter_heat(
        emitter.emission, house.fluid, emitter.inlet_c.value_or(house.source->flow_temperature_c),
        emitter.indoor_c, networks::design_flow_kg_s(house, emitter));
    FloorDrawing out{emitter.name,
                     {},
                     part.section,
                     emitter.indoor_c,
                     part.below_c,
                     heat.mean_c,
                     wall_c(part, heat, emitter.indoor_c),
                     heat.surface_mean_c,
                     heat.surface_highest_c,
                     heat.to_room_w / part.area_m2,
                     std::nullopt};
    out.field =
        models::floor_field(part.section, out.wall_c - out.room_c, part.below_c - emitter.indoor_c);
    return out;
}

} // namespace

std::vector<FloorDrawing> draw_floors(const House &sized) {
    House house = sized;
    models::FloorResponseCache cache;
    with_responses(house, cache);
    std::vector<FloorDrawing> out;
    for (const Emitter &emitter : house.emitters) {
        const auto *part = std::get_if<FloorPart>(&emitter.emission);
        if (part == nullptr || !part->response || !(emitter.heat_w > 0.0))
            continue;
        const auto same = std::find_if(out.begin(), out.end(), [&](const FloorDrawing &drawn) {
            return drawn.section == part->section && drawn.below_c == part->below_c;
        });
        if (same == out.end())
            out.push_back(draw_floor(house, emitter, *part));
        else
            same->others.push_back(emitter.name);
    }
    return out;
}

std::string source_word(const networks::Source &source) {
    switch (source.kind) {
    case networks::Source::Kind::Boiler:
        return "boiler";
    case networks::Source::Kind::HeatPump:
        return "heat pump";
    case networks::Source::Kind::SolidFuel:
        return "solid-fuel boiler";
    }
    return "source";
}

SheetAnswer sheet(const House &house, const SearchLimits &limits, const Progress &progress) {
    SheetAnswer out;
    out.house = house.name;
    out.note = house.note;
    out.drive = drive_with_changes(house, limits, progress);
    out.glycol = out.drive.fluid != "water";
    out.source = source_word(*house.source);
    out.cautions = cautions(house);
    out.inputs = sheet_inputs(house);
    if (out.drive.verdict == Verdict::NotSolved)
        return out;
    out.settings = site_settings(house, out.drive);
    if (why_no_bores(house).empty()) {
        SearchLimits none;
        none.most_judged = 0;
        if (BoresAnswer answer = bores(house, bore_pipes(house, {}), none);
            answer.outcome.converged())
            out.bores = std::move(answer);
    }
    if (!house.rooms.empty())
        out.losses = losses(house);
    out.why_no_season = why_no_season(house);
    if (out.why_no_season.empty())
        out.season = season(house);
    if (why_not_filled(house).empty())
        if (FillAnswer answer = fill(house); answer.outcome.converged())
            out.fill = std::move(answer);
    const Sizing sizing = size(house);
    if (HouseDrawing drawing = draw_house(size_as_found(house, sizing).house, out.drive);
        drawing.outcome.converged())
        out.drawing = std::move(drawing);
    if (!out.drive.index.empty())
        out.curves = pressure_curves(sizing.house, out.drive);
    out.floors = draw_floors(sizing.house);
    return out;
}

} // namespace headroom::solver
