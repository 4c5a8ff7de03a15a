// How much heat a house's water and screed take up between a source's off and on.
#pragma once

#include "networks/house.hpp"

namespace headroom::solver {

struct StoredHeat {
    double held_water_m3 = 0.0;  ///< in pipes, manifolds, radiators, header or buffer
    double added_water_m3 = 0.0; ///< stated beyond that
    double water_swing_k = 0.0;
    double water_j = 0.0;
    double screed_m3 = 0.0; ///< of the described floors
    double floor_swing_k = 0.0;
    double floor_j = 0.0;
};

/// Water: what the house holds (volume.hpp: the one count that `fill` uses too) and what is added,
/// times density, heat capacity and swing. Added is `added_water` or, where that is silent, the
/// `other_water` of `fill`. Floors: area times the depth of screed
/// from the pipe's underside up, 2.0 MJ/(m3 K) [common practice, no source], times a swing; a floor
/// that is not described counts nothing.
StoredHeat stored_heat(const networks::House &house, double held_water_m3, double water_c);

} // namespace headroom::solver
