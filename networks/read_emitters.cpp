#include "models/floor_en1264.hpp"
#include "networks/read_loops.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace headroom::networks {
namespace {

// Marks a heat that is still to come from the room's loss.
constexpr double from_room = -1.0;
// Marks a drop that neither the emitter nor its manifold nor the source gives.
constexpr double no_drop = 0.0;

const Room *find_room(const House &house, std::string_view name) {
    for (const Room &room : house.rooms)
        if (room.name == name)
            return &room;
    return nullptr;
}

// What stands or walks on a floor, by its limit [EN1264-2]: where people stay, bathrooms, and the
// edge along outer walls where nobody stays.
std::optional<double> read_surface(Fields &fields) {
    static const std::vector<std::string> zones{"occupied", "bathroom", "edge"};
    static constexpr std::array kinds{models::FloorZone::Occupied, models::FloorZone::Bathroom,
                                      models::FloorZone::Perimeter};
    const auto zone = fields.choice("surface", zones);
    return zone ? std::optional(models::surface_limit_c(kinds[static_cast<std::size_t>(*zone)]))
                : std::nullopt;
}

} // namespace

std::optional<double> source_drop(const House &house) {
    return house.source ? house.source->drop_k : std::optional<double>();
}

void read_duty(Fields &fields, Emitter &emitter, std::optional<double> drop, Reading &reading) {
    if (const auto room = fields.text("room")) {
        emitter.room = room->value;
        if (const Room *known = find_room(reading.house, room->value)) {
            emitter.indoor_c = known->indoor_c;
        } else if (reading.rooms_known) {
            std::vector<std::string> names;
            for (const Room &r : reading.house.rooms)
                names.push_back(r.name);
            const std::string near = nearest(room->value, names);
            reading.diagnostics.error("unknown-room", room->place,
                                      fmt::format("there is no room `{}`", room->value),
                                      near.empty() ? "list it under `rooms:` with its `loss:`"
                                                   : fmt::format("did you mean `{}`?", near));
            // A house without rooms has one fault, not one a loop.
            reading.rooms_known = !names.empty();
        }
    }
    const auto heat = fields.quantity("heat", Dimension::Power, limits::emitter_heat);
    emitter.heat_w = !fields.has("heat") ? from_room
                     : heat              ? *heat
                                         : std::numeric_limits<double>::quiet_NaN();
    if (!fields.has("heat") && !fields.has("room"))
        fields.missing(
            {"heat", "room"}, "no-heat",
            fmt::format("{} has neither a `heat` to carry nor a `room` whose loss it covers",
                        fields.what()),
            "a flow can only be sized from a heat: survey the room (its fabric, or W/m2 from a "
            "heat-loss calculation) and give `room:` or `heat: 620 W`");
    const auto own = fields.quantity("drop", Dimension::TemperatureStep, limits::drop);
    emitter.drop_k = own                  ? *own
                     : fields.has("drop") ? std::numeric_limits<double>::quiet_NaN()
                                          : drop.value_or(no_drop);
}

void read_floor_part(Fields &fields, const LoopDefaults &defaults, double heated_length_m,
                     Emitter &loop, Reading &reading) {
    const auto own_spacing = fields.quantity("spacing", Dimension::Length, {0.03, 1.0});
    const auto spacing = own_spacing ? own_spacing : defaults.spacing_m;
    const auto area = fields.quantity("area", Dimension::Area, {0.05, 1000.0});
    const FloorBuild *own_floor = find_floor(fields, reading);
    const FloorBuild *floor = own_floor != nullptr ? own_floor : defaults.floor;
    if (floor == nullptr || loop.pipe.bore_m <= 0.0)
        return;
    if (spacing)
        place_in_floor(fields, *floor, *spacing, area.value_or(heated_length_m * *spacing), loop,
                       reading);
    else if (!fields.has("spacing"))
        fields.missing(
            {"spacing"}, "missing-key",
            fmt::format("loop `{}` lies in a described floor but has no `spacing`", loop.name),
            "such as `spacing: 150 mm` here or on its manifold");
}

