// What a floor section gives at stated temperatures, from its linear response and the water film.
#pragma once

#include <array>
#include <cstddef>

namespace headroom::models {

/// Shapes of the temperature round the inner pipe wall that a response knows: cos(m phi) for m from
/// 0, phi counted from the crown. Shape 0 is the even wall; a water film lets the wall grow warmer
/// where less heat leaves it (over insulation), which the other shapes describe: to 1e-5
/// of the heat for a pipe in screed, to 1e-3 for one in a groove, which touches little but its
/// crown.
inline constexpr std::size_t wall_shapes = 6;

/// Heat and surface temperatures of a section per K above the room of each wall shape in turn and,
/// last, of the space below. All per m2 of floor. Made by floor_response() of
/// models/floor_conduction.hpp.
/// Sign convention: heat is positive when it leaves the pipe, enters the room, or enters the space
/// below.
struct FloorResponse {
    using PerK = std::array<double, wall_shapes + 1>;
    double spacing_m = 0.0;
    double surface_coefficient_w_m2_k = 0.0;
    std::array<PerK, wall_shapes> wall{}; ///< heat out of the wall weighted by cos(m phi)
    PerK up{}, down{};                    ///< [W/(m2 K)]
    PerK over_pipe{}, between_pipes{};    ///< floor surface above the room [K/K]
    double grid_correction = 0.0; ///< largest relative step from the finest grid to its limit
    std::size_t cells = 0;        ///< of the finest grid
};

/// A section with its water film: heat [W/(m2 K)] and floor surface [K/K] per K of water above room
/// (`per_water`) and per K of space below above room (`per_below`).
struct FloorConductances {
    struct PerK {
        double up = 0.0, down = 0.0;
        double water = 0.0; ///< heat given off by the water
        double surface_mean = 0.0, surface_over_pipe = 0.0, surface_between_pipes = 0.0;
    };
    PerK per_water, per_below;
};

/// Sets the water film of resistance `film_mk_w` = 1/(pi Nu lambda) [m K/W] per metre of pipe, from
/// models/water_film.hpp, in series with the wall. The heat transfer coefficient is the same all
/// round the bore:
///     Q_m = sum_n C_mn tau_n + c_m (below - room) ,   tau_m = (water - room) [m = 0] - T R_m Q_m ,
/// tau_m wall shape m [K], Q_m its heat [W/m2], T spacing [m], R_0 = film, R_m = 2 film for m >= 1
/// (the mean of cos^2 is a half). film_mk_w >= 0; 0 gives the wall the water's temperature.
FloorConductances floor_conductances(const FloorResponse &response, double film_mk_w);

/// One place on a loop, or a whole floor at its mean temperatures.
struct FloorState {
    double heat_up_w_m2 = 0.0;    ///< into the room
    double heat_down_w_m2 = 0.0;  ///< into the space below
    double heat_water_w_m2 = 0.0; ///< out of the water; up + down
    double surface_mean_c = 0.0;
    double surface_highest_c = 0.0; ///< over or midway between the pipes, whichever is warmer
};

FloorState floor_state(const FloorConductances &conductances, double water_c, double room_c,
                       double below_c);

/// Water temperature [degC] at which the water gives off no heat: the room's and the space below's,
/// weighted by how well each is coupled. Along a loop of floor area A and capacity flow m c the
/// water nears it by exp(-K A / (m c)) with K = per_water.water.
double floor_rest_temperature_c(const FloorConductances &conductances, double room_c,
                                double below_c);

} // namespace headroom::models
