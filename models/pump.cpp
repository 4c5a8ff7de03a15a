#include "models/pump.hpp"

#include "models/hermite.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::models {
namespace {

// The harmonic mean of neighbouring secants, weighted by 2 h_i + h_(i-1) and h_i + 2 h_(i-1), zero
// at a turn. [FritschButland1984]
std::vector<double> monotone_slopes(const std::vector<CurvePoint> &points) {
    const std::size_t n = points.size();
    std::vector<double> slopes(n);
    if (n < 2)
        return slopes;
    const auto secant = [&](std::size_t i) {
        return (points[i + 1].pressure_pa - points[i].pressure_pa) /
               (points[i + 1].flow_m3_s - points[i].flow_m3_s);
    };
    const auto width = [&](std::size_t i) { return points[i + 1].flow_m3_s - points[i].flow_m3_s; };
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double before = secant(i - 1);
        const double after = secant(i);
        if (before * after <= 0.0)
            continue;
        const double w1 = 2.0 * width(i) + width(i - 1);
        const double w2 = width(i) + 2.0 * width(i - 1);
        slopes[i] = (w1 + w2) / (w1 / before + w2 / after);
    }
    // One-sided three-point ends, kept within the monotone region.
    const auto end_slope = [](double h0, double h1, double d0, double d1) {
        double slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
        if (slope * d0 <= 0.0)
            slope = 0.0;
        else if (d0 * d1 <= 0.0 && std::abs(slope) > 3.0 * std::abs(d0))
            slope = 3.0 * d0;
        return slope;
    };
    if (n == 2) {
        slopes[0] = slopes[1] = secant(0);
    } else {
        slopes[0] = end_slope(width(0), width(1), secant(0), secant(1));
        slopes[n - 1] = end_slope(width(n - 2), width(n - 3), secant(n - 2), secant(n - 3));
    }
    if (points.front().flow_m3_s > 0.0)
        slopes[0] = 0.0; // held flat back to zero flow
    return slopes;
}

PumpPressure full_speed_pressure(const PumpCurve &curve, double v) {
    const CurvePoint &first = curve.points.front();
    const CurvePoint &last = curve.points.back();
    if (v < 0.0) {
        const double slope = first.flow_m3_s > 0.0 ? 0.0 : std::min(curve.slopes.front(), 0.0);
        return {first.pressure_pa + slope * v + curve.quadratic * v * v,
                slope + 2.0 * curve.quadratic * v};
    }
    if (v < first.flow_m3_s)
        return {first.pressure_pa, 0.0};
    if (v >= last.flow_m3_s) {
        const double beyond = v - last.flow_m3_s;
        const double slope = std::min(curve.slopes.back(), 0.0);
        return {last.pressure_pa + beyond * (slope - curve.quadratic * beyond),
                slope - 2.0 * curve.quadratic * beyond};
    }
    std::size_t i = 0;
    while (v > curve.points[i + 1].flow_m3_s)
        ++i;
    const CurvePoint &a = curve.points[i];
    const CurvePoint &b = curve.points[i + 1];
    const ValueAndSlope rise =
        value_at(hermite_cubic(a.flow_m3_s, {a.pressure_pa, curve.slopes[i]}, b.flow_m3_s,
                               {b.pressure_pa, curve.slopes[i + 1]}),
                 v);
    return {rise.value, rise.slope};
}

} // namespace

PumpCurve make_pump_curve(std::vector<CurvePoint> points) {
    PumpCurve curve;
    curve.slopes = monotone_slopes(points);
    curve.points = std::move(points);
    const CurvePoint &first = curve.points.front();
    const CurvePoint &last = curve.points.back();
    const double end_flow = last.flow_m3_s;
    if (end_flow > 0.0)
        curve.quadratic =
            std::max(first.pressure_pa - last.pressure_pa, 0.0) / (end_flow * end_flow);
    if (curve.points.size() == 1) {
        // One point promises its head up to its flow and nothing beyond: the curve falls to zero
        // within the next twentieth of that flow.
        curve.slopes.front() = -20.0 * first.pressure_pa / end_flow;
        curve.quadratic = first.pressure_pa / (end_flow * end_flow);
    }
    const auto peak = std::max_element(
        curve.points.begin(), curve.points.end(),
        [](const CurvePoint &a, const CurvePoint &b) { return a.pressure_pa < b.pressure_pa; });
    curve.peak_pressure_pa = peak->pressure_pa;
    curve.peak_flow_m3_s = peak == curve.points.begin() ? 0.0 : peak->flow_m3_s;
    return curve;
}

PumpPressure pump_pressure(const PumpCurve &curve, double flow_m3_s, double speed) {
    const PumpPressure full = full_speed_pressure(curve, flow_m3_s / speed);
    return {speed * speed * full.pressure_pa, speed * full.slope_pa_s_m3};
}

double affinity_power(double power_w, double speed_ratio) {
    return power_w * speed_ratio * speed_ratio * speed_ratio;
}

Loss running_pump_loss(const PumpCurve &curve, double speed, double limit_pa, double density_kg_m3,
                       double flow_kg_s) {
    const double density_ratio = density_kg_m3 / 1000.0;
    const double flow_m3_s = flow_kg_s / density_kg_m3;
    PumpPressure rise = pump_pressure(curve, flow_m3_s, speed);
    if (curve.peak_flow_m3_s > 0.0 && flow_m3_s < speed * curve.peak_flow_m3_s)
        rise = {speed * speed * curve.peak_pressure_pa, 0.0};
    if (rise.pressure_pa > limit_pa)
        rise = {limit_pa, 0.0};
    return {-rise.pressure_pa * density_ratio, -rise.slope_pa_s_m3 * density_ratio / density_kg_m3};
}

double stopped_pump_resistance(const PumpCurve &curve, double density_kg_m3) {
    return curve.quadratic / 1000.0 / density_kg_m3;
}

} // namespace headroom::models
