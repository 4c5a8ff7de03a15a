// Reading of what given loops and loops to be laid share.
#pragma once

#include "networks/read_parts.hpp"

namespace headroom::networks {

/// What a manifold says for all its loops.
struct LoopDefaults {
    std::optional<double> drop_k, flow_limit_c, surface_limit_c, valve_kv_m3_h, spacing_m;
    std::optional<MeterRange> meter;
    const FloorBuild *floor = nullptr;
};

/// Keys that loops and radiators share: room, heat, drop.
void read_duty(Fields &fields, Emitter &emitter, std::optional<double> drop, Reading &reading);

/// The piece of heated floor a loop lies in, if the file says how that floor is built. An area that
/// is not given follows from the heated length.
void read_floor_part(Fields &fields, const LoopDefaults &defaults, double heated_length_m,
                     Emitter &loop, Reading &reading);

/// Sets the loop's emission: its pipe in that floor. Faults where they do not fit.
void place_in_floor(const Fields &fields, const FloorBuild &floor, double spacing_m, double area_m2,
                    Emitter &loop, Reading &reading);

/// Bends, valve, limits, zone and setting of a loop.
void read_loop_details(Fields &fields, const LoopDefaults &defaults, Emitter &loop,
                       Reading &reading);

/// Rooms of a manifold for the program to lay, under `rooms:`.
void read_layings(Fields &manifold_fields, Manifold &manifold, const LoopDefaults &defaults,
                  Reading &reading);

} // namespace headroom::networks
