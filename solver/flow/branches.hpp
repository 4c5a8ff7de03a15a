// The network contracted to branches: all links that must carry the same flow are one unknown.
#pragma once

#include "networks/network.hpp"

#include <cstdint>
#include <span>
#include <vector>

namespace headroom::solver {

struct Member {
    std::uint32_t link;
    std::int32_t sign; ///< +1 when the link points along the branch
};

struct Branch {
    std::size_t from; ///< contracted node
    std::size_t to;
    bool prescribed = false; ///< carries `prescribed_kg_s` whatever the pressures
    double prescribed_kg_s = 0.0;
    networks::FlowBounds bounds{-models::no_limit, models::no_limit};
};

/// Contracted node 0 is the ground: every held pressure hangs on it, and fixed flows come from it.
struct BranchSystem {
    std::vector<Branch> branches;
    std::size_t nodes = 1;
    std::vector<double> inflow_kg_s;         ///< fixed flow into each contracted node
    std::vector<std::uint32_t> branch_of;    ///< of each link; `no_branch` for a bridge
    std::vector<std::int8_t> sign_of;        ///< of each link in its branch; 0 for a bridge
    std::vector<Member> members;             ///< branch by branch, each in the order of links
    std::vector<std::uint32_t> first_member; ///< of each branch, and the end of the last

    static constexpr std::uint32_t no_branch = static_cast<std::uint32_t>(-1);

    /// Sorts the links into `members` by what `branch_of` and `sign_of` say.
    void list_members();

    std::span<const Member> members_of(std::size_t branch) const {
        return {members.data() + first_member[branch], members.data() + first_member[branch + 1]};
    }
};

BranchSystem contract(const networks::Network &network);

} // namespace headroom::solver
