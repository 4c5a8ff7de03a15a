#include "models/friction.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headroom::models {
namespace {

constexpr double two_per_ln10 = 2.0 / std::numbers::ln10;
constexpr double dean_of_first_effect = 11.6; // [White1929]
constexpr double white_exponent = 0.45;

struct Band {
    double laminar_until;
    double turbulent_from;
};

Band straight_band(Transition transition) {
    switch (transition) {
    case Transition::Early:
        return {2000.0, 2300.0};
    case Transition::Late:
        return {3800.0, 4600.0};
    case Transition::Middle:
        break;
    }
    return {2300.0, 4000.0};
}

Band curved_band(double curvature, Transition transition) {
    const double critical = curved_critical_reynolds(curvature);
    switch (transition) {
    case Transition::Early:
        return {0.85 * critical, 1.1 * critical};
    case Transition::Late:
        return {1.1 * critical, 1.4 * critical};
    case Transition::Middle:
        break;
    }
    return {critical, 1.25 * critical};
}

HagenNumber turbulent_number(const FrictionCurve &curve, double reynolds, double &inverse_root) {
    const double x = colebrook_inverse_root(reynolds, curve.relative_roughness, inverse_root);
    inverse_root = x;
    const double rough = curve.relative_roughness / 3.7;
    const double smooth = 2.51 / reynolds;
    const double inner = rough + smooth * x;
    const double dx_dre =
        two_per_ln10 * smooth * x / (reynolds * inner) / (1.0 + two_per_ln10 * smooth / inner);
    const double straight_factor = 1.0 / (x * x);
    const double factor = straight_factor + 0.029 * std::sqrt(curve.curvature); // [Ito1959]
    return {0.5 * factor * reynolds * reynolds,
            factor * reynolds - reynolds * reynolds * straight_factor / x * dx_dre};
}

// f / f_straight = 1 / (1 - (1 - s)^(1/0.45)), s = (11.6/De)^0.45. [White1929]
HagenNumber laminar_number(double curvature, double reynolds) {
    const double dean = reynolds * std::sqrt(curvature);
    if (dean <= dean_of_first_effect)
        return {32.0 * reynolds, 32.0};
    const double s = std::pow(dean_of_first_effect / dean, white_exponent);
    const double power = std::pow(1.0 - s, 1.0 / white_exponent);
    const double ratio = 1.0 / (1.0 - power);
    const double dratio_ds =
        -ratio * ratio * std::pow(1.0 - s, 1.0 / white_exponent - 1.0) / white_exponent;
    const double ds_dre = -white_exponent * s / reynolds;
    return {32.0 * reynolds * ratio, 32.0 * (ratio + reynolds * dratio_ds * ds_dre)};
}

} // namespace

double colebrook_inverse_root(double reynolds, double relative_roughness, double guess) {
    const double rough = relative_roughness / 3.7;
    const double smooth = 2.51 / reynolds;
    double x = guess;
    if (x <= 0.0) // the explicit start of Haaland 1983
        x = -1.8 * std::log10(std::pow(rough, 1.11) + 6.9 / reynolds);
    for (int iteration = 0; iteration < 50; ++iteration) {
        const double inner = rough + smooth * x;
        const double step =
            (x + two_per_ln10 * std::log(inner)) / (1.0 + two_per_ln10 * smooth / inner);
        x = std::max(x - step, 0.05 * x);
        if (std::abs(step) <= 1e-14 * x)
            break;
    }
    return x;
}

double curved_critical_reynolds(double curvature) {
    return std::max(2300.0, 2.0e4 * std::pow(curvature, 0.32));
}

FrictionCurve friction_curve(double relative_roughness, double curvature, Transition transition) {
    FrictionCurve curve;
    curve.relative_roughness = relative_roughness;
    curve.curvature = curvature;
    const Band band =
        curvature > 0.0 ? curved_band(curvature, transition) : straight_band(transition);
    curve.laminar_until = band.laminar_until;
    curve.turbulent_from = band.turbulent_from;
    const HagenNumber laminar = laminar_number(curvature, band.laminar_until);
    curve.laminar_value = laminar.value;
    curve.laminar_slope = laminar.slope;
    double inverse_root = 0.0;
    const HagenNumber turbulent = turbulent_number(curve, band.turbulent_from, inverse_root);
    curve.turbulent_value = turbulent.value;
    curve.turbulent_slope = turbulent.slope;
    return curve;
}

FrictionCurve constant_friction(double factor) {
    FrictionCurve curve;
    curve.constant_factor = factor;
    return curve;
}

HermiteCubic transition_cubic(const FrictionCurve &curve) {
    return hermite_cubic(curve.laminar_until, {curve.laminar_value, curve.laminar_slope},
                         curve.turbulent_from, {curve.turbulent_value, curve.turbulent_slope});
}

HagenNumber hagen_number(const FrictionCurve &curve, double reynolds, double &inverse_root) {
    if (curve.constant_factor > 0.0)
        return {0.5 * curve.constant_factor * reynolds * reynolds,
                curve.constant_factor * reynolds};
    if (reynolds <= curve.laminar_until)
        return laminar_number(curve.curvature, reynolds);
    if (reynolds >= curve.turbulent_from)
        return turbulent_number(curve, reynolds, inverse_root);
    const ValueAndSlope between = value_at(transition_cubic(curve), reynolds);
    return {between.value, between.slope};
}

} // namespace headroom::models
