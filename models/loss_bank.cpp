#include "models/loss_bank.hpp"

#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <array>
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

using PipeConstants = std::array<double, pipe_constants>;

PipeConstants constants_of(const FrictionCurve &curve) {
    const HermiteCubic cubic = transition_cubic(curve);
    PipeConstants out{};
    out[constant_factor] = curve.constant_factor;
    out[laminar_until] = curve.laminar_until;
    out[turbulent_from] = curve.turbulent_from;
    out[laminar_value] = curve.laminar_value;
    out[rough] = curve.relative_roughness / 3.7;
    out[haaland_rough] = std::pow(out[rough], 1.11);
    out[root_curvature] = std::sqrt(curve.curvature);
    out[inverse_width] = cubic.width > 0.0 ? 1.0 / cubic.width : 0.0;
    out[cubic_1] = cubic.c1;
    out[cubic_2] = cubic.c2;
    out[cubic_3] = cubic.c3;
    return out;
}

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

std::uint32_t FrictionCurves::number(const FrictionCurve &given) {
    constexpr std::size_t remembered = 32;
    const std::size_t oldest = curves_.size() > remembered ? curves_.size() - remembered : 0;
    for (std::size_t i = curves_.size(); i-- > oldest;)
        if (curves_[i] == given)
            return static_cast<std::uint32_t>(i);
    curves_.push_back(given);
    return static_cast<std::uint32_t>(curves_.size() - 1);
}

void PipeBank::arrange(const std::vector<Entry> &entries, const FrictionCurves &curves,
                       std::uint32_t spare) {
    const std::size_t blocks = (entries.size() + lane_count - 1) / lane_count;
    const std::size_t pipes = blocks * lane_count;
    if (place_.size() != pipes)
        inverse_root_.assign(pipes, 0.0);
    reynolds_per_flow_.assign(pipes, 0.0);
    loss_per_number_pa_.assign(pipes, 0.0);
    place_.assign(pipes, spare);
    block_.clear();
    constants_.clear();
    for (std::size_t first = 0; first < pipes; first += lane_count) {
        std::uint32_t of[lane_count];
        for (std::size_t i = 0; i < lane_count; ++i) {
            const std::size_t pipe = std::min(first + i, entries.size() - 1);
            of[i] = entries[pipe].curve;
            place_[pipe] = entries[pipe].place;
        }
        const bool shared = std::all_of(of, of + lane_count, [&](auto c) { return c == of[0]; });
        block_.push_back({static_cast<std::uint32_t>(constants_.size()), shared});
        const std::size_t times = shared ? 1 : lane_count; // each constant
        constants_.resize(constants_.size() + pipe_constants * times);
        double *to = constants_.data() + block_.back().first;
        for (std::size_t i = 0; i < times; ++i) {
            const PipeConstants pipe = constants_of(curves[of[i]]);
            for (std::size_t c = 0; c < pipe_constants; ++c)
                to[c * times + i] = pipe[c];
        }
    }
}

void PipeBank::add_losses(const double *flow, double *pressure, double *slope) {
    const PipeLanes lanes{block_.size(),
                          block_.data(),
                          constants_.data(),
                          place_.data(),
                          reynolds_per_flow_.data(),
                          loss_per_number_pa_.data(),
                          inverse_root_.data()};
#ifdef __x86_64__
    if (chosen() == Instructions::Avx512)
        return avx512::add_pipe_losses(lanes, flow, pressure, slope);
    if (chosen() == Instructions::Avx2)
        return avx2::add_pipe_losses(lanes, flow, pressure, slope);
#endif
    baseline::add_pipe_losses(lanes, flow, pressure, slope);
}

void FittingBank::arrange(const std::vector<Entry> &entries, std::uint32_t spare) {
    place_.clear();
    number_.clear();
    for (const Entry &entry : entries) {
        place_.push_back(entry.place);
        number_.push_back(entry.number);
    }
    while (place_.size() % lane_count != 0) {
        place_.push_back(spare);
        number_.push_back(0.0);
    }
    resistance_.assign(place_.size(), 1.0);
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
