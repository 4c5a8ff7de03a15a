// The example houses of the project, read, expanded and solved.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::tests {

struct SolvedExample {
    std::string file;
    networks::House house;
    networks::Network network; ///< as solved
    solver::Solution solution;
};

/// Every networks/examples/*.yaml in the order of names, once without and once with buoyancy. Fails
/// the test if one cannot be read or solved.
std::vector<SolvedExample> solved_examples();

} // namespace headroom::tests
