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

double radiator_flow_kg_s(const Radiator &radiator, double in_c, double room_c, double heat_w,
                          double heat_capacity_j_kg_k) {
    const double hot = in_c - room_c;
    // Without a drop it gives the most: the power law at the inlet's own excess.
    const double most = hot > 0.0 ? size(radiator) * std::pow(hot, radiator.exponent) : 0.0;
    if (heat_w >= most)
        return -1.0;
    // Output over drop d is size d / span(hot, hot - d): it falls as d grows, from `most` to zero.
    double low = 0.0;
    double high = hot;
    for (int i = 0; i < 200 && high - low > 1e-14 * hot; ++i) {
        const double drop = 0.5 * (low + high);
        const double output = size(radiator) * drop / span(hot, hot - drop, radiator.exponent);
        (output > heat_w ? low : high) = drop;
    }
    return heat_w / (heat_capacity_j_kg_k * 0.5 * (low + high));
}

double radiator_inlet_c(const Radiator &radiator, double room_c, double heat_w, double drop_k) {
    double low = drop_k;
    double high = drop_k + 10.0;
    const auto output = [&](double hot) {
        return size(radiator) * drop_k / span(hot, hot - drop_k, radiator.exponent);
    };
    while (output(high) < heat_w && high < 1e4)
        high *= 2.0;
    for (int i = 0; i < 200 && high - low > 1e-13 * high; ++i) {
        const double hot = 0.5 * (low + high);
        (output(hot) < heat_w ? low : high) = hot;
    }
    return room_c + 0.5 * (low + high);
}

} // namespace headroom::models
