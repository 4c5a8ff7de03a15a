// Flue gas of methane burnt completely in dry air at 101325 Pa: when its water condenses, and what
// share of the gas's gross heat is kept.
#pragma once

#include "models/source_range.hpp"

namespace headroom::models {

/// Heat of combustion of methane at 25 degC [J/mol], with the water liquid (gross) and as vapour
/// (net). [ISO6976, methane, from memory]
inline constexpr double methane_gross_j_mol = 890.58e3;
inline constexpr double methane_net_j_mol = 802.56e3;

/// Gas and air enter, and heats of combustion are stated, at this temperature.
inline constexpr double combustion_air_c = 25.0;
inline constexpr double flue_highest_c = 250.0; ///< constant heat capacities hold to 1 % of loss

/// Temperature [degC] below which water condenses: saturation_temperature(x p) with
///     x = 2 / (3 + 2 (a - 1) + 2 a 0.7905/0.2095) ,
/// a air ratio from 1 [-], air over what burns the gas completely; p 101325 Pa. Falls with excess
/// air. Below 1 taken as 1.
double flue_dew_point_c(double air_ratio);

struct FlueEfficiency {
    double gross;            ///< heat kept over gross heat of combustion [-]
    double condensate_share; ///< of the water formed that leaves as liquid [-]
    RangeStatus flue;        ///< where the temperature lies against 25 to 250 degC
};

/// Share of the gross heat that does not leave with the flue gas:
///     eta = 1 - (sum n_i c_i (T - 25) + n_v L) / H ,
///     n_v = n_dry p_s(T) / (p - p_s(T))  below the dew point, else 2 ,
/// T flue temperature at exit, saturated there, 25 to 250 [degC]; n_i moles per mole of methane of
/// carbon dioxide, oxygen, nitrogen, vapour and condensate, which leaves at T; c_i their constant
/// heat capacities [J/(mol K)]; L heat of vaporisation at 25 degC, the difference of gross and net
/// H [J/mol]. `condenses` false keeps all water as vapour whatever T.
/// Falls with T, steeply up to the dew point. Outside the range T is held at its end, and said so:
/// flue gas is not cooled below the air that enters. [ISO6976] and [IAPWS-IF97] for the figures.
FlueEfficiency flue_efficiency(double flue_c, double air_ratio, bool condenses);

} // namespace headroom::models
