// The checks that every law of value and slope must pass: its slope against central differences,
// that it rises, and that its content (the integral over flow) is convex. A law is anything that
// turns a flow [kg/s] into a headroom::models::Loss.
#pragma once

#include "models/loss.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

namespace headroom::tests {

/// (loss(m + h) - loss(m - h)) / (2 h)
template <typename Law> double central_difference(const Law &law, double flow, double step) {
    return (law(flow + step).pressure_pa - law(flow - step).pressure_pa) / (2.0 * step);
}

/// Checks the slope at one flow. The tolerance is relative to the slope; the rounding of the two
/// values differenced is allowed on top. Where the law is only once differentiable (the ends of a
/// regime), the difference is off by about a quarter of step times the jump in curvature, which the
/// caller's tolerance must cover.
template <typename Law>
void check_slope(const Law &law, double flow, double step, double tolerance = 1e-6) {
    const models::Loss here = law(flow);
    const double rounding =
        8.0 * std::numeric_limits<double>::epsilon() * std::abs(here.pressure_pa) / step;
    const double difference = central_difference(law, flow, step);
    INFO("flow " << flow << " kg/s, step " << step);
    CHECK_THAT(here.slope_pa_s_per_kg,
               Catch::WithinRel(difference, tolerance) || Catch::WithinAbs(difference, rounding));
}

/// Checks the slope at each flow with a step of 1e-6 of it, or of `least_flow` where that is more.
template <typename Law>
void check_slopes(const Law &law, const std::vector<double> &flows, double least_flow,
                  double tolerance = 1e-6) {
    for (const double flow : flows)
        check_slope(law, flow, 1e-6 * std::max(std::abs(flow), least_flow), tolerance);
}

/// Content of a law from one flow to another by Gauss's five-point rule on equal pieces.
/// [W/(kg/m3)]
template <typename Law>
double content(const Law &law, double from, double to, std::size_t pieces = 32) {
    static constexpr std::array nodes{-0.9061798459386640, -0.5384693101056831, 0.0,
                                      0.5384693101056831, 0.9061798459386640};
    static constexpr std::array weights{0.2369268850561891, 0.4786286704993665, 0.5688888888888889,
                                        0.4786286704993665, 0.2369268850561891};
    const double half = 0.5 * (to - from) / static_cast<double>(pieces);
    double sum = 0.0;
    for (std::size_t piece = 0; piece < pieces; ++piece) {
        const double middle = from + half * (2.0 * static_cast<double>(piece) + 1.0);
        for (std::size_t i = 0; i < nodes.size(); ++i)
            sum += weights[i] * law(middle + half * nodes[i]).pressure_pa;
    }
    return half * sum;
}

/// `count` flows at equal distance, both ends included.
inline std::vector<double> spread(double from, double to, std::size_t count) {
    std::vector<double> flows(count);
    for (std::size_t i = 0; i < count; ++i)
        flows[i] = from + (to - from) * static_cast<double>(i) / static_cast<double>(count - 1);
    return flows;
}

/// Checks that a law rises strictly over ascending flows, with a positive slope at each.
template <typename Law> void check_rises(const Law &law, const std::vector<double> &flows) {
    double before = -std::numeric_limits<double>::infinity();
    for (const double flow : flows) {
        const models::Loss loss = law(flow);
        INFO("flow " << flow << " kg/s");
        CHECK(loss.pressure_pa > before);
        CHECK(loss.slope_pa_s_per_kg > 0.0);
        before = loss.pressure_pa;
    }
}

/// Checks that the content over each step of ascending flows lies between its lower and upper
/// rectangle, as it must for a law that rises strictly and everywhere in between.
template <typename Law>
void check_content_is_convex(const Law &law, const std::vector<double> &flows) {
    for (std::size_t i = 1; i < flows.size(); ++i) {
        const double width = flows[i] - flows[i - 1];
        const double step = content(law, flows[i - 1], flows[i]);
        INFO("flows " << flows[i - 1] << " to " << flows[i] << " kg/s");
        CHECK(step > law(flows[i - 1]).pressure_pa * width);
        CHECK(step < law(flows[i]).pressure_pa * width);
    }
}

} // namespace headroom::tests
