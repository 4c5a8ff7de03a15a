#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {

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
