#pragma once

namespace headroom::models {

/// Pressure of water boiling at a temperature, and its inverse:
///     b^2 t^2 + n1 b^2 t + n2 b^2 + n3 b t^2 + n4 b t + n5 b + n6 t^2 + n7 t + n8 = 0 ,
///     b = (p / 1 MPa)^(1/4) ,  t = T + n9/(T - n10) ,
/// T temperature 273.15 to 647.096 [K] (given in degC), p pressure 611.213 to 22.064e6 [Pa].
/// Outside the range: the same equation, not checked; down to -10 degC it is supercooled water
/// within a few per cent. [IAPWS-IF97, eqs. 29 to 31]
double saturation_pressure_pa(double temperature_c);
double saturation_temperature_c(double pressure_pa);

} // namespace headroom::models
