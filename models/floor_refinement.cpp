// floor_response() of models/floor_conduction.hpp: how fine a grid, and the limit beyond it.
#include "models/floor_conduction.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::models {
namespace {

// A third of the change is added for order two. Orders of 1.5 and more leave at most 0.64 of that
// step as error, so that a step of 0.15 % means 0.1 %.
constexpr double largest_correction = 1.5e-3;
constexpr int finest_refinement = 2;

constexpr std::size_t below = wall_shapes;

/// The limit of a second-order sequence from two grids, the second twice as fine: the fine result
/// plus a third of its change. Linear, so that balances and reciprocity carry over.
FloorResponse extrapolated(const FloorResponse &coarse, const FloorResponse &fine) {
    FloorResponse limit = fine;
    const auto advance = [](const FloorResponse::PerK &from, FloorResponse::PerK &to) {
        for (std::size_t port = 0; port <= below; ++port)
            to[port] += (to[port] - from[port]) / 3.0;
    };
    for (std::size_t m = 0; m < wall_shapes; ++m)
        advance(coarse.wall[m], limit.wall[m]);
    advance(coarse.up, limit.up);
    advance(coarse.down, limit.down);
    advance(coarse.over_pipe, limit.over_pipe);
    advance(coarse.between_pipes, limit.between_pipes);
    return limit;
}

/// Largest difference of what an even wall and the space below give. Heat from the wall counts
/// against itself (or a hundredth of all heat, where it is less) and its surface temperatures
/// against the higher of the two places; heat from the space below and the warmth it brings to the
/// surface count against all heat that leaves that space.
double largest_difference(const FloorResponse &a, const FloorResponse &b) {
    double largest = 0.0;
    const auto compare = [&largest](double one, double other, double least) {
        if (const double scale = std::max(std::abs(other), least); scale > 0.0)
            largest = std::max(largest, std::abs(one - other) / scale);
    };
    for (const std::size_t port : {std::size_t{0}, below}) {
        const double all = std::abs(b.up[port]) + std::abs(b.down[port]);
        const double heat = port == below ? all : 0.01 * all;
        const double surface = port == below ? all / b.surface_coefficient_w_m2_k
                                             : std::max(b.over_pipe[0], b.between_pipes[0]);
        compare(a.up[port], b.up[port], heat);
        compare(a.down[port], b.down[port], heat);
        compare(a.over_pipe[port], b.over_pipe[port], surface);
        compare(a.between_pipes[port], b.between_pipes[port], surface);
    }
    return largest;
}

} // namespace

std::optional<FloorResponse> floor_response(const FloorSection &section) {
    std::optional<FloorResponse> coarse = floor_response_on_grid(section, 0);
    for (int refinement = 1; coarse; ++refinement) {
        const std::optional<FloorResponse> fine = floor_response_on_grid(section, refinement);
        if (!fine)
            break;
        FloorResponse limit = extrapolated(*coarse, *fine);
        limit.grid_correction = largest_difference(*fine, limit);
        if (limit.grid_correction <= largest_correction || refinement == finest_refinement)
            return limit;
        coarse = fine;
    }
    return std::nullopt;
}

} // namespace headroom::models
