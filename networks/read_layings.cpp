#include "models/floor_en1264.hpp"
#include "networks/read_loops.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace headroom::networks {
namespace {

constexpr double first_spacing_m = 0.15; // of a spacing to be chosen, until it is

const Room *room_of(const House &house, const std::string &name) {
    const auto found = std::find_if(house.rooms.begin(), house.rooms.end(),
                                    [&](const Room &room) { return room.name == name; });
    return found == house.rooms.end() ? nullptr : &*found;
}

bool is_auto(Fields &fields, std::string_view key) {
    const Entry *entry = fields.child(key);
    return entry != nullptr && entry->is_scalar() && entry->scalar == "auto";
}

// `spacing: auto` leaves the choice open; a faulty one reads as not-a-number.
std::optional<double> read_spacing(Fields &fields, std::optional<double> otherwise) {
    if (is_auto(fields, "spacing"))
        return std::nullopt;
    if (!fields.has("spacing"))
        return otherwise;
    return fields.quantity("spacing", Dimension::Length, {0.03, 1.0})
        .value_or(std::numeric_limits<double>::quiet_NaN());
}

void add(Manifold &manifold, Laying laying, Emitter loop, const FloorBuild *floor, Fields &fields,
         Reading &reading) {
    const double spacing = laying.spacing_m.value_or(first_spacing_m);
    if (std::isnan(spacing) || std::isnan(laying.area_m2))
        return; // told where it was read
    if (!laying.spacing_m && floor == nullptr) {
        fields.missing({"spacing", "floor"}, "missing-key",
                       fmt::format("the spacing in room `{}` can only be chosen where the `floor` "
                                   "is described",
                                   loop.room),
                       "give `floor:` here or on the manifold, or a spacing such as `spacing: 150 "
                       "mm`");
        return;
    }
    House &house = reading.house;
    const auto laid_before =
        std::count_if(house.emitters.begin(), house.emitters.end(),
                      [&](const Emitter &emitter) { return emitter.room == loop.room; });
    loop.name = fmt::format("{} {}", laying.name, laid_before + 1);
    loop.laying = house.layings.size();
    loop.length_m = laying.area_m2 / spacing + laying.tails_m;
    loop.tails_m = laying.tails_m;
    if (floor != nullptr && loop.pipe.bore_m > 0.0)
        place_in_floor(fields, *floor, spacing, laying.area_m2, loop, reading);
    house.layings.push_back(std::move(laying));
    manifold.loops.push_back(house.emitters.size());
    house.emitters.push_back(std::move(loop));
}

// The strip along outer walls, closer laid, where the floor may be warmer.
std::optional<Laying> read_edge(Fields &room_fields, const Laying &inner, Reading &reading) {
    const Entry *entry = room_fields.child("edge");
    if (entry == nullptr)
        return std::nullopt;
    Fields fields(entry, room_fields.key_place("edge"), "edge", reading.diagnostics);
    Laying edge = inner;
    edge.name = inner.name + " edge";
    edge.area_m2 = fields.required_quantity("area", Dimension::Area, {0.05, 1000.0},
                                            "of the strip along outer walls, such as `area: 4 m2`");
    edge.spacing_m = fields.required_quantity("spacing", Dimension::Length, {0.03, 1.0},
                                              "closer than in the room, such as `spacing: 100 mm`");
    if (inner.spacing_m && *edge.spacing_m > *inner.spacing_m)
        reading.diagnostics.error("edge-wider", fields.child("spacing")->place,
                                  "the edge's pipes lie farther apart than the room's",
                                  "an edge zone is laid closer; swap the spacings");
    fields.finish();
    return edge;
}

void read_laying(const Entry &entry, Manifold &manifold, const LoopDefaults &defaults,
                 Reading &reading) {
    Fields fields(&entry, entry.place, "room to lay", reading.diagnostics);
    if (!fields.usable())
        return;
    Emitter loop;
    loop.kind = Emitter::Kind::FloorLoop;
    loop.place = fields.has("room") ? fields.child("room")->place : entry.place;
    loop.from = manifold.name;
    read_duty(fields, loop, defaults.drop_k, reading);
    if (!fields.has("room"))
        fields.missing({"room"}, "missing-key", "nothing says which room is to be laid",
                       "such as `room: kitchen`");
    loop.pipe = read_pipe(fields, reading);
    Laying laying;
    laying.name = loop.room;
    laying.place = loop.place;
    laying.spacing_m = read_spacing(fields, defaults.spacing_m);
    if (!fields.has("spacing") && !defaults.spacing_m)
        fields.missing({"spacing"}, "missing-key",
                       fmt::format("room `{}` is to be laid but has no `spacing`", loop.room),
                       "such as `spacing: 150 mm`, or `spacing: auto` for the program to choose");
    const auto area = fields.quantity("area", Dimension::Area, {0.05, 1000.0});
    const Room *room = room_of(reading.house, loop.room);
    laying.area_m2 = std::numeric_limits<double>::quiet_NaN();
    if (area)
        laying.area_m2 = *area;
    else if (room != nullptr && room->floor_area_m2)
        laying.area_m2 = *room->floor_area_m2;
    else if (!fields.has("area") && room != nullptr)
        fields.missing({"area"}, "missing-key",
                       fmt::format("nothing says how much floor of room `{}` to lay", loop.room),
                       "give the room its `floor_area:`, or `area: 18 m2` here");
    laying.tails_m = fields.quantity("tails", Dimension::Length, {0.0, 200.0}).value_or(0.0);
    laying.longest_m = fields.quantity("longest", Dimension::Length, {5.0, 1000.0});
    if (laying.longest_m && *laying.longest_m < laying.tails_m + 1.0)
        reading.diagnostics.error("tails-too-long", fields.child("longest")->place,
                                  "the tails leave no length for the floor itself",
                                  "`longest` is port to port and includes the tails");
    laying.loop_head_pa = fields.quantity("loop_head", Dimension::Pressure, {500.0, 2e5});
    laying.closest_m = fields.quantity("closest", Dimension::Length, {0.03, 0.5});
    const double pipe_m = loop.pipe.bore_m + 2.0 * loop.pipe.wall_m;
    if (laying.closest_m && *laying.closest_m <= pipe_m)
        reading.diagnostics.error(
            "floor-section", fields.child("closest")->place,
            fmt::format("pipes of {:g} mm outside do not fit at {:g} mm beside each other",
                        1e3 * pipe_m, 1e3 * *laying.closest_m),
            "`closest` is from one pipe's middle to the next one's");
    const FloorBuild *own_floor = find_floor(fields, reading);
    const FloorBuild *floor = own_floor != nullptr ? own_floor : defaults.floor;
    read_loop_details(fields, defaults, loop, reading);
    const auto edge = read_edge(fields, laying, reading);
    if (edge && edge->area_m2 >= laying.area_m2)
        reading.diagnostics.error("edge-too-large", fields.key_place("edge"),
                                  "the edge leaves nothing of the room's floor",
                                  "`area` is the whole floor to lay, the edge within it");
    else if (edge)
        laying.area_m2 -= edge->area_m2;
    Emitter edge_loop = loop;
    edge_loop.surface_limit_c = models::surface_limit_c(models::FloorZone::Perimeter);
    add(manifold, std::move(laying), std::move(loop), floor, fields, reading);
    if (edge)
        add(manifold, *edge, std::move(edge_loop), floor, fields, reading);
    fields.finish();
}

} // namespace

void read_layings(Fields &manifold_fields, Manifold &manifold, const LoopDefaults &defaults,
                  Reading &reading) {
    if (const auto *rooms = read_list(manifold_fields, "rooms", reading.diagnostics))
        for (const auto &room : *rooms)
            read_laying(*room, manifold, defaults, reading);
}

} // namespace headroom::networks
