#include "models/coil.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headroom::models {

double coil_effectiveness(double conductance_w_k, double capacity_rate_w_k) {
    return -std::expm1(-conductance_w_k / capacity_rate_w_k);
}

double coil_conductance_w_k(double effectiveness, double capacity_rate_w_k) {
    if (effectiveness >= 1.0)
        return std::numeric_limits<double>::infinity();
    return -capacity_rate_w_k * std::log1p(-effectiveness);
}

double coil_pass_w_k(const CoilInStore &coil) {
    return coil_effectiveness(coil.conductance_w_k, coil.capacity_rate_w_k) *
           coil.capacity_rate_w_k;
}

double coil_heat_w(const CoilInStore &coil, double store_c, double output_w) {
    return std::clamp(coil_pass_w_k(coil) * (coil.allowed_c - store_c), 0.0, output_w);
}

double coil_sent_c(const CoilInStore &coil, double store_c, double heat_w) {
    return store_c + heat_w / coil_pass_w_k(coil);
}

double held_from_c(const CoilInStore &coil, double output_w) {
    return coil.allowed_c - output_w / coil_pass_w_k(coil);
}

double heating_time_s(const CoilInStore &coil, double from_c, double to_c, double output_w) {
    if (to_c <= from_c)
        return 0.0;
    if (to_c >= coil.allowed_c || output_w <= 0.0)
        return std::numeric_limits<double>::infinity();
    const double held_c = std::clamp(held_from_c(coil, output_w), from_c, to_c);
    const double free_s = coil.store_j_k * (held_c - from_c) / output_w;
    const double held_s = coil.store_j_k / coil_pass_w_k(coil) *
                          std::log((coil.allowed_c - held_c) / (coil.allowed_c - to_c));
    return free_s + held_s;
}

} // namespace headroom::models
