#include "solver/questions/lattice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace headroom::solver {
namespace {

constexpr int multipliers_tried = 16;
constexpr double weight = 0.2; // of each coordinate in P_2: few of many matter at once
constexpr std::size_t measured_dimensions = 12;

bool prime(std::uint32_t n) {
    for (std::uint32_t d = 2; static_cast<std::uint64_t>(d) * d <= n; ++d)
        if (n % d == 0)
            return false;
    return n > 1;
}

std::vector<std::uint32_t> powers(std::uint32_t multiplier, std::uint32_t n, std::size_t count) {
    std::vector<std::uint32_t> out;
    std::uint64_t power = 1;
    for (std::size_t j = 0; j < count; ++j) {
        out.push_back(static_cast<std::uint32_t>(power));
        power = power * multiplier % n;
    }
    return out;
}

// P_2 but for constants: the mean over the points of the product of 1 + w 2 pi^2 B_2(x).
double p2(const std::vector<std::uint32_t> &step, std::uint32_t n) {
    double sum = 0.0;
    for (std::uint64_t i = 0; i < n; ++i) {
        double product = 1.0;
        for (std::size_t j = 0; j < step.size() && j < measured_dimensions; ++j) {
            const double x = static_cast<double>(i * step[j] % n) / n;
            product *=
                1.0 + weight * 2.0 * std::numbers::pi * std::numbers::pi * (x * x - x + 1.0 / 6.0);
        }
        sum += product;
    }
    return sum / n;
}

} // namespace

Lattice::Lattice(std::uint32_t points, std::size_t dimensions) : points_(points) {
    while (!prime(points_))
        ++points_;
    double best = std::numeric_limits<double>::infinity();
    std::uint64_t candidate = 1;
    for (int k = 0; k < multipliers_tried; ++k) {
        candidate = (candidate * 1664525 + 1013904223) % 0x100000000;
        const auto multiplier =
            static_cast<std::uint32_t>(candidate % std::max(points_ - 1, 1u) + 1) % points_;
        std::vector<std::uint32_t> step = powers(multiplier, points_, dimensions);
        const double error = p2(step, points_);
        if (error >= best)
            continue;
        best = error;
        step_ = std::move(step);
    }
    for (std::size_t j = 0; j < dimensions; ++j) // multiples of the golden section
        shift_.push_back(std::fmod(static_cast<double>(j + 1) * (std::numbers::phi - 1.0), 1.0));
}

void Lattice::point(std::uint32_t index, std::vector<double> &coordinates) const {
    coordinates.resize(step_.size());
    for (std::size_t j = 0; j < step_.size(); ++j) {
        const std::uint64_t turned = static_cast<std::uint64_t>(index) * step_[j] % points_;
        const double x = static_cast<double>(turned) / points_ + shift_[j];
        coordinates[j] = x < 1.0 ? x : x - 1.0;
    }
}

} // namespace headroom::solver
