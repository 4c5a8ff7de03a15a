// Where the heat of a solved network goes.
#pragma once

#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

struct PipeLoss {
    std::string where; ///< "run primaries", "loop kitchen 1, tails"
    double heat_w;     ///< negative where the water is colder than what is round it
};

/// Heat of one emitter [W].
struct EmitterBalance {
    double from_water_w = 0.0;
    double to_room_w = 0.0;
    double down_w = 0.0; ///< of a floor, to the space below
};

/// source + ends = rooms + down + pipes, where the network is solved. Rooms and down come from the
/// laws of the floors and radiators, source and pipes from the water's temperatures.
struct HeatBalance {
    double source_w = 0.0; ///< flow times heat capacity times (sent - return)
    double rooms_w = 0.0;
    double down_w = 0.0;
    double pipes_w = 0.0;
    double ends_w = 0.0;                  ///< of water let in, less that of water let out
    double closure_w = 0.0;               ///< what the two bring less what the others take
    std::vector<EmitterBalance> emitters; ///< in the network's order
    std::vector<PipeLoss> pipes;          ///< of those that lose heat
};

HeatBalance heat_balance(const networks::House &house, const networks::Network &network,
                         const Solution &solution);

} // namespace headroom::solver
