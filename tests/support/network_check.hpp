// Checks flows against the equations of the whole network, from the parts' laws alone.
#pragma once

#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::tests {

struct NetworkCheck {
    double worst_mass_kg_s = 0.0; ///< imbalance at a node
    double mass_tolerance_kg_s = 0.0;
    double worst_bound_kg_s = 0.0; ///< flow beyond what a part lets pass
    double worst_law_pa = 0.0;     ///< law against reported pressures, where those are known
    double law_tolerance_pa = 0.0;
    double worst_held_pa = 0.0; ///< reported against held pressure
    /// Whether any pressures at all meet every law and every one-sided law (a part at its bound
    /// takes at least, or at most, what its law says) within the tolerance.
    bool pressures_exist = false;
    std::string where;

    bool passes() const {
        return worst_mass_kg_s <= mass_tolerance_kg_s && worst_bound_kg_s <= mass_tolerance_kg_s &&
               worst_law_pa <= law_tolerance_pa && worst_held_pa <= law_tolerance_pa &&
               pressures_exist;
    }
};

/// The law of a link with its hydrostatic part: what p + rho_ref g z falls by along it.
double link_fall_pa(const networks::Network &network, const models::FluidState &fluid,
                    networks::LinkId link, double flow_kg_s);

/// The same with its slope [Pa s/kg].
models::Loss link_law(const networks::Network &network, const models::FluidState &fluid,
                      networks::LinkId link, double flow_kg_s);

/// How a flow stands to its part's bounds.
enum class AtBound { No, Least, Most, Both };
AtBound at_bound(const networks::Component &component, double flow_kg_s, double slack_kg_s);

/// Whether pressures exist as in NetworkCheck, by shortest ways over the difference constraints.
bool pressures_exist(const networks::Network &network, const std::vector<models::FluidState> &fluid,
                     const std::vector<double> &flow_kg_s, double tolerance_pa);

/// The network as a solution leaves it: with the pump limits its outer solve has found, and each
/// tee leg's loss as a constant.
networks::Network as_solved(networks::Network network, const solver::Solution &solution);

/// `network` must be as solved.
NetworkCheck check_network(const networks::Network &network, const solver::Solution &solution);

} // namespace headroom::tests
