#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

// Marks a heat that is still to come from the room's loss.
constexpr double from_room = -1.0;

const Room *find_room(const House &house, std::string_view name) {
    for (const Room &room : house.rooms)
        if (room.name == name)
            return &room;
    return nullptr;
}

std::optional<double> source_drop(const House &house) {
    return house.source ? house.source->drop_k : std::optional<double>();
}

// Keys that loops and radiators share: room, heat, drop.
void read_duty(Fields &fields, Emitter &emitter, std::optional<double> drop, Reading &reading) {
    if (const auto room = fields.text("room")) {
        emitter.room = room->value;
        if (const Room *known = find_room(reading.house, room->value)) {
            emitter.indoor_c = known->indoor_c;
        } else {
            std::vector<std::string> names;
            for (const Room &r : reading.house.rooms)
                names.push_back(r.name);
            const std::string near = nearest(room->value, names);
            reading.diagnostics.error("unknown-room", room->place,
                                      fmt::format("there is no room `{}`", room->value),
                                      near.empty() ? "list it under `rooms:` with its `loss:`"
                                                   : fmt::format("did you mean `{}`?", near));
        }
    }
    const bool stated = fields.has("heat");
    emitter.heat_w = fields.quantity("heat", Dimension::Power, {1.0, 1e6}).value_or(from_room);
    if (!stated && !fields.has("room"))
        reading.diagnostics.error(
            "no-heat", fields.place(),
            fmt::format("{} has neither a `heat` to carry nor a `room` whose loss it covers",
                        fields.what()),
            "a flow can only be sized from a heat: survey the room (its fabric, or W/m2 from a "
            "heat-loss calculation) and give `room:` or `heat: 620 W`");
    const auto own = fields.quantity("drop", Dimension::TemperatureStep, limits::drop);
    if (!own && !drop && !fields.has("drop") && fields.usable())
        reading.diagnostics.error("no-drop", fields.place(),
                                  fmt::format("{} has no temperature `drop`", fields.what()),
                                  "such as `drop: 5 K` here, on its manifold, or on the source");
    emitter.drop_k = own ? *own : drop ? *drop : 5.0;
}

void read_loop(const Entry &entry, Manifold &manifold, std::optional<double> drop,
               std::optional<double> limit, std::optional<double> valve_kv, Reading &reading) {
    Fields fields(&entry, entry.place, "loop", reading.diagnostics);
    if (!fields.usable())
        return;
    Emitter loop;
    loop.kind = Emitter::Kind::FloorLoop;
    loop.place = entry.place;
    loop.from = manifold.name;
    read_duty(fields, loop, drop, reading);
    if (const auto name = fields.text("loop")) {
        loop.name = name->value;
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
    const double tails = fields.quantity("tails", Dimension::Length, {0.0, 200.0}).value_or(0.0);
    if (fields.has("tails") && fields.has("length") && tails > loop.length_m)
        reading.diagnostics.error("tails-too-long", fields.key_place("tails"),
                                  "the tails are longer than the whole loop",
                                  "`length` is port to port and includes the tails");
    fields.quantity("spacing", Dimension::Length, {0.03, 1.0});
    loop.curved_share = fields.quantity("curved", Dimension::Ratio, {0.0, 1.0});
    loop.bend_diameter_m = fields.quantity("bends", Dimension::Length, {0.04, 10.0});
    const double bend = loop.bend_diameter_m.value_or(reading.house.habits[Habit::BendDiameter]);
    if (loop.pipe.bore_m > 0.2 * bend)
        reading.diagnostics.error(
            "bend-too-tight", fields.place(),
            fmt::format("loop `{}` bends more tightly than five bores", loop.name),
            "give the bends' centre-line diameter, such as `bends: 300 mm`");
    loop.existing = fields.yes_no("existing").value_or(false);
    const auto own_kv = fields.quantity("valve_kv", Dimension::FlowFactor, limits::kv);
    loop.valve_kv_m3_h = own_kv ? own_kv : valve_kv;
    const auto own_limit = fields.quantity("flow_limit", Dimension::Temperature, {20.0, 80.0});
    loop.flow_limit_c = own_limit ? own_limit : limit;
    if (const auto kv = fields.quantity("set_kv", Dimension::FlowFactor, limits::kv))
        loop.balancing = {Balancing::Kind::Kv, *kv};
    loop.least_kv_m3_h = fields.quantity("least_kv", Dimension::FlowFactor, limits::kv);
    if (!fields.yes_no("open").value_or(true))
        loop.balancing = {Balancing::Kind::Shut, 0.0};
    if (const auto zone = fields.text("zone"))
        loop.zone = zone->value;
    fields.finish();
    manifold.loops.push_back(reading.house.emitters.size());
    reading.house.emitters.push_back(std::move(loop));
}

void read_radiator(const Entry &entry, Reading &reading) {
    Fields fields(&entry, entry.place, "radiator", reading.diagnostics);
    if (!fields.usable())
        return;
    Emitter radiator;
    radiator.kind = Emitter::Kind::Radiator;
    radiator.place = entry.place;
    radiator.name =
        fields.required_text("radiator", "give it a name, such as `radiator: landing`").value;
    radiator.from = fields
                        .required_text("from", "the place it is fed from, such as `from: "
                                               "upstairs tee`")
                        .value;
    if (const auto to = fields.text("to"))
        radiator.to = to->value;
    read_duty(fields, radiator, source_drop(reading.house), reading);
    if (fields.has("pipe")) {
        radiator.pipe = read_pipe(fields, reading);
        radiator.length_m = fields.required_quantity(
            "length", Dimension::Length, {0.0, 200.0},
            "the length of one tail; flow and return are doubled, such as `length: 4 m`");
    }
    radiator.existing = fields.yes_no("existing").value_or(false);
    radiator.valve_kv_m3_h = fields.quantity("valve_kv", Dimension::FlowFactor, limits::kv);
    radiator.lockshield_kv_m3_h =
        fields.quantity("lockshield_kv", Dimension::FlowFactor, limits::kv);
    radiator.body_zeta = fields.number("zeta", {0.0, 1e4});
    if (const auto kv = fields.quantity("set_kv", Dimension::FlowFactor, limits::kv))
        radiator.balancing = {Balancing::Kind::Kv, *kv};
    radiator.least_kv_m3_h = fields.quantity("least_kv", Dimension::FlowFactor, limits::kv);
    if (!fields.yes_no("open").value_or(true))
        radiator.balancing = {Balancing::Kind::Shut, 0.0};
    if (const auto zone = fields.text("zone"))
        radiator.zone = zone->value;
    fields.finish();
    reading.house.emitters.push_back(std::move(radiator));
}

} // namespace

