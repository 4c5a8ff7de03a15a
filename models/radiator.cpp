#include "models/radiator.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::models {
namespace {

// The plug-flow law's size: flow times heat capacity times (out^(1-n) - in^(1-n)) / (n-1), per
// unit; its value at the rating point is the same for every flow. For n = 1 the power becomes a
// logarithm.
double span(double hot_k, double cool_k, double n) {
    if (std::abs(n - 1.0) < 1e-9)
        return std::log(hot_k / cool_k);
    return (std::pow(cool_k, 1.0 - n) - std::pow(hot_k, 1.0 - n)) / (n - 1.0);
}

// Conductance-like constant: m c span = size, from the rated output m c (hot - cool).
double size(const Radiator &r) {
    const double hot = r.rated_flow_c - r.rated_room_c;
    const double cool = r.rated_return_c - r.rated_room_c;
    return r.share * r.rated_w / (hot - cool) * span(hot, cool, r.exponent);
}

} // namespace

double radiator_output_at_excess_w(const Radiator &radiator, double excess_k) {
    const double rated =
        0.5 * (radiator.rated_flow_c + radiator.rated_return_c) - radiator.rated_room_c;
    return excess_k <= 0.0
               ? 0.0
               : radiator.share * radiator.rated_w * std::pow(excess_k / rated, radiator.exponent);
}

double radiator_size_w(const Radiator &radiator) {
    constexpr double excess_k = 50.0;
    Radiator whole = radiator;
    whole.share = 1.0;
    return radiator_output_at_excess_w(whole, excess_k);
}

RadiatorState radiator_state(const Radiator &radiator, double in_c, double room_c, double flow_kg_s,
                             double heat_capacity_j_kg_k) {
    const double hot = in_c - room_c;
    const double capacity = flow_kg_s * heat_capacity_j_kg_k;
    if (hot <= 0.0)
        return {in_c, 0.0};
    if (capacity <= 0.0)
        return {room_c, 0.0};
    const double n = radiator.exponent;
    double cool;
    if (std::abs(n - 1.0) < 1e-9)
        cool = hot * std::exp(-size(radiator) / capacity);
    else
        cool =
            std::pow(std::max(std::pow(hot, 1.0 - n) + (n - 1.0) * size(radiator) / capacity, 0.0),
                     1.0 / (1.0 - n));
    return {room_c + cool, capacity * (hot - cool)};
}

} // namespace headroom::models
