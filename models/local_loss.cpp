#include "models/local_loss.hpp"

#include "models/units.hpp"

#include <cmath>

namespace headroom::models {
double zeta_resistance(double zeta, double bore_m, double density_kg_m3) {
    const double area = bore_area_m2(bore_m);
    return zeta / (2.0 * density_kg_m3 * area * area);
}

double kv_resistance(double kv_m3_h, double density_kg_m3) {
    const double kv_m3_s = kv_m3_h / seconds_per_hour;
    return kv_reference_pa / (kv_m3_s * kv_m3_s * kv_reference_density * density_kg_m3);
}

double zeta_from_kv(double kv_m3_h, double bore_m) {
    const double area = bore_area_m2(bore_m);
    const double kv_m3_s = kv_m3_h / seconds_per_hour;
    return 2.0 * kv_reference_pa * area * area / (kv_reference_density * kv_m3_s * kv_m3_s);
}

double kv_for_loss(double flow_kg_s, double pressure_pa, double density_kg_m3) {
    const double volume_m3_h = flow_kg_s / density_kg_m3 * seconds_per_hour;
    return volume_m3_h *
           std::sqrt(kv_reference_pa * density_kg_m3 / (kv_reference_density * pressure_pa));
}

Loss quadratic_loss(double resistance, double flow_kg_s) {
    if (resistance <= 0.0)
        return {};
    const double m0_squared = linear_below_pa / resistance;
    const double root = std::sqrt(flow_kg_s * flow_kg_s + m0_squared);
    return {resistance * flow_kg_s * root,
            resistance * (2.0 * flow_kg_s * flow_kg_s + m0_squared) / root};
}

} // namespace headroom::models
