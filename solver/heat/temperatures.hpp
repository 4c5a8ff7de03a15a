#pragma once

#include "networks/network.hpp"

#include <vector>

namespace headroom::solver {

/// Water that hardly moves takes the room's temperature: a share m^2/(m^2 + still^2) of the way
/// from the room's to that of flowing water. Half of it at 3.6 ml/h: far below any flow that heats
/// a room.
inline constexpr double still_kg_s = 1e-6;
inline constexpr double still_room_c = 20.0;
inline constexpr double moving_share(double flow_kg_s) {
    return flow_kg_s * flow_kg_s / (flow_kg_s * flow_kg_s + still_kg_s * still_kg_s);
}

/// Water temperatures that the given flows carry around the network.
struct Temperatures {
    std::vector<double> node_c; ///< of the water leaving each node
    std::vector<double> in_c;   ///< entering each link, along its flow
    std::vector<double> out_c;  ///< leaving each link
    std::vector<double> mean_c; ///< along each link; what its properties are taken at
    std::vector<double> full_c; ///< the same, were its flow not nearly still
};

/// Upwind energy balance: water leaves a node at the flow-weighted mean of what comes in; a source
/// sends its set temperature; the outlet of an emitter or of a pipe that loses heat is
/// rest + (in - rest) exp(-UA/(m c)); all else passes heat on unchanged. One linear system, exact
/// for mixing, recirculation and headers. c is taken at the network's mean, so energy closes to
/// rounding. Nearly still links relax to room temperature. Without a source all links stay at their
/// expected temperature.
Temperatures temperatures(const networks::Network &network, const std::vector<double> &flow_kg_s);

/// The one heat capacity that carries heat around the network, at the mean of its expected
/// temperatures.
double mean_heat_capacity_j_kg_k(const networks::Network &network);

} // namespace headroom::solver
