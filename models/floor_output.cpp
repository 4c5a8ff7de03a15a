#include "models/floor_output.hpp"

#include <algorithm>

namespace headroom::models {
namespace {

using ShapeVector = std::array<double, wall_shapes>;
using ShapeMatrix = std::array<ShapeVector, wall_shapes>;

/// Gauss without exchange of rows: I + C D with C positive definite and D >= 0 needs none.
void solve_both(ShapeMatrix &a, ShapeVector &b, ShapeVector &c) {
    for (std::size_t k = 0; k < wall_shapes; ++k)
        for (std::size_t i = k + 1; i < wall_shapes; ++i) {
            const double factor = a[i][k] / a[k][k];
            for (std::size_t j = k; j < wall_shapes; ++j)
                a[i][j] -= factor * a[k][j];
            b[i] -= factor * b[k];
            c[i] -= factor * c[k];
        }
    for (std::size_t i = wall_shapes; i-- > 0;) {
        for (std::size_t j = i + 1; j < wall_shapes; ++j) {
            b[i] -= a[i][j] * b[j];
            c[i] -= a[i][j] * c[j];
        }
        b[i] /= a[i][i];
        c[i] /= a[i][i];
    }
}

double total(const FloorResponse::PerK &per_k, const ShapeVector &wall, double below) {
    double sum = per_k[wall_shapes] * below;
    for (std::size_t n = 0; n < wall_shapes; ++n)
        sum += per_k[n] * wall[n];
    return sum;
}

FloorConductances::PerK outputs(const FloorResponse &response, const ShapeVector &wall,
                                double heat_water, double below) {
    FloorConductances::PerK result;
    result.up = total(response.up, wall, below);
    result.down = total(response.down, wall, below);
    result.water = heat_water;
    result.surface_mean = result.up / response.surface_coefficient_w_m2_k;
    result.surface_over_pipe = total(response.over_pipe, wall, below);
    result.surface_between_pipes = total(response.between_pipes, wall, below);
    return result;
}

} // namespace

FloorConductances floor_conductances(const FloorResponse &response, double film_mk_w) {
    ShapeVector film{};
    film.fill(2.0 * film_mk_w * response.spacing_m);
    film[0] = film_mk_w * response.spacing_m;
    // With tau = e_0 w - D Q: (I + C D) Q = C e_0 w + c u, for w = 1 and for u = 1.
    ShapeMatrix matrix{};
    ShapeVector from_water{}, from_below{};
    for (std::size_t m = 0; m < wall_shapes; ++m) {
        for (std::size_t n = 0; n < wall_shapes; ++n)
            matrix[m][n] = (m == n ? 1.0 : 0.0) + response.wall[m][n] * film[n];
        from_water[m] = response.wall[m][0];
        from_below[m] = response.wall[m][wall_shapes];
    }
    solve_both(matrix, from_water, from_below);
    ShapeVector wall_from_water{}, wall_from_below{};
    for (std::size_t m = 0; m < wall_shapes; ++m) {
        wall_from_water[m] = (m == 0 ? 1.0 : 0.0) - film[m] * from_water[m];
        wall_from_below[m] = -film[m] * from_below[m];
    }
    return {outputs(response, wall_from_water, from_water[0], 0.0),
            outputs(response, wall_from_below, from_below[0], 1.0)};
}

FloorState floor_state(const FloorConductances &conductances, double water_c, double room_c,
                       double below_c) {
    const auto &per_water = conductances.per_water;
    const auto &per_below = conductances.per_below;
    const double water = water_c - room_c;
    const double below = below_c - room_c;
    FloorState state;
    state.heat_up_w_m2 = per_water.up * water + per_below.up * below;
    state.heat_down_w_m2 = per_water.down * water + per_below.down * below;
    state.heat_water_w_m2 = per_water.water * water + per_below.water * below;
    state.surface_mean_c = room_c + per_water.surface_mean * water + per_below.surface_mean * below;
    state.surface_highest_c =
        room_c +
        std::max(per_water.surface_over_pipe * water + per_below.surface_over_pipe * below,
                 per_water.surface_between_pipes * water + per_below.surface_between_pipes * below);
    return state;
}

double floor_rest_temperature_c(const FloorConductances &conductances, double room_c,
                                double below_c) {
    return room_c -
           conductances.per_below.water / conductances.per_water.water * (below_c - room_c);
}

} // namespace headroom::models
