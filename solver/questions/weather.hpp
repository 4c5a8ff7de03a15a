// The house at one outdoor temperature: circuits on their weather curves, mixers, source, rooms.
#pragma once

#include "solver/questions/heating_circuits.hpp"
#include "solver/questions/source_heat.hpp"

#include <vector>

namespace headroom::solver {

/// How the flow temperature is run.
struct Operation {
    bool weather_curve = true; ///< else source and mixers hold their design temperatures
    double shift_k = 0.0;      ///< added to the curve
    bool free_heat = false;    ///< sun and people give what the house loses at the heating limit
};

struct EmitterState {
    double need_w = 0.0; ///< of its room
    double gets_w = 0.0; ///< by the room
};

struct CircuitState {
    bool on = false;
    double flow_c = 0.0;
    double return_c = 0.0;
    double flow_kg_s = 0.0;
    double water_w = 0.0;
    double hot_share = 1.0; ///< of the flow that the mixer takes from its hot port
    bool held_low = false;  ///< at the lowest or highest flow temperature, not on its need
    bool held_high = false;
    std::vector<EmitterState> emitters; ///< as in HeatingCircuit
};

struct WeatherState {
    double outdoor_c = 0.0;
    std::vector<CircuitState> circuits; ///< as in HeatingHouse
    bool on = false;
    double source_c = 0.0;
    double return_c = 0.0;
    double need_w = 0.0;  ///< of the rooms
    double water_w = 0.0; ///< to rooms and, of floors, downwards
    SourceHeat source;
};

/// What the rooms lose falls straight from the design day to nothing at each one's own temperature,
///     loss = design loss (indoor - outdoor) / (indoor - design outdoor) ;
/// at or above the heating limit nothing is heated. On the weather curve each circuit has the flow
/// temperature at which its neediest emitter, at the flow of the design day, makes up the loss
/// (free heat left out, as at night), held within its limits; the source sends what the warmest
/// circuit needs, and the circuit without mixer gets that. Every emitter then takes the flow that
/// gives its need, at most that of its own design drop. A mixer draws
///     share = (flow - return) / (hot - return) .
/// What comes back to the source follows from the heat and the flow drawn, or before a header from
/// the circulator's flow; a header that passes more than that has the source send warmer. Balance
/// of heat; no source needed.
WeatherState at_outdoor(const HeatingHouse &house, double outdoor_c, const Operation &operation);

/// No heat at or above it, as the file or the habit says.
double heating_limit_c(const networks::House &house);

/// Where a room settles with its emitters at the flow of their design drop: output meets loss.
double settles_c(const HeatingHouse &house, const std::string &room, const WeatherState &state);

} // namespace headroom::solver
