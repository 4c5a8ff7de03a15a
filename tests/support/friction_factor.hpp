// Friction factors (Darcy), as sources print them, from the program's law of wall friction.
#pragma once

#include "models/friction.hpp"

namespace headroom::tests {

/// f = 2 Hg/Re^2 of a friction curve, Re > 0.
inline double friction_factor(const models::FrictionCurve &curve, double reynolds) {
    double inverse_root = 0.0;
    return 2.0 * models::hagen_number(curve, reynolds, inverse_root).value / (reynolds * reynolds);
}

/// Colebrook's, at any Re > 0.
inline double colebrook_friction_factor(double reynolds, double relative_roughness) {
    const double inverse_root = models::colebrook_inverse_root(reynolds, relative_roughness);
    return 1.0 / (inverse_root * inverse_root);
}

} // namespace headroom::tests
