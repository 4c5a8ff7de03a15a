// The network contracted to branches: all links that must carry the same flow are one unknown.
#pragma once

#include "networks/network.hpp"

#include <vector>

namespace headroom::solver {

struct Member {
    networks::LinkId link;
    int sign; ///< +1 when the link points along the branch
};

struct Branch {
    std::size_t from; ///< contracted node
    std::size_t to;
    std::vector<Member> members;
    bool prescribed = false; ///< carries `prescribed_kg_s` whatever the pressures
    double prescribed_kg_s = 0.0;
    networks::FlowBounds bounds{-models::no_limit, models::no_limit};
};

/// Contracted node 0 is the ground: every held pressure hangs on it, and fixed flows come from it.
struct BranchSystem {
    std::vector<Branch> branches;
    std::size_t nodes = 1;
    std::vector<double> inflow_kg_s;    ///< fixed flow into each contracted node
    std::vector<std::size_t> branch_of; ///< of each link, or SameFlow::none for a bridge
    std::vector<int> sign_of;           ///< of each link in its branch
};

BranchSystem contract(const networks::Network &network);

} // namespace headroom::solver
