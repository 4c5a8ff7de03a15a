// Eight doubles that are worked on together, and what the kernels of models/loss_kernels.hpp read.
// The compiler turns these vectors into whatever the target has: AVX-512, AVX2, SSE2, Neon.
#pragma once

#include <cstddef>
#include <cstdint>

namespace headroom::models {

inline constexpr std::size_t lane_count = 8;
typedef double Lanes __attribute__((vector_size(lane_count * sizeof(double))));
typedef std::int64_t LaneBits __attribute__((vector_size(lane_count * sizeof(double))));
typedef std::uint64_t LaneWords __attribute__((vector_size(lane_count * sizeof(double))));

/// What every pipe of a friction curve needs worked out.
enum PipeConstant : std::size_t {
    constant_factor,
    laminar_until,
    turbulent_from,
    laminar_value,
    rough,          ///< e/(3.7 D)
    haaland_rough,  ///< its 1.11th power
    root_curvature, ///< sqrt of bore over bend diameter
    inverse_width,  ///< of the cubic between the laws, in Re
    cubic_1,        ///< and its coefficients
    cubic_2,
    cubic_3,
    pipe_constants
};

/// Where the constants of a block of eight pipes begin: each once for all eight where they share
/// their friction curve, else eight times, a pipe after the other.
struct BlockConstants {
    std::uint32_t first;
    bool shared;
};

/// Pipes in blocks of eight.
struct PipeLanes {
    std::size_t blocks;
    const BlockConstants *block;
    const double *constants;
    const std::uint32_t *place;
    const double *reynolds_per_flow, *loss_per_number_pa;
    double *inverse_root;
};

/// Fittings in blocks of eight.
struct FittingLanes {
    std::size_t blocks;
    const std::uint32_t *place;
    const double *number, *resistance;
};

} // namespace headroom::models
