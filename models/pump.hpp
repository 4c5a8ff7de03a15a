#pragma once

#include "models/loss.hpp"

#include <limits>
#include <vector>

namespace headroom::models {

struct CurvePoint {
    double flow_m3_s;
    double pressure_pa; ///< at 1000 kg/m3, so that 1 m of head is 9806.65 Pa
};

/// Head curve of a circulator at full speed: monotone cubic through its points
/// [FritschButland1984], flat from zero flow to a first point that lies above it, and beyond the
/// last point on along the last slope, steepening with the curve's own quadratic share. A rising
/// (drooping) stretch is kept as it is. A single point holds its head up to its flow and drops
/// steeply beyond. Build it with make_pump_curve; at least one point, flows rising and not
/// negative, the last above zero.
struct PumpCurve {
    std::vector<CurvePoint> points;
    std::vector<double> slopes;  ///< dp/dV at the points [Pa s/m3]
    double quadratic = 0.0;      ///< (p_first - p_last)/V_last^2 [Pa s2/m6], >= 0
    double peak_flow_m3_s = 0.0; ///< flow of the greatest head; above 0 for a drooping curve
    double peak_pressure_pa = 0.0;
};

PumpCurve make_pump_curve(std::vector<CurvePoint> points);

struct PumpPressure {
    double pressure_pa;
    double slope_pa_s_m3;
};

/// Pressure rise at `flow_m3_s` and relative `speed` n > 0 by the affinity law
/// p(V, n) = n^2 p(V/n, 1), at 1000 kg/m3.
PumpPressure pump_pressure(const PumpCurve &curve, double flow_m3_s, double speed);

/// Shaft power scales with the cube of speed.
double affinity_power(double power_w, double speed_ratio);

inline constexpr double no_limit = std::numeric_limits<double>::infinity();

/// Loss of a running pump, falling curve part only: minus the smaller of the pressure it is limited
/// to and the curve (its peak held back to zero flow, if it droops). Head in metres does not depend
/// on the liquid, so the pressure scales with density.
Loss running_pump_loss(const PumpCurve &curve, double speed, double limit_pa, double density_kg_m3,
                       double flow_kg_s);

/// A stopped pump resists with what the affinity law leaves at zero speed, K V|V| with the curve's
/// quadratic share. Returns K in  loss = K m|m|.
double stopped_pump_resistance(const PumpCurve &curve, double density_kg_m3);

} // namespace headroom::models
