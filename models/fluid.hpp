#pragma once

#include <string>

namespace headroom::models {

enum class FluidKind { Water, PropyleneGlycol, EthyleneGlycol, Stated };

/// The liquid in one water circuit.
struct Fluid {
    FluidKind kind = FluidKind::Water;
    double glycol_mass_share = 0.0; ///< 0 to 0.60, mass of glycol over mass of mixture
    /// Used by FluidKind::Stated only: one density and viscosity at every temperature, for worked
    /// problems that print them.
    double stated_density_kg_m3 = 1000.0;
    double stated_viscosity_pa_s = 1.0e-3;

    bool operator==(const Fluid &) const = default;
};

/// Properties of the liquid at one temperature.
struct FluidState {
    double density_kg_m3;
    double viscosity_pa_s;       ///< dynamic
    double heat_capacity_j_kg_k; ///< isobaric
    double conductivity_w_m_k;
};

/// Properties at `temperature_c` and about 2 bar absolute.
/// Water: polynomials in (t - 50)/50 fitted here to IAPWS-IF97 with the viscosity and conductivity
/// releases R12-08 and R15-11, 0 to 110 degC; worst deviation of the fit: density 1.2e-6, viscosity
/// 2e-6, heat capacity 8e-6, conductivity 1.7e-4 (relative). Glycol mixtures: [Melinder2010]
/// polynomials in mass share and temperature, accurate to 0.2 % in density, 3 % in viscosity, 2 %
/// in heat capacity, 3 % in conductivity. Outside 0..110 degC (glycol: freezing point..100 degC)
/// the temperature is held at the nearer end, so that an iteration that strays stays finite.
FluidState fluid_state(const Fluid &fluid, double temperature_c);

/// Freezing point [degC]: 0 for water, [Melinder2010] for glycol mixtures.
double freezing_point_c(const Fluid &fluid);

/// Mass share of glycol from its share by volume at 20 degC, ideal mixing of the pure densities
/// (propylene 1036, ethylene 1113, water 998.2 kg/m3; from memory).
double glycol_mass_share(FluidKind kind, double volume_share);

/// The other way.
double glycol_volume_share(FluidKind kind, double mass_share);

std::string fluid_name(const Fluid &fluid);

} // namespace headroom::models