void read_manifolds(const Entry &entry, Reading &reading) {
    Fields all(&entry, entry.place, "manifolds", reading.diagnostics);
    if (!all.usable())
        return;
    for (const Pair &pair : entry.pairs) {
        Fields fields(pair.value.get(), pair.key_place, fmt::format("manifold `{}`", pair.key),
                      reading.diagnostics);
        Manifold manifold;
        manifold.name = pair.key;
        manifold.place = pair.key_place;
        if (const auto level = read_level(fields, "level", reading))
            reading.house.levels[pair.key] = *level;
        const auto own_drop = fields.quantity("drop", Dimension::TemperatureStep, limits::drop);
        const auto drop = own_drop ? own_drop : source_drop(reading.house);
        const auto limit = fields.quantity("flow_limit", Dimension::Temperature, {20.0, 80.0});
        const auto valve_kv = fields.quantity("valve_kv", Dimension::FlowFactor, limits::kv);
        if (const Entry *bar = fields.child("bar")) {
            Fields part(bar, fields.key_place("bar"), "bar", reading.diagnostics);
            manifold.bar_bore_m = part.required_quantity("bore", Dimension::Length, limits::bore,
                                                         "such as `bore: 28 mm`");
            manifold.bar_pitch_m =
                part.quantity("pitch", Dimension::Length, {0.01, 1.0}).value_or(0.05);
            part.finish();
        }
        const auto *loops = read_list(fields, "loops", reading.diagnostics);
        if (loops != nullptr)
            for (const auto &loop : *loops)
                read_loop(*loop, manifold, drop, limit, valve_kv, reading);
        if (fields.usable() && (!fields.has("loops") || (loops != nullptr && loops->empty())))
            reading.diagnostics.error("no-loops", pair.key_place,
                                      fmt::format("manifold `{}` has no loops", pair.key),
                                      "list them under `loops:`");
        fields.finish();
        reading.house.manifolds.push_back(std::move(manifold));
    }
}

void read_radiators(Fields &root, Reading &reading) {
    if (const auto *items = read_list(root, "radiators", reading.diagnostics))
        for (const auto &item : *items)
            read_radiator(*item, reading);
}

void share_room_losses(Reading &reading) {
    House &house = reading.house;
    for (const Room &room : house.rooms) {
        double rest = room.loss_w;
        double length = 0.0;
        std::vector<Emitter *> unstated;
        for (Emitter &emitter : house.emitters) {
            if (emitter.room != room.name)
                continue;
            if (emitter.heat_w > 0.0) {
                rest -= emitter.heat_w;
            } else {
                unstated.push_back(&emitter);
                length += emitter.length_m;
            }
        }
        if (unstated.empty())
            continue;
        const bool loops_only =
            std::all_of(unstated.begin(), unstated.end(), [](const Emitter *emitter) {
                return emitter->kind == Emitter::Kind::FloorLoop;
            });
        if (unstated.size() > 1 && !loops_only) {
            reading.diagnostics.error(
                "heat-not-shared", unstated[1]->place,
                fmt::format("room `{}` has several emitters and not all say what `heat` they carry",
                            room.name),
                "only floor loops share a room's loss, by length; give each radiator its `heat:`");
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
            emitter->heat_w = loops_only ? rest * emitter->length_m / length : rest;
    }
}

} // namespace headroom::networks
