#include "models/water_film.hpp"

#include "models/hermite.hpp"
#include "models/pipe.hpp"
#include "models/units.hpp"

#include <cmath>

namespace headroom::models {
namespace {

constexpr double laminar_until = 2300.0;
constexpr double turbulent_from = 4000.0;
constexpr double greatest_reynolds = 5.0e6;
constexpr double shortest_pipe = 0.1; // diameter over length

Nusselt laminar(double reynolds, double prandtl, double diameter_over_length) {
    const double graetz_per_re = prandtl * diameter_over_length;
    const double graetz = reynolds * graetz_per_re;
    if (graetz <= 0.0)
        return {3.66, 0.0668 * graetz_per_re};
    const double power = 0.04 * std::pow(graetz, 2.0 / 3.0);
    const double below = 1.0 + power;
    return {3.66 + 0.0668 * graetz / below,
            0.0668 * graetz_per_re * (below - 2.0 / 3.0 * power) / (below * below)};
}

Nusselt turbulent(double reynolds, double prandtl) {
    const double root = 0.79 * std::log(reynolds) - 1.64; // 1/sqrt(f)
    const double droot = 0.79 / reynolds;
    const double eighth = 1.0 / (8.0 * root * root); // f/8
    const double deighth = -2.0 * eighth * droot / root;
    const double spread = 12.7 * (std::cbrt(prandtl * prandtl) - 1.0);
    const double below = 1.0 + spread * std::sqrt(eighth);
    const double dbelow = spread * deighth / (2.0 * std::sqrt(eighth));
    const double value = eighth * (reynolds - 1000.0) * prandtl / below;
    return {value, value * (deighth / eighth + 1.0 / (reynolds - 1000.0) - dbelow / below)};
}

} // namespace

double prandtl_number(const FluidState &fluid) {
    return fluid.viscosity_pa_s * fluid.heat_capacity_j_kg_k / fluid.conductivity_w_m_k;
}

std::optional<Nusselt> nusselt_number(double reynolds, double prandtl,
                                      double diameter_over_length) {
    if (!(reynolds >= 0.0) || !(prandtl > 0.0) || !std::isfinite(prandtl) ||
        !(diameter_over_length >= 0.0 && diameter_over_length <= shortest_pipe))
        return std::nullopt;
    if (reynolds <= laminar_until)
        return laminar(reynolds, prandtl, diameter_over_length);
    if (!(reynolds <= greatest_reynolds) || prandtl < 0.5 || prandtl > 2000.0)
        return std::nullopt;
    if (reynolds >= turbulent_from)
        return turbulent(reynolds, prandtl);
    const Nusselt from = laminar(laminar_until, prandtl, diameter_over_length);
    const Nusselt to = turbulent(turbulent_from, prandtl);
    const ValueAndSlope between = value_at(hermite_cubic(laminar_until, {from.value, from.slope},
                                                         turbulent_from, {to.value, to.slope}),
                                           reynolds);
    return Nusselt{between.value, between.slope};
}

std::optional<double> water_film_resistance(const FluidState &fluid, double bore_m,
                                            double flow_kg_s, double length_m) {
    const double reynolds = std::abs(reynolds_number(bore_m, fluid, flow_kg_s));
    const auto nusselt =
        nusselt_number(reynolds, prandtl_number(fluid), length_m > 0.0 ? bore_m / length_m : 0.0);
    if (!nusselt)
        return std::nullopt;
    return 1.0 / (pi * nusselt->value * fluid.conductivity_w_m_k);
}

} // namespace headroom::models
