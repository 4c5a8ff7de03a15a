// Heating seasons of EN 14825: hours at each outdoor temperature, and the share of the design heat
// each asks for.
#pragma once

#include <span>

namespace headroom::models {

enum class ClimateKind { Average, Warmer, Colder };

struct TemperatureBin {
    double outdoor_c;
    double hours; ///< a year
};

struct HeatingClimate {
    double design_c;                      ///< outdoor temperature of the design day
    std::span<const TemperatureBin> bins; ///< coldest first, 1 K apart, up to 15 degC
};

/// The season's bins: Average (Strasbourg, design -10 degC), Warmer (Athens, +2 degC), Colder
/// (Helsinki, -22 degC). [EN14825, annex B]
HeatingClimate heating_climate(ClimateKind kind);

/// Outdoor temperature at which a house needs no heating. [EN14825]
inline constexpr double heating_ends_c = 16.0;

/// Share of the design heat at an outdoor temperature:
///     (T - 16) / (T_design - 16) ,
/// T outdoor [degC], T_design below 16 [degC]. None from 16 degC up; above 1 when colder than the
/// design day. [EN14825, part load ratio]
double part_load_ratio(double outdoor_c, double design_c);

} // namespace headroom::models
