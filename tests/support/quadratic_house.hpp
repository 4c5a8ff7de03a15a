// A house of two loops where everything loses as the square of its flow, and what follows for it by
// hand.
#pragma once

#include "tests/support/quadratic_loss.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

namespace headroom::tests::quadratic {

// The heat capacity at 35 degC is that of water, 4178.69 J/(kg K) (IAPWS-IF97).
inline const std::string house_text = R"(house: quadratic
water: {density: 1000 kg/m3, viscosity: 0.65 mPa s}
source: {kind: heat_pump, flow_temperature: 37.5 degC, drop: 5 K, least_flow: 2 l/min, circulator: {states: external, derating: 0 %, efficiency: 40 %, curve: [[0 m3/h, 40 kPa], [1 m3/h, 30 kPa]]}}
pipework: [{run: feed, from: source, to: manifold, pipe: {bore: 20 mm, friction_factor: 0.03}, length: 10 m, fittings: {elbow: 3}}]
manifolds:
  manifold:
    valve_kv: 1.1 m3/h
    loops:
      - {loop: long, heat: 500 W, pipe: {bore: 12 mm, friction_factor: 0.04}, length: 80 m}
      - {loop: short, heat: 400 W, pipe: {bore: 12 mm, friction_factor: 0.04}, length: 60 m}
)";

/// The text with one of its parts replaced.
inline std::string with(std::string text, const std::string &part, const std::string &by) {
    const auto at = text.find(part);
    INFO(part);
    REQUIRE(at != std::string::npos);
    return text.replace(at, part.size(), by);
}

inline constexpr double flow_exact = 1e-5; // losses are rounded off below some 0.005 Pa at rest
inline constexpr double small_pa = 0.05;
inline constexpr double c = 4178.69;
inline constexpr double curve_fall = 10e3 * 3600.0; // Pa s/m3
inline const double long_m3_s = 500.0 / (c * 5.0) / 1000.0;
inline const double short_m3_s = 400.0 / (c * 5.0) / 1000.0;
inline const double both_m3_s = long_m3_s + short_m3_s;

// 10 m each way and three elbows of 2.0 each way.
inline const double run_r = 2.0 * pipe_r(0.03, 10.0, 0.020) + zeta_r(12.0, 0.020);
inline const double long_r = pipe_r(0.04, 80.0, 0.012) + kv_r(1.1);
inline const double short_r = pipe_r(0.04, 60.0, 0.012) + kv_r(1.1);
inline const double long_pa = long_r * long_m3_s * long_m3_s;
inline const double short_pa = short_r * short_m3_s * short_m3_s;
inline const double needed_pa = run_r * both_m3_s * both_m3_s + long_pa;
inline const double available_pa = 40e3 - curve_fall * both_m3_s;
// What the shorter loop's valve takes in all, and so its setting.
inline const double taken_pa = kv_r(1.1) * short_m3_s * short_m3_s + long_pa - short_pa;
inline const double set_kv = kv_of(taken_pa / (short_m3_s * short_m3_s));

inline double velocity(double flow_m3_s, double bore_m) {
    return flow_m3_s / (0.25 * std::acos(-1.0) * bore_m * bore_m);
}

// Both loops open on the whole curve, and whatever else is open between the manifold's bars:
// R V^2 + fall V = 40 kPa.
struct Free {
    double both, between_pa;
    double of(double r) const { return std::sqrt(between_pa / r); }
};
inline Free free_running(const std::vector<double> &others = {}) {
    double open = 1.0 / std::sqrt(long_r) + 1.0 / std::sqrt(short_r);
    for (const double r : others)
        open += 1.0 / std::sqrt(r);
    const double r = run_r + 1.0 / (open * open);
    const double both =
        (-curve_fall + std::sqrt(curve_fall * curve_fall + 4.0 * r * 40e3)) / (2.0 * r);
    return {both, 40e3 - curve_fall * both - run_r * both * both};
}

} // namespace headroom::tests::quadratic
