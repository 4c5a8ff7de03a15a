// Tees whose losses follow how their water divides.
#pragma once

#include "models/fluid.hpp"
#include "networks/network.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// Takes the loss coefficients of every tee's legs (models/tee.hpp) halfway from the last ones to
/// those of the present flows [kg/s] and fluid, each of a link. A negative one is kept as a gain,
/// and where the water of a leg stands, so is its loss. Gives the largest change that is wanted
/// [Pa].
double update_tees(networks::Network &network, const std::vector<double> &flow_kg_s,
                   const std::vector<models::FluidState> &fluid);

/// Names each tee whose flow is all in its branch, for which there are no coefficients.
void remark_on_tees(const networks::Network &network, const std::vector<double> &flow_kg_s,
                    std::vector<std::string> &remarks);

} // namespace headroom::solver
