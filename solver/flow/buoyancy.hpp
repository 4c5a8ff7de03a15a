// The hydrostatic part of a branch whose water depends on which way it flows.
#pragma once

#include "networks/network.hpp"
#include "solver/flow/branches.hpp"

#include <vector>

namespace headroom::solver {

/// Mean temperature of each link's water were its flow to run along it, or against it.
struct DirectedWater {
    std::vector<double> along_c;
    std::vector<double> against_c;
};

/// A branch that warm water would enter against the flow its weight drives, and cold water along
/// it, holds itself almost still: its hydrostatic part S jumps between two values where the flow
/// turns, by way of water at room temperature. Where S rises with the flow it belongs into the
/// branch's law, which stays monotone; S is kept between the values either direction has at full
/// flow. Where it falls, either direction feeds itself, and S stays frozen as it is.
class BranchBuoyancy {
public:
    BranchBuoyancy(const networks::Network &network, const BranchSystem &system);

    void set(const DirectedWater &water);

    bool rises(std::size_t branch) const { return rises_[branch] != 0; }
    models::Loss law(std::size_t branch, double flow_kg_s) const;

private:
    models::Loss at_share(std::size_t branch, bool forward, double moving) const;

    const networks::Network &network_;
    const BranchSystem &system_;
    DirectedWater water_;
    std::vector<char> rises_;
    std::vector<double> forward_pa_, backward_pa_; // S at full flow
};

} // namespace headroom::solver
