// Losses over flow squared [Pa s2/m6] at 1000 kg/m3, as textbooks print them.
#pragma once

#include <cmath>

namespace headroom::tests {

/// zeta rho v^2/2
inline double zeta_r(double zeta, double bore_m) {
    const double area_m2 = 0.25 * std::acos(-1.0) * bore_m * bore_m;
    return zeta * 500.0 / (area_m2 * area_m2);
}
/// f L/D rho v^2/2 (Darcy and Weisbach)
inline double pipe_r(double factor, double length_m, double bore_m) {
    return zeta_r(factor * length_m / bore_m, bore_m);
}
/// 1 bar at Kv (IEC 60534-1)
inline double kv_r(double kv_m3_h) {
    return 1e5 * 3600.0 * 3600.0 / (kv_m3_h * kv_m3_h);
}
inline double kv_of(double r) {
    return 3600.0 * std::sqrt(1e5 / r);
}

} // namespace headroom::tests