void place_in_floor(const Fields &fields, const FloorBuild &floor, double spacing_m, double area_m2,
                    Emitter &loop, Reading &reading) {
    if (std::isnan(floor.below_c + floor.section.cover_m + floor.section.layer_conductivity_w_m_k +
                   floor.section.covering_resistance_m2k_w + floor.section.insulation_thickness_m))
        return; // a fault of the floor, told there
    if (loop.pipe.wall_m <= 0.0 || loop.pipe.conductivity_w_m_k <= 0.0) {
        reading.diagnostics.error(
            "pipe-wall", fields.key_place("pipe"),
            fmt::format("loop `{}` lies in a described floor, but its pipe's wall is not known",
                        loop.name),
            "give the pipe its `wall: 2 mm` and `conductivity: 0.35 W/(m K)`, or name a pipe of "
            "the catalogue");
        return;
    }
    FloorPart part;
    part.section = floor.section;
    part.section.spacing_m = spacing_m;
    part.section.pipe = {loop.pipe.bore_m + 2.0 * loop.pipe.wall_m, loop.pipe.wall_m,
                         loop.pipe.conductivity_w_m_k, 0.0, 0.0};
    part.below_c = floor.below_c;
    part.area_m2 = area_m2;
    if (const char *fault = models::floor_section_fault(part.section)) {
        reading.diagnostics.error(
            "floor-section", loop.place,
            fmt::format("loop `{}` does not fit its floor: {}", loop.name, fault),
            "check its pipe, spacing and floor");
        return;
    }
    loop.emission = part;
}

void read_loop_details(Fields &fields, const LoopDefaults &defaults, Emitter &loop,
                       Reading &reading) {
    loop.curved_share = fields.quantity("curved", Dimension::Ratio, {0.0, 1.0});
    loop.bend_diameter_m = fields.quantity("bends", Dimension::Length, {0.04, 10.0});
    const double bend = loop.bend_diameter_m.value_or(reading.house.habits[Habit::BendDiameter]);
    if (loop.pipe.bore_m > 0.2 * bend)
        reading.diagnostics.error(
            "bend-too-tight", fields.child(loop.bend_diameter_m ? "bends" : "pipe")->place,
            fmt::format("loop `{}` bends on {}, more tightly than five bores of its pipe",
                        loop.name, written(bend, Dimension::Length)),
            "give the bends' centre-line diameter, such as `bends: 300 mm`");
    loop.existing = fields.yes_no("existing").value_or(false);
    const auto own_kv = fields.quantity("valve_kv", Dimension::FlowFactor, limits::loop_kv);
    loop.valve_kv_m3_h = own_kv ? own_kv : defaults.valve_kv_m3_h;
    const auto own_meter = read_meter(fields, reading);
    loop.meter = own_meter ? own_meter : defaults.meter;
    const auto own_limit = fields.quantity("flow_limit", Dimension::Temperature, {20.0, 80.0});
    loop.flow_limit_c = own_limit ? own_limit : defaults.flow_limit_c;
    const auto own_surface = fields.quantity("surface_limit", Dimension::Temperature, {20.0, 40.0});
    const auto own_zone = read_surface(fields);
    loop.surface_limit_c = own_surface ? own_surface
                           : own_zone  ? own_zone
                                       : defaults.surface_limit_c;
    if (const auto kv = fields.quantity("set_kv", Dimension::FlowFactor, limits::loop_kv))
        loop.balancing = {Balancing::Kind::Kv, *kv};
    loop.least_kv_m3_h = fields.quantity("least_kv", Dimension::FlowFactor, limits::loop_kv);
    if (!fields.yes_no("open").value_or(true))
        loop.balancing = {Balancing::Kind::Shut, 0.0};
    if (const auto zone = fields.text("zone"))
        loop.zone = zone->value;
}

