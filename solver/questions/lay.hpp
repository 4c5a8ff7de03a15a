// Loops laid in a room's floor: how many, how long, how far apart.
#pragma once

#include "models/floor_response_cache.hpp"
#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// How one room is laid.
struct LaidRoom {
    std::string name; ///< "kitchen" or "kitchen edge"
    std::string manifold;
    std::string pipe;
    double spacing_m = 0.0;
    bool spacing_chosen = false; ///< by the program
    int loops = 0;
    double loop_length_m = 0.0; ///< port to port
    double pipe_m = 0.0;        ///< in all
};

/// Lays every room of House::layings with the fewest equal loops that keep to the longest length
/// and to the loss a loop may have, both at the design drop. A spacing left open is the widest of
/// 300, 250, 200, 150, 100, 75 and 50 mm, but not below the closest allowed, that gives the room's
/// heat at the house's flow temperature and keeps the surface within its limit. Where the flow
/// temperature is open too, it is the one that the most demanding room needs at its closest
/// spacing. Laying a laid house again starts afresh.
networks::House lay(networks::House house, models::FloorResponseCache &cache);
networks::House lay(networks::House house);

/// Every floor loop made ready to be laid anew: those of one room on one manifold in one floor
/// become one laying, at the spacing they have (150 mm where the file does not say) and with their
/// mean tails; what the loops already are is left as it is.
networks::House as_layings(networks::House house);

/// The rooms that the program laid, in the order of the file.
std::vector<LaidRoom> laid_rooms(const networks::House &house);

} // namespace headroom::solver
