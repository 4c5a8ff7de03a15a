// Heat transfer from the water to the inside of a round pipe.
#pragma once

#include "models/fluid.hpp"

#include <optional>

namespace headroom::models {

/// Prandtl number mu c / lambda.
double prandtl_number(const FluidState &fluid);

struct Nusselt {
    double value = 0.0;
    double slope = 0.0; ///< d(value)/d(Re) at constant Prandtl number
};

/// Mean Nusselt number h D / lambda of a straight pipe of even wall temperature.
/// Re <= 2300, laminar with a thermal entry:
///     Nu = 3.66 + 0.0668 Gz / (1 + 0.04 Gz^(2/3)) ,  Gz = Re Pr D / L       [Hausen1943]
/// Re >= 4000, turbulent:
///     Nu = (f/8) (Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1)) ,
///     f = (0.79 ln Re - 1.64)^-2                                            [Gnielinski1976]
/// Between: the cubic that meets both in value and slope, rising throughout.
/// Re = Reynolds number >= 0 [-], either direction the same; Pr = Prandtl number [-];
/// diameter_over_length = D/L, 0 to 0.1 [-], 0 for a fully developed profile.
/// Not counted: stirring by bends and by buoyancy, both of which help; the wall's own viscosity;
/// roughness.
/// nullopt outside Gnielinski's range 0.5 <= Pr <= 2000, Re <= 5e6, where that law is used (its own
/// lower limit is Re 3000), for pipes shorter than ten diameters, and for numbers not finite.
std::optional<Nusselt> nusselt_number(double reynolds, double prandtl,
                                      double diameter_over_length = 0.0);

/// Film resistance per metre of pipe [m K/W]: 1 / (pi Nu lambda). It does not depend on the bore
/// but through Re and the entry. `length_m` is the heated length, 0 for a fully developed profile.
/// nullopt where nusselt_number() gives nothing.
std::optional<double> water_film_resistance(const FluidState &fluid, double bore_m,
                                            double flow_kg_s, double length_m = 0.0);

} // namespace headroom::models