namespace {

void read_loop(const Entry &entry, Manifold &manifold, const LoopDefaults &defaults,
               Reading &reading) {
    Fields fields(&entry, entry.place, "loop", reading.diagnostics);
    if (!fields.usable())
        return;
    Emitter loop;
    loop.kind = Emitter::Kind::FloorLoop;
    loop.place = entry.place;
    loop.from = manifold.name;
    read_duty(fields, loop, defaults.drop_k, reading);
    if (const auto name = fields.text("loop")) {
        loop.name = name->value;
        loop.place = name->place;
    } else {
        // Numbered after its room, in the order of the file.
        const auto same = std::count_if(
            reading.house.emitters.begin(), reading.house.emitters.end(),
            [&](const Emitter &e) { return !loop.room.empty() && e.room == loop.room; });
        loop.name = loop.room.empty() ? fmt::format("loop {}", manifold.loops.size() + 1)
                                      : fmt::format("{} {}", loop.room, same + 1);
    }
    loop.pipe = read_pipe(fields, reading);
    loop.length_m = fields.required_quantity("length", Dimension::Length, {0.1, 1000.0},
                                             "the loop from port to port, tails included, such as "
                                             "`length: 92 m`");
    loop.tails_m = fields.quantity("tails", Dimension::Length, {0.0, 200.0}).value_or(0.0);
    loop.surroundings = read_surroundings(fields, reading);
    if (loop.surroundings && !fields.has("tails"))
        fields.missing({"tails"}, "missing-key",
                       "loop has `surroundings` but no `tails` that lose heat to them",
                       "the part outside its room, such as `tails: 8 m`");
    if (loop.tails_m >= loop.length_m)
        reading.diagnostics.error("tails-too-long", fields.child("tails")->place,
                                  "the tails leave nothing of the loop for its floor",
                                  "`length` is port to port and includes the tails");
    read_floor_part(fields, defaults, loop.length_m - loop.tails_m, loop, reading);
    read_loop_details(fields, defaults, loop, reading);
    fields.finish();
    manifold.loops.push_back(reading.house.emitters.size());
    reading.house.emitters.push_back(std::move(loop));
}

} // namespace

void read_manifolds(const Entry &entry, Reading &reading) {
    Fields all(&entry, entry.place, "manifolds", reading.diagnostics);
    if (!all.usable()) {
        reading.places_known = false;
        return;
    }
    for (const Pair &pair : entry.pairs) {
        Fields fields(pair.value.get(), pair.key_place, fmt::format("manifold `{}`", pair.key),
                      reading.diagnostics);
        Manifold manifold;
        manifold.name = pair.key;
        manifold.place = pair.key_place;
        if (const auto level = read_level(fields, "level", reading))
            reading.house.levels[pair.key] = *level;
        LoopDefaults defaults;
        const auto own_drop = fields.quantity("drop", Dimension::TemperatureStep, limits::drop);
        defaults.drop_k = own_drop ? own_drop : source_drop(reading.house);
        if (fields.has("drop") && !own_drop) // faulty: its loops are not to blame
            defaults.drop_k = std::numeric_limits<double>::quiet_NaN();
        defaults.flow_limit_c = fields.quantity("flow_limit", Dimension::Temperature, {20.0, 80.0});
        defaults.surface_limit_c =
            fields.quantity("surface_limit", Dimension::Temperature, {20.0, 40.0});
        if (const auto zone = read_surface(fields); zone && !defaults.surface_limit_c)
            defaults.surface_limit_c = zone;
        defaults.valve_kv_m3_h =
            fields.quantity("valve_kv", Dimension::FlowFactor, limits::loop_kv);
        defaults.meter = read_meter(fields, reading);
        defaults.spacing_m = fields.quantity("spacing", Dimension::Length, {0.03, 1.0});
        defaults.floor = find_floor(fields, reading);
        if (const Entry *bar = fields.child("bar")) {
            Fields part(bar, fields.key_place("bar"), "bar", reading.diagnostics);
            manifold.bar_bore_m = part.required_quantity("bore", Dimension::Length, limits::bore,
                                                         "such as `bore: 28 mm`");
            manifold.bar_pitch_m =
                part.quantity("pitch", Dimension::Length, {0.01, 1.0}).value_or(0.05);
            part.finish();
        }
        manifold.high_limit = read_high_limit(fields, false, reading);
        const auto *loops = read_list(fields, "loops", reading.diagnostics);
        if (loops != nullptr)
            for (const auto &loop : *loops)
                read_loop(*loop, manifold, defaults, reading);
        read_layings(fields, manifold, defaults, reading);
        if (manifold.loops.empty() && (loops == nullptr || loops->empty()) && !fields.has("rooms"))
            fields.missing({"loops", "rooms"}, "no-loops",
                           fmt::format("manifold `{}` has no loops", pair.key),
                           "list them under `loops:`, or under `rooms:` for the program to lay");
        fields.finish();
        reading.house.manifolds.push_back(std::move(manifold));
    }
}

