// Seeded random networks for property tests: houses of mirrored runs, manifolds, loops, headers and
// pumps, and arbitrary graphs of parts. Same seed and kind, same network, on every machine.
#pragma once

#include "networks/network.hpp"

#include <cstdint>
#include <vector>

namespace headroom::tests {

/// Random numbers whose values do not depend on the standard library (splitmix64).
class Random {
public:
    explicit Random(std::uint64_t seed) : state_(seed) { state_ = next(); }
    std::uint64_t next();
    double uniform(double low, double high);
    double log_uniform(double low, double high);
    bool chance(double probability) { return uniform(0.0, 1.0) < probability; }
    std::size_t below(std::size_t end) { return next() % end; }
    std::size_t between(std::size_t least, std::size_t most) {
        return least + below(most - least + 1);
    }
    std::vector<std::size_t> permutation(std::size_t size);

private:
    std::uint64_t state_;
};

/// What a random network may hold.
struct RandomKind {
    bool extremes = true;    ///< Kv 1e-4 to 50, bores 4 to 300 mm, pumps 1e-2 to 5e5 Pa; else those
                             ///< that houses have
    bool set_valued = true;  ///< check and bypass valves, limiters, shut valves, constant flow
    bool open_ends = true;   ///< held pressures and fixed flows
    bool heat = true;        ///< a source and emitters, so that temperatures are solved
    bool buoyancy = true;    ///< sometimes
    bool controlled = true;  ///< proportional pressure and drooping curves, rarely
    bool pump_curves = true; ///< else every pump is an ideal pressure rise
    bool all_pipes = false;  ///< pipes of constant friction factor and pressure rises, no more
};

/// 3 to 68 nodes; four in ten are laid out like a house.
networks::Network random_network(std::uint64_t seed, const RandomKind &kind = {});

/// The two halves of it.
networks::Network random_house(std::uint64_t seed, const RandomKind &kind = {});
networks::Network random_graph(std::uint64_t seed, const RandomKind &kind = {});

/// Fluid states at the temperatures links are expected to have.
std::vector<models::FluidState> expected_states(const networks::Network &network);

} // namespace headroom::tests
