// SI inside, the unit in the name at every edge. Pressures in Pa, flows in kg/s, lengths in m,
// heat in W. Temperatures are in degC (suffix _c) where a person sees them.
#pragma once

namespace headroom::models {

inline constexpr double pi = 3.14159265358979323846;
inline constexpr double gravity_m_per_s2 = 9.80665;
/// A metre of head as the trade states it: water of 1000 kg/m3 under standard gravity.
inline constexpr double pa_per_metre_head = 1000.0 * gravity_m_per_s2;
/// Kv is the flow in m3/h of water at 1000 kg/m3 that loses 1 bar (IEC 60534-1).
inline constexpr double kv_reference_pa = 1.0e5;
inline constexpr double kv_reference_density = 1000.0;
inline constexpr double seconds_per_hour = 3600.0;
inline constexpr double j_per_kwh = 3.6e6;

inline constexpr double bore_area_m2(double bore_m) {
    return 0.25 * pi * bore_m * bore_m;
}

} // namespace headroom::models