void check_drops(Reading &reading) {
    if (!reading.source_known)
        return;
    const House &house = reading.house;
    const auto lacks = [](const Emitter &emitter) { return emitter.drop_k == no_drop; };
    const auto first = std::find_if(house.emitters.begin(), house.emitters.end(), lacks);
    if (first == house.emitters.end())
        return;
    const auto count = std::count_if(house.emitters.begin(), house.emitters.end(), lacks);
    const std::string whose = count == 1 ? fmt::format("`{}` has", first->name)
                                         : fmt::format("{} loops and radiators have", count);
    if (house.source)
        reading.diagnostics.error("no-drop", house.source->place,
                                  fmt::format("the source gives no temperature `drop`, and {} none "
                                              "of their own",
                                              whose),
                                  "such as `drop: 5 K` on the source, a manifold, or each of them");
    else
        reading.diagnostics.error("no-drop", first->place,
                                  fmt::format("{} no temperature `drop`", whose),
                                  "such as `drop: 5 K` on a manifold or on each of them");
}

namespace {

bool all_of_kind(const std::vector<Emitter *> &emitters, Emitter::Kind kind) {
    return std::all_of(emitters.begin(), emitters.end(),
                       [&](const Emitter *emitter) { return emitter->kind == kind; });
}

// What an emitter's part of its room's loss goes by: a loop's length, a radiator's output with the
// water 30 K above the room, so that ratings at other temperatures compare. 0 where it is unknown.
double weight_of(const Emitter &emitter) {
    if (emitter.kind == Emitter::Kind::FloorLoop)
        return emitter.length_m;
    const auto *radiator = std::get_if<models::Radiator>(&emitter.emission);
    return radiator == nullptr ? 0.0 : models::radiator_output_at_excess_w(*radiator, 30.0);
}

// Loops share by length, radiators by output; a single emitter has all.
bool can_share(const std::vector<Emitter *> &emitters) {
    return emitters.size() == 1 || all_of_kind(emitters, Emitter::Kind::FloorLoop) ||
           (all_of_kind(emitters, Emitter::Kind::Radiator) &&
            std::all_of(emitters.begin(), emitters.end(),
                        [](const Emitter *emitter) { return weight_of(*emitter) > 0.0; }));
}

} // namespace

void share_room_losses(Reading &reading) {
    House &house = reading.house;
    for (const Room &room : house.rooms) {
        double rest = room.loss_w;
        double whole = 0.0;
        std::vector<Emitter *> unstated;
        for (Emitter &emitter : house.emitters) {
            if (emitter.room != room.name)
                continue;
            if (emitter.heat_w != from_room) {
                rest -= emitter.heat_w;
            } else {
                unstated.push_back(&emitter);
                whole += weight_of(emitter);
            }
        }
        if (unstated.empty())
            continue;
        if (!can_share(unstated)) {
            const auto radiator =
                std::find_if(unstated.begin(), unstated.end(), [](const Emitter *emitter) {
                    return emitter->kind == Emitter::Kind::Radiator;
                });
            reading.diagnostics.error(
                "heat-not-shared", (*radiator)->place,
                fmt::format("room `{}` has several emitters, and `{}` does not say what `heat` it "
                            "carries",
                            room.name, (*radiator)->name),
                "loops share a room's loss by length, radiators by their `output`; else give each "
                "radiator its `heat:`");
            continue;
        }
        if (rest <= 0.0) {
            reading.diagnostics.error(
                "nothing-left", unstated[0]->place,
                fmt::format("nothing of the {:.6g} W loss of room `{}` is left for `{}`",
                            room.loss_w, room.name, unstated[0]->name),
                "give it its own `heat:` or lower that of the others");
            continue;
        }
        for (Emitter *emitter : unstated)
            emitter->heat_w = unstated.size() == 1 ? rest : rest * weight_of(*emitter) / whole;
    }
}

} // namespace headroom::networks
