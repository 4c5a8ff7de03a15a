#pragma once

#include "networks/network.hpp"

#include <vector>

namespace headroom::solver {

/// Water temperatures that the given flows carry around the network.
struct Temperatures {
    std::vector<double> node_c; ///< of the water leaving each node
    std::vector<double> in_c;   ///< entering each link, along its flow
    std::vector<double> out_c;  ///< leaving each link
    std::vector<double> mean_c; ///< along each link; what its properties are taken at
};

/// Upwind energy balance: water leaves a node at the flow-weighted mean of what comes in; a source
/// sends its set temperature; an emitter's outlet is room + (in - room) exp(-UA/(m c)); all else
/// passes heat on unchanged. One linear system, exact for mixing, recirculation and headers. c is
/// taken at the network's mean, so energy closes to rounding. Nearly still links relax to room
/// temperature. Without a source all links stay at their expected temperature.
Temperatures temperatures(const networks::Network &network, const std::vector<double> &flow_kg_s);

} // namespace headroom::solver
