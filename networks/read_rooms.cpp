#include "networks/read_parts.hpp"
#include "networks/room_heat.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <limits>

namespace headroom::networks {
namespace {

const std::vector<std::string> element_kinds{"wall",    "window", "door",      "roof",
                                             "ceiling", "floor",  "party_wall"};

// {wall: 14 m2, u: 0.45 W/(m2 K)}, with `beyond:` or `factor:` where it does not face outside.
void read_element(const Entry &entry, Room &room, Reading &reading) {
    Fields fields(&entry, entry.place, "fabric element", reading.diagnostics);
    if (!fields.usable())
        return;
    FabricPart part{};
    part.element.area_m2 = std::numeric_limits<double>::quiet_NaN();
    if (fields.exactly_one(element_kinds, "what it is with its area, such as `wall: 14 m2`"))
        for (const std::string &kind : element_kinds)
            if (const auto area = fields.quantity(kind, Dimension::Area, {0.01, 1e5})) {
                part.what = kind == "party_wall" ? "party wall" : kind;
                part.element.area_m2 = *area;
            }
    part.element.u_w_m2k = fields.required_quantity("u", Dimension::Transmittance, {0.01, 10.0},
                                                    "its U-value, such as `u: 0.45 W/(m2 K)`");
    static const std::vector<std::string> sides{"outside", "ground", "unheated"};
    const auto side = fields.choice("to", sides);
    part.element.beyond_c = fields.quantity("beyond", Dimension::Temperature, {-40.0, 40.0});
    const auto factor = fields.number("factor", {0.0, 1.0});
    if (side.value_or(0) != 0 && !fields.has("factor") && !fields.has("beyond"))
        fields.missing(
            {"factor", "beyond"}, "missing-key",
            "fabric element faces no outside air, but says neither `factor` nor "
            "`beyond`",
            "the share of the inside-outside difference it sees, such as `factor: 0.5` "
            "for an unheated space, or the temperature there, such as `beyond: 10 degC`");
    if (fields.has("factor") && fields.has("beyond"))
        reading.diagnostics.error("one-too-many", fields.key_place("beyond"),
                                  "fabric element takes only one of `factor`, `beyond`",
                                  "a share of the difference, or the temperature itself");
    part.element.temperature_factor = factor.value_or(1.0);
    fields.finish();
    room.fabric.push_back(std::move(part));
}

// EN 12831-1, rooms lived in, from memory.
constexpr double least_changes_per_h = 0.5;

// What leaks in counts where it is more than the room is aired with at least (EN 12831-1).
void count_air(double infiltration_per_h, Fields &fields, Room &room, Reading &reading) {
    const bool given = fields.has("air_changes");
    const double least = given ? room.air_changes_per_h.value_or(0.0) : least_changes_per_h;
    if (!given && infiltration_per_h < least)
        reading.diagnostics.warning(
            "least-air-change", fields.key_place("tightness"),
            fmt::format("{} leaks {:.2f} air changes an hour by its tightness; {:g} are counted, "
                        "as EN 12831-1 does for rooms lived in (from memory)",
                        fields.what(), infiltration_per_h, least),
            "say how much it is aired at least, such as `air_changes: 0.5 /h`; less where heat is "
            "recovered from its air");
    room.air_changes_per_h = std::max(least, infiltration_per_h);
}

void read_air(Fields &fields, Room &room, Reading &reading) {
    room.volume_m3 = fields.quantity("volume", Dimension::Volume, {0.5, 1e5});
    room.air_changes_per_h = fields.quantity("air_changes", Dimension::AirChanges, {0.0, 20.0});
    const auto tightness = fields.quantity("tightness", Dimension::AirChanges, {0.1, 50.0});
    static const std::vector<std::string> sites{"sheltered", "ordinary", "exposed"};
    static constexpr std::array shares{0.05, 0.07, 0.10};
    const auto site = fields.choice("site", sites);
    if (tightness) {
        if (!fields.has("site"))
            fields.missing({"site"}, "missing-key",
                           fmt::format("{} has a `tightness` but no `site`", fields.what()),
                           "`site: sheltered`, `ordinary` or `exposed`");
        if (site)
            count_air(models::infiltration_changes_per_h(*tightness,
                                                         shares[static_cast<std::size_t>(*site)]),
                      fields, room, reading);
    }
    if (room.air_changes_per_h && !fields.has("volume"))
        fields.missing({"volume"}, "missing-key",
                       fmt::format("{} has air changes but no `volume`", fields.what()),
                       "such as `volume: 38 m3`");
}

} // namespace

void read_rooms(Fields &root, Reading &reading) {
    const Entry *entry = root.child("rooms");
    if (entry == nullptr)
        return;
    if (Fields all(entry, root.key_place("rooms"), "rooms", reading.diagnostics); !all.usable()) {
        reading.rooms_known = false;
        return;
    }
    for (const Pair &pair : entry->pairs) {
        Fields fields(pair.value.get(), pair.key_place, fmt::format("room `{}`", pair.key),
                      reading.diagnostics);
        Room room;
        room.name = pair.key;
        room.place = pair.key_place;
        room.floor_area_m2 = fields.quantity("floor_area", Dimension::Area, {0.1, 1e5});
        room.indoor_c = fields.required_quantity("indoor", Dimension::Temperature, limits::indoor_c,
                                                 "such as `indoor: 21 degC`");
        room.surveyed_w = fields.quantity("loss", Dimension::Power, {1.0, 1e6});
        if (const auto *elements = read_list(fields, "fabric", reading.diagnostics))
            for (const auto &element : *elements)
                read_element(*element, room, reading);
        room.thermal_bridge_w_m2k =
            fields.quantity("thermal_bridges", Dimension::Transmittance, {0.0, 1.0});
        read_air(fields, room, reading);
        room.time_constant_h = fields.quantity("time_constant", Dimension::Duration, {1.0, 1000.0});
        if (!fields.has("loss") && !fields.has("fabric") && !fields.has("air_changes") &&
            !fields.has("tightness") && fields.usable())
            fields.missing({"loss", "fabric"}, "missing-key",
                           fmt::format("{} has no `loss`", fields.what()),
                           "nothing is sized for a room without a heat loss: survey it (walls, "
                           "windows, roof, floor, air) and give its loss on the design day, such "
                           "as `loss: 1180 W`, or its `fabric:` and `air_changes:`");
        fields.finish();
        if (has_worked_loss(room) && !reading.house.outdoor_c && reading.outdoor_known)
            reading.diagnostics.error("missing-key", pair.key_place,
                                      fmt::format("the loss of room `{}` cannot be worked out "
                                                  "without an outdoor temperature",
                                                  room.name),
                                      "add `design_day: {outdoor: -3 degC}`");
        double worked = 0.0;
        for (const RoomPartLoss &part : worked_losses(reading.house, room))
            worked += part.loss_w;
        const bool known = has_worked_loss(room) && reading.house.outdoor_c && !fields.has("loss");
        room.loss_w = room.surveyed_w ? *room.surveyed_w
                      : known         ? worked
                                      : std::numeric_limits<double>::quiet_NaN();
        reading.house.rooms.push_back(std::move(room));
    }
}

} // namespace headroom::networks
