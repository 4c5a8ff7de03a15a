#pragma once

#include "networks/network.hpp"
#include "solver/heat/temperatures.hpp"

#include <vector>

namespace headroom::solver {

/// A room settled where its emitters' output meets its loss.
struct RoomBalance {
    std::size_t room; ///< into House::rooms
    double reached_c;
    double heat_w;            ///< output and loss
    double falls_share_per_k; ///< by how much of itself output falls for each kelvin of room rise
};

/// Sets the room temperature of every floating room's emitters to the one at which
///     sum of outputs(t) = H (t - outdoor)
/// at the present flows and inlet temperatures. Output falls and loss rises with t, so there is one
/// such t; it is bracketed between outdoors and the warmest inlet.
std::vector<RoomBalance> settle_rooms(networks::Network &network,
                                      const std::vector<double> &flow_kg_s,
                                      const Temperatures &heat);

} // namespace headroom::solver
