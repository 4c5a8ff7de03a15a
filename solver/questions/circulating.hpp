// Where water can pass at all, whatever drives it, and which zones that asks for.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// The network as built: neither tolerances nor another state of it.
networks::Network as_built(networks::House house);

/// For each link whether water that passes the source can pass it: whether it lies on closed ways
/// through what is not shut that hang together with the source's. Without a source every closed way
/// counts. Bypass and check valves are ways. Held pressures are one point: an open network's water
/// circulates through its ends.
std::vector<char> on_closed_way(const networks::Network &network);

/// A set of zones for each way to serve some loop or radiator with as few zones open as can be:
/// what its own zone and the zones of the runs on its way ask for. None holds another; the empty
/// set stands for loops and radiators that no zone shuts. Emitters that the file shuts ask for
/// nothing.
std::vector<std::vector<std::string>> least_zone_sets(const networks::House &house);

} // namespace headroom::solver
