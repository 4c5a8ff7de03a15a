#pragma once

#include "models/loss.hpp"

namespace headroom::models {

/// Loss coefficient K in  loss = K m |m|  [Pa s^2/kg^2] of a fitting with loss coefficient `zeta`
/// (zeta rho v^2/2 on the velocity in `bore_m`).
double zeta_resistance(double zeta, double bore_m, double density_kg_m3);

/// K of a valve with flow factor `kv_m3_h`: loss = 1 bar (V/Kv)^2 rho/1000 (IEC 60534-1).
double kv_resistance(double kv_m3_h, double density_kg_m3);

/// The loss coefficient a Kv has when referred to a bore, zeta = 2 A^2 1e5 3600^2 / (1000 Kv^2).
double zeta_from_kv(double kv_m3_h, double bore_m);

/// The Kv whose loss at `flow_kg_s` is `pressure_pa` (> 0).
double kv_for_loss(double flow_kg_s, double pressure_pa, double density_kg_m3);

/// The loss below which a quadratic law is taken as linear.
inline constexpr double linear_below_pa = 0.01;

/// loss = K m sqrt(m^2 + m0^2): quadratic, but with a finite slope at rest. m0 is the flow that
/// loses `linear_below_pa`, so the departure from K m|m| stays below half of it.
Loss quadratic_loss(double resistance, double flow_kg_s);

} // namespace headroom::models
