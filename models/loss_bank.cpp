#include "models/loss_bank.hpp"

#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#pragma GCC diagnostic ignored "-Wpsabi" // vectors are passed to inlined functions only

namespace headroom::models {
namespace {

constexpr double two_per_ln10 = 2.0 / std::numbers::ln10;
constexpr double dean_of_first_effect = 11.6; // [White1929]
constexpr double white_exponent = 0.45;
// A step as small as this share of x leaves an error of less than 1e-12 of it.
constexpr double last_step_share = 2e-3;
constexpr int most_colebrook_steps = 12;

#define KERNEL_TARGET
namespace baseline {
#include "models/loss_kernels.hpp"
}
#undef KERNEL_TARGET
#ifdef __x86_64__
#define KERNEL_TARGET [[gnu::target("avx2")]]
namespace avx2 {
#include "models/loss_kernels.hpp"
}
#undef KERNEL_TARGET
#define KERNEL_TARGET [[gnu::target("avx512f,avx512dq,avx512vl")]]
namespace avx512 {
#include "models/loss_kernels.hpp"
}
#undef KERNEL_TARGET
#endif

Instructions best_instructions() {
#ifdef __x86_64__
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
        __builtin_cpu_supports("avx512vl"))
        return Instructions::Avx512;
    if (__builtin_cpu_supports("avx2"))
        return Instructions::Avx2;
#endif
    return Instructions::Baseline;
}

Instructions &chosen() {
    static Instructions chosen = best_instructions();
    return chosen;
}

} // namespace

Instructions instructions() {
    return chosen();
}

void limit_instructions(Instructions most) {
    chosen() = std::min(most, best_instructions());
}

std::uint32_t PipeBank::curve(const FrictionCurve &given) {
    constexpr std::size_t remembered = 32;
    const std::size_t oldest = curves_.size() > remembered ? curves_.size() - remembered : 0;
    for (std::size_t i = curves_.size(); i-- > oldest;)
        if (curves_[i] == given)
            return static_cast<std::uint32_t>(i);
    const double width = given.turbulent_from - given.laminar_until;
    const double rise = given.turbulent_value - given.laminar_value;
    const double m0 = given.laminar_slope * width;
    const double m1 = given.turbulent_slope * width;
    PipeConstants out{};
    out.of[constant_factor] = given.constant_factor;
    out.of[laminar_until] = given.laminar_until;
    out.of[turbulent_from] = given.turbulent_from;
    out.of[laminar_value] = given.laminar_value;
    out.of[rough] = given.relative_roughness / 3.7;
    out.of[haaland_rough] = std::pow(out.of[rough], 1.11);
    out.of[root_curvature] = std::sqrt(given.curvature);
    out.of[inverse_width] = width > 0.0 ? 1.0 / width : 0.0;
    out.of[cubic_1] = m0;
    out.of[cubic_2] = 3.0 * rise - 2.0 * m0 - m1;
    out.of[cubic_3] = m0 + m1 - 2.0 * rise;
    curves_.push_back(given);
    constants_.push_back(out);
    return static_cast<std::uint32_t>(curves_.size() - 1);
}

void PipeBank::clear_curves() {
    curves_.clear();
    constants_.clear();
}

void PipeBank::fill(const std::vector<Entry> &entries, std::uint32_t spare) {
    const std::size_t pipes_before = place_.size();
    curve_.clear();
    place_.clear();
    reynolds_per_flow_.clear();
    loss_per_number_pa_.clear();
    one_curve_.clear();
    const auto add = [&](const Entry &entry) {
        place_.push_back(entry.place);
        curve_.push_back(entry.curve);
        reynolds_per_flow_.push_back(entry.reynolds_per_flow);
        loss_per_number_pa_.push_back(entry.loss_per_number_pa);
    };
    for (const Entry &entry : entries)
        add(entry);
    while (place_.size() % lane_count != 0)
        add({spare, curve_.back(), 0.0, 0.0});
    for (std::size_t first = 0; first < curve_.size(); first += lane_count)
        one_curve_.push_back(
            std::all_of(curve_.begin() + static_cast<std::ptrdiff_t>(first),
                        curve_.begin() + static_cast<std::ptrdiff_t>(first + lane_count),
                        [&](std::uint32_t c) { return c == curve_[first]; }));
    if (place_.size() != pipes_before)
        inverse_root_.assign(place_.size(), 0.0);
}

void PipeBank::add_losses(const double *flow, double *pressure, double *slope) {
    const PipeLanes lanes{
        one_curve_.size(),    one_curve_.data(),         place_.data(),
        curve_.data(),        reynolds_per_flow_.data(), loss_per_number_pa_.data(),
        inverse_root_.data(), constants_.data()};
#ifdef __x86_64__
    if (chosen() == Instructions::Avx512)
        return avx512::add_pipe_losses(lanes, flow, pressure, slope);
    if (chosen() == Instructions::Avx2)
        return avx2::add_pipe_losses(lanes, flow, pressure, slope);
#endif
    baseline::add_pipe_losses(lanes, flow, pressure, slope);
}

void FittingBank::fill(const std::vector<Entry> &entries, std::uint32_t spare) {
    place_.clear();
    number_.clear();
    resistance_.clear();
    for (const Entry &entry : entries) {
        place_.push_back(entry.place);
        number_.push_back(entry.number);
        resistance_.push_back(entry.resistance);
    }
    while (place_.size() % lane_count != 0) {
        place_.push_back(spare);
        number_.push_back(0.0);
        resistance_.push_back(1.0);
    }
}

void FittingBank::add_losses(const double *flow, double *pressure, double *slope) const {
    const FittingLanes lanes{place_.size() / lane_count, place_.data(), number_.data(),
                             resistance_.data()};
#ifdef __x86_64__
    if (chosen() == Instructions::Avx512)
        return avx512::add_fitting_losses(lanes, flow, pressure, slope);
    if (chosen() == Instructions::Avx2)
        return avx2::add_fitting_losses(lanes, flow, pressure, slope);
#endif
    baseline::add_fitting_losses(lanes, flow, pressure, slope);
}

} // namespace headroom::models
