#pragma once

#include "networks/network.hpp"

namespace headroom::benchmarks {

/// A block of flats: risers with flow and return mirrored, four flats a floor with a pump-less pair
/// of branches each; about `links` links.
networks::Network make_block(std::size_t links);

/// A square grid of mains fed at one corner and drawn from at the others' nodes; about `links`
/// links.
networks::Network make_grid(std::size_t links);

} // namespace headroom::benchmarks
