#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {

void check_slips(Reading &reading) {
    const House &house = reading.house;
    const auto coldest =
        std::min_element(house.rooms.begin(), house.rooms.end(),
                         [](const Room &a, const Room &b) { return a.indoor_c < b.indoor_c; });
    if (coldest != house.rooms.end() && house.outdoor_c && *house.outdoor_c > coldest->indoor_c)
        reading.diagnostics.error(
            "out-of-range", reading.outdoor_place,
            fmt::format("`outdoor` of {} is warmer than room `{}` is wanted, {}",
                        written(*house.outdoor_c, Dimension::Temperature), coldest->name,
                        written(coldest->indoor_c, Dimension::Temperature)),
            "the design day is a cold one, such as `outdoor: -3 degC`; check the sign, and the "
            "room's `indoor`");
    // A stated heat is checked where it stands.
    for (const Room &room : house.rooms) {
        const Emitter *most = nullptr;
        for (const Emitter &emitter : house.emitters)
            if (emitter.room == room.name && (most == nullptr || emitter.heat_w > most->heat_w))
                most = &emitter;
        if (most != nullptr && most->heat_w > limits::emitter_heat.most)
            reading.diagnostics.error(
                "out-of-range", most->place,
                fmt::format("`{}` would have to carry {:.6g} W of its room's loss", most->name,
                            most->heat_w),
                fmt::format(
                    "no loop or radiator gives 100 kW; check the unit of the `loss` of room `{}`",
                    room.name));
    }
}

void check_floor_areas(Reading &reading) {
    constexpr double most_of_room = 1.05; // survey figures are rounded
    for (const Room &room : reading.house.rooms) {
        if (!room.floor_area_m2)
            continue;
        double sum_m2 = 0.0;
        double largest_m2 = 0.0;
        const Emitter *largest = nullptr;
        for (const Emitter &emitter : reading.house.emitters) {
            const auto *floor = std::get_if<FloorPart>(&emitter.emission);
            if (floor == nullptr || emitter.room != room.name)
                continue;
            sum_m2 += floor->area_m2;
            if (floor->area_m2 > largest_m2) {
                largest_m2 = floor->area_m2;
                largest = &emitter;
            }
        }
        if (largest == nullptr || !(sum_m2 > most_of_room * *room.floor_area_m2))
            continue;
        reading.diagnostics.error(
            "floor-too-large", largest->place,
            fmt::format("the loops of room `{}` cover {:.3g} m2 of floor, but its `floor_area` is "
                        "{:.3g} m2",
                        room.name, sum_m2, *room.floor_area_m2),
            "a loop covers its `length` without `tails` times its `spacing`, or its `area`: state "
            "what lies on the way to the room as `tails`, or correct `length`, `spacing`, `area` "
            "or "
            "the room's `floor_area`");
    }
}

void warn_of_cold_rooms(Reading &reading) {
    const House &house = reading.house;
    constexpr double share_that_matters = 0.02;
    for (const Room &room : house.rooms) {
        double heat_w = 0.0;
        for (const Emitter &emitter : house.emitters)
            if (emitter.room == room.name)
                heat_w += emitter.heat_w;
        if (heat_w == 0.0)
            reading.diagnostics.warning(
                "room-unheated", room.place,
                fmt::format("no loop or radiator heats room `{}`", room.name),
                "give one its `room:`, or leave the room out");
        else if (heat_w < (1.0 - share_that_matters) * room.loss_w)
            reading.diagnostics.warning(
                "room-unheated", room.place,
                fmt::format("loops and radiators of room `{}` carry {:.6g} W of its {:.6g} W",
                            room.name, heat_w, room.loss_w),
                "raise a `heat:`, or leave one of them out so that it takes the rest");
    }
}

} // namespace headroom::networks
