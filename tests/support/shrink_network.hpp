// A network that shows a fault, made small.
#pragma once

#include "networks/network.hpp"

#include <functional>
#include <string>

namespace headroom::tests {

/// The network without one link; what refers to it goes too: a tee, a mixer, the source. Nodes
/// stay.
networks::Network without_link(const networks::Network &network, networks::LinkId link);

/// The network without whatever links, ends and held pressures can be left out, one after another,
/// while `fails` stays true. It must hold for the network given.
networks::Network shrunk_network(networks::Network network,
                                 const std::function<bool(const networks::Network &)> &fails);

/// Its links, a line each: name, the nodes it joins, what it is; then its ends.
std::string described(const networks::Network &network);

} // namespace headroom::tests
