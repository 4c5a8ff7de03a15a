#include "networks/read_parts.hpp"

#include <fmt/format.h>

namespace headroom::networks {
namespace {

models::GrooveBoard read_board(const Entry &entry, Place place, Reading &reading) {
    Fields fields(&entry, place, "groove board", reading.diagnostics);
    models::GrooveBoard board;
    board.thickness_m = fields.required_quantity("thickness", Dimension::Length, {0.005, 0.2},
                                                 "such as `thickness: 25 mm`");
    board.conductivity_w_m_k =
        fields.required_quantity("conductivity", Dimension::Conductivity, {0.01, 5.0},
                                 "such as `conductivity: 0.035 W/(m K)`");
    if (const Entry *plate = fields.child("plate")) {
        Fields part(plate, fields.key_place("plate"), "plate", reading.diagnostics);
        models::DiffuserPlate out;
        out.thickness_m = part.required_quantity("thickness", Dimension::Length, {1e-5, 0.005},
                                                 "such as `thickness: 0.5 mm`");
        out.conductivity_w_m_k =
            part.required_quantity("conductivity", Dimension::Conductivity, {1.0, 1000.0},
                                   "such as `conductivity: 200 W/(m K)` for aluminium");
        out.width_m = part.required_quantity("width", Dimension::Length, {0.02, 1.0},
                                             "both flats of one pipe, such as `width: 120 mm`");
        part.finish();
        board.plate = out;
    }
    fields.finish();
    return board;
}

} // namespace

void read_floors(Fields &root, Reading &reading) {
    const Entry *entry = root.child("floors");
    if (entry == nullptr)
        return;
    if (Fields all(entry, root.key_place("floors"), "floors", reading.diagnostics); !all.usable())
        return;
    for (const Pair &pair : entry->pairs) {
        Fields fields(pair.value.get(), pair.key_place, fmt::format("floor `{}`", pair.key),
                      reading.diagnostics);
        FloorBuild floor;
        floor.name = pair.key;
        floor.place = pair.key_place;
        models::FloorSection &section = floor.section;
        section.cover_m = fields.required_quantity(
            "cover", Dimension::Length, {0.002, 0.3},
            "the screed over the pipe, or the dry layer over the boards, such as `cover: 45 mm`");
        section.layer_conductivity_w_m_k =
            fields.required_quantity("conductivity", Dimension::Conductivity, {0.02, 5.0},
                                     "of the screed or dry layer, such as `conductivity: 1.2 W/(m "
                                     "K)`");
        section.covering_resistance_m2k_w =
            fields.required_quantity("covering", Dimension::Resistance, {0.0, 0.5},
                                     "of the floor finish, such as `covering: 0.05 m2 K/W`, or 0 "
                                     "for bare screed");
        section.gap_below_pipe_m =
            fields.quantity("gap", Dimension::Length, {0.0, 0.1}).value_or(0.0);
        section.insulation_thickness_m = fields.required_quantity(
            "insulation", Dimension::Length, {0.0, 0.5}, "such as `insulation: 75 mm`");
        section.insulation_conductivity_w_m_k =
            fields.quantity("insulation_conductivity", Dimension::Conductivity, {0.01, 1.0})
                .value_or(0.035);
        section.slab_resistance_m2k_w =
            fields.quantity("slab", Dimension::Resistance, {0.0, 10.0}).value_or(0.0);
        floor.below_c =
            fields.required_quantity("below", Dimension::Temperature, {-20.0, 30.0},
                                     "the temperature of the ground, cellar or room below, such "
                                     "as `below: 10 degC`");
        section.lower_surface_resistance_m2k_w =
            fields.yes_no("on_ground").value_or(false) ? 0.0 : 0.17;
        if (const Entry *board = fields.child("groove_board"))
            section.board = read_board(*board, fields.key_place("groove_board"), reading);
        fields.finish();
        reading.house.floors.push_back(std::move(floor));
    }
}

const FloorBuild *find_floor(Fields &fields, Reading &reading) {
    const auto name = fields.text("floor");
    if (!name)
        return nullptr;
    std::vector<std::string> names;
    for (const FloorBuild &floor : reading.house.floors) {
        if (floor.name == name->value)
            return &floor;
        names.push_back(floor.name);
    }
    const std::string near = nearest(name->value, names);
    reading.diagnostics.error(
        "unknown-floor", name->place, fmt::format("there is no floor `{}`", name->value),
        near.empty() ? "describe it under `floors:`" : fmt::format("did you mean `{}`?", near));
    return nullptr;
}

} // namespace headroom::networks
