#pragma once

#include "models/floor_output.hpp"
#include "models/floor_response_cache.hpp"
#include "models/fluid.hpp"
#include "networks/house.hpp"

#include <optional>

namespace headroom::solver {

/// Less than this carries no heat.
inline constexpr double standing_kg_s = 1e-12;

/// What an emitter does with water that enters at one temperature and flow.
struct EmitterHeat {
    double out_c = 0.0;
    double rest_c = 0.0; ///< what the water's temperature tends to: the room's, or for
                         ///< a floor the room's and the space below's, weighted
    double mean_c = 0.0; ///< of the water along a floor loop
    double to_room_w = 0.0;
    double from_water_w = 0.0;      ///< to the room and, of a floor, to the space below
    double conductance_w_k = 0.0;   ///< UA of  out = rest + (in - rest) exp(-UA/(m c))
    double surface_mean_c = 0.0;    ///< of a floor, at its mean water temperature
    double surface_highest_c = 0.0; ///< of a floor: over or between the pipes
};

/// Floor: the section's conductances with the water film of this flow; the water nears its rest
/// temperature by exp(-K A/(m c)), and the floor is linear, so its mean state is that at the mean
/// water temperature. Radiator: plug flow, models/radiator.hpp. `in_c` above the room, flow > 0.
/// The heat capacity is the liquid's at its mean temperature, or the one given: in a network, the
/// one that carries heat round all of it. The emission must not be empty; a floor must have its
/// response (with_responses). Water colder than the room takes heat from a floor, none from a
/// radiator.
EmitterHeat emitter_heat(const networks::Emission &emission, const models::Fluid &fluid,
                         double in_c, double room_c, double flow_kg_s,
                         std::optional<double> heat_capacity_j_kg_k = {});

/// Flow [kg/s] at which the emitter gives `room_w` to the room from water at `in_c`; negative if
/// not even `most_kg_s` does.
double flow_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double in_c,
                     double room_c, double room_w, double most_kg_s,
                     std::optional<double> heat_capacity_j_kg_k = {});

/// Up to here an inlet temperature is sought [degC].
inline constexpr double warmest_sought_c = 200.0;

/// Inlet temperature [degC] at which it gives `room_w` with the water falling by `drop_k`; above
/// warmest_sought_c where nothing up to there does.
double inlet_for_heat(const networks::Emission &emission, const models::Fluid &fluid, double room_c,
                      double room_w, double drop_k);

/// Flow [kg/s] at which water that enters at `in_c` falls by `drop_k`, and what the emitter gives
/// at it; `about_w` is roughly that heat.
double flow_at_drop(const networks::Emission &emission, const models::Fluid &fluid, double in_c,
                    double room_c, double about_w, double drop_k);
EmitterHeat heat_at_drop(const networks::Emission &emission, const models::Fluid &fluid,
                         double in_c, double room_c, double about_w, double drop_k);

/// Works out the response of every floor in the house that has none yet, each different section
/// once.
void with_responses(networks::House &house, models::FloorResponseCache &cache);
void with_responses(networks::House &house);

} // namespace headroom::solver
