#include "solver/flow/buoyancy.hpp"

#include "models/units.hpp"
#include "solver/heat/temperatures.hpp"

#include <algorithm>

namespace headroom::solver {

BranchBuoyancy::BranchBuoyancy(const networks::Network &network, const BranchSystem &system)
    : network_(network), system_(system), rises_(system.branches.size(), 0),
      forward_pa_(system.branches.size(), 0.0), backward_pa_(system.branches.size(), 0.0) {}

void BranchBuoyancy::set(const DirectedWater &water) {
    water_ = water;
    for (std::size_t b = 0; b < rises_.size(); ++b) {
        forward_pa_[b] = at_share(b, true, 1.0).pressure_pa;
        backward_pa_[b] = at_share(b, false, 1.0).pressure_pa;
        const double still_pa = at_share(b, true, 0.0).pressure_pa;
        rises_[b] = network_.buoyancy && forward_pa_[b] > backward_pa_[b] &&
                    still_pa <= forward_pa_[b] && still_pa >= backward_pa_[b];
    }
}

// S and dS/dshare with a share of the way gone from room temperature to that of flowing water.
models::Loss BranchBuoyancy::at_share(std::size_t branch, bool forward, double moving) const {
    constexpr double step = 1e-3; // for the slope, which only steers the iteration
    models::Loss sum;
    for (const Member &member : system_.members_of(branch)) {
        const networks::Link &link = network_.links[member.link];
        const double climb =
            network_.nodes[link.to].elevation_m - network_.nodes[link.from].elevation_m;
        if (climb == 0.0)
            continue;
        const double full_c = forward == (member.sign > 0) ? water_.along_c[member.link]
                                                           : water_.against_c[member.link];
        const auto weight = [&](double share) {
            const double density =
                models::fluid_state(network_.fluid, still_room_c + share * (full_c - still_room_c))
                    .density_kg_m3;
            return member.sign * (density - network_.reference_density_kg_m3) *
                   models::gravity_m_per_s2 * climb;
        };
        const double here = weight(moving);
        sum.pressure_pa += here;
        sum.slope_pa_s_per_kg += (weight(moving + step) - here) / step;
    }
    return sum;
}

models::Loss BranchBuoyancy::law(std::size_t branch, double flow_kg_s) const {
    const double square = flow_kg_s * flow_kg_s;
    const double still = still_kg_s * still_kg_s;
    const double moving = square / (square + still);
    const double growth = 2.0 * flow_kg_s * still / ((square + still) * (square + still));
    models::Loss loss = at_share(branch, flow_kg_s >= 0.0, moving);
    loss.slope_pa_s_per_kg *= growth;
    if (loss.pressure_pa < backward_pa_[branch])
        loss = {backward_pa_[branch], 0.0};
    else if (loss.pressure_pa > forward_pa_[branch])
        loss = {forward_pa_[branch], 0.0};
    loss.slope_pa_s_per_kg = std::max(loss.slope_pa_s_per_kg, 0.0);
    return loss;
}

} // namespace headroom::solver
