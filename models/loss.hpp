#pragma once

namespace headroom::models {

/// What a law gives at one flow: the pressure it takes and how steeply that grows.
/// Sign convention: positive flow runs from a link's `from` node to its `to` node, and a positive
/// loss lowers pressure in that direction. A pump that adds pressure has a negative loss.
struct Loss {
    double pressure_pa = 0.0;
    double slope_pa_s_per_kg = 0.0; ///< d(pressure)/d(flow), never negative for a rising law

    Loss &operator+=(const Loss &other) {
        pressure_pa += other.pressure_pa;
        slope_pa_s_per_kg += other.slope_pa_s_per_kg;
        return *this;
    }
};

} // namespace headroom::models
