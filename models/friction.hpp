// Wall friction of straight and curved round pipes as a Hagen number,
//     Hg(Re) = f(Re) Re^2 / 2 ,     pressure loss = Hg mu^2 L / (rho D^3) ,
// which, unlike the friction factor f (Darcy), stays finite and smooth through zero flow.
#pragma once

#include "models/hermite.hpp"

namespace headroom::models {

/// Where the laminar law is left and the turbulent one reached in a straight pipe. `Middle` is the
/// usual 2300 to 4000. Early and late transition bound what a real pipe may do in between; the
/// verdict's band uses them.
enum class Transition { Middle, Early, Late };

/// 1/sqrt(f) of Colebrook's law, 1/sqrt(f) = -2 lg(e/(3.7 D) + 2.51/(Re sqrt f)), iterated to
/// 1e-14 by Newton. `guess` is 1/sqrt(f) from a neighbouring state, or 0 for none. Re > 0,
/// relative roughness 0..0.05. [Colebrook1939]
double colebrook_inverse_root(double reynolds, double relative_roughness, double guess = 0.0);

/// Reynolds number up to which flow in a curved pipe stays laminar: 2e4 curvature^0.32 [Ito1959],
/// never below the straight pipe's 2300.
double curved_critical_reynolds(double curvature);

/// One pipe's friction law with the ends of its transition worked out, so that the cubic between
/// them meets both laws in value and slope. Laminar f = 64/Re, in a pipe bent to a circle more from
/// a Dean number of 11.6 on [White1929]; turbulent that of Colebrook, in a bend 0.029
/// sqrt(curvature) more [Ito1959]. Curvature 0 to 0.2.
struct FrictionCurve {
    double relative_roughness = 0.0;
    double curvature = 0.0;       ///< bore over bend diameter; 0 for a straight pipe
    double constant_factor = 0.0; ///< a stated friction factor, used alone when above 0
    double laminar_until = 0.0;   ///< Re
    double turbulent_from = 0.0;  ///< Re
    double laminar_value = 0.0, laminar_slope = 0.0;     ///< Hg and dHg/dRe at laminar_until
    double turbulent_value = 0.0, turbulent_slope = 0.0; ///< Hg and dHg/dRe at turbulent_from

    bool operator==(const FrictionCurve &) const = default;
};

FrictionCurve friction_curve(double relative_roughness, double curvature, Transition transition);
FrictionCurve constant_friction(double factor);

/// Hg over Re between laminar_until and turbulent_from.
HermiteCubic transition_cubic(const FrictionCurve &curve);

struct HagenNumber {
    double value = 0.0;
    double slope = 0.0; ///< dHg/dRe
};

/// Hg at Re >= 0. `inverse_root` carries 1/sqrt(f) from one call to the next nearby one; start it
/// at 0.
HagenNumber hagen_number(const FrictionCurve &curve, double reynolds, double &inverse_root);

} // namespace headroom::models
