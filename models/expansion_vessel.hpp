// How much the liquid of a closed heating system grows, and the vessel that takes it.
#pragma once

#include "models/fluid.hpp"

namespace headroom::models {

/// Growth of the liquid between two temperatures [degC] over its volume when cold:
///     e = rho(cold) / rho(hot) - 1 .
double expansion_share(const Fluid &fluid, double cold_c, double hot_c);

/// All pressures are gauge.
struct VesselNeed {
    double system_m3;       ///< liquid in the system, above 0
    double expansion_share; ///< e, from 0
    double static_pa;       ///< of the water column above the vessel, from 0
    double safety_valve_pa; ///< opens at
};

struct VesselSize {
    double expansion_m3; ///< V_e = e V
    double reserve_m3;   ///< V_WR = max(0.5 % V, 3 l)
    double precharge_pa; ///< p_0 = p_st + 0.3 bar, at least 0.7 bar
    double final_pa;     ///< p_e = p_SV - 0.5 bar, above 5 bar less a tenth
    double volume_m3;    ///< V = (V_e + V_WR) (p_e + p_a) / (p_e - p_0); infinite if p_e <= p_0
};

/// The least vessel with a membrane. p_a is 1 bar of air. [EN12828, annex D, from memory]
VesselSize vessel_size(const VesselNeed &need);

/// What the fill pressure at the vessel must lie between, cold: at least so that the reserve is in
/// the vessel, at most so that the final pressure is not passed when hot.
///     p_least = (p_0 + p_a) V_n / (V_n - V_WR) - p_a
///     p_most  = (p_e + p_a) / (1 + V_e (p_e + p_a) / (V_n (p_0 + p_a))) - p_a
/// for a vessel of V_n, above V_WR. Where V_n is the least vessel both meet at about one pressure.
/// [EN12828, annex D, from memory]
struct FillRange {
    double least_pa;
    double most_pa;
};
FillRange fill_range(const VesselSize &size, double vessel_m3);

/// Pressure in the vessel [Pa gauge] once `expansion_m3` more has come in, from the pressure when
/// cold, at constant temperature of its gas: V_gas = V_n (p_0 + p_a) / (p + p_a).
/// Infinite once the gas is squeezed out.
double pressure_when_hot_pa(const VesselSize &size, double vessel_m3, double cold_pa);

} // namespace headroom::models
