#include "solver/tees.hpp"

#include "models/local_loss.hpp"
#include "models/tee.hpp"
#include "solver/heat/emission.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <utility>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::Network;
using networks::TeeNode;

// How water parts or meets in a tee. The combined leg is the one that the flows make it: of the two
// in line the file's, or the other, where the file's flows the same way as the branch.
struct Split {
    double combined_kg_s; // positive into the tee
    double share;         // of it, in the branch
    bool turned;          // the file's through leg is the combined one
    bool covered;         // else the branch has it all, for which there are no coefficients
};

// The leg's end away from the tee.
networks::NodeId leg_node(const Network &network, LinkId leg, networks::NodeId tee) {
    const networks::Link &link = network.links[leg];
    return link.from == tee ? link.to : link.from;
}

Split split_of(const Network &network, const TeeNode &tee, const std::vector<double> &flow_kg_s) {
    const auto towards = [&](LinkId e) { // positive into the tee
        const networks::Link &link = network.links[e];
        const bool ends_here = link.to == tee.node ||
                               link.to == leg_node(network, tee.through_leg, tee.node) ||
                               link.to == leg_node(network, tee.branch_leg, tee.node);
        return ends_here ? flow_kg_s[e] : -flow_kg_s[e];
    };
    constexpr double rounding = 1e-9;
    const double branch = towards(tee.branch);
    double combined = towards(tee.combined);
    const bool turned = combined * branch > 0.0;
    if (turned)
        combined = -(combined + branch);
    const double share = combined != 0.0 ? -branch / combined : 0.0;
    return {combined, std::clamp(share, 0.0, 1.0), turned,
            std::abs(branch) <= (1.0 + rounding) * std::abs(combined) + standing_kg_s};
}

// A leg whose water stands has the loss of a vanishing flow the way the tee's water goes.
double update_leg(networks::Link &link, const TeeNode &tee, double wanted_pa, double flow,
                  bool parts) {
    auto &leg = std::get<networks::TeeLeg>(link.component);
    const bool stands = std::abs(flow) < standing_kg_s;
    const double way = stands ? ((link.from == tee.node) == parts ? 1.0 : -1.0) : flow;
    const double along = std::copysign(1.0, way);
    // The gain is kept along the link; losses here are along the flow.
    const double present = leg.resistance * flow * flow - along * leg.gain_pa;
    const double next = present + 0.5 * (wanted_pa - present);
    if (next >= 0.0 && !stands) {
        leg.resistance = next / (flow * flow);
        leg.gain_pa = 0.0;
    } else {
        leg.resistance = 0.0;
        leg.gain_pa = -along * next;
    }
    return std::abs(wanted_pa - present);
}

} // namespace

double update_tees(Network &network, const std::vector<double> &flow_kg_s,
                   const std::vector<models::FluidState> &fluid) {
    double worst = 0.0;
    for (const TeeNode &tee : network.tees) {
        const Split split = split_of(network, tee, flow_kg_s);
        const double ratio = tee.branch_bore_m / tee.bore_m;
        double through_zeta = 0.0;
        double branch_zeta = 0.0;
        if (split.combined_kg_s > 0.0) { // flow divides
            through_zeta = models::diverging_tee_run(split.share, ratio);
            branch_zeta = models::diverging_tee_branch(split.share, ratio);
        } else if (split.combined_kg_s < 0.0) {
            through_zeta = models::converging_tee_run(split.share);
            branch_zeta = models::converging_tee_branch(split.share, ratio);
        }
        if (split.turned) // then both legs lie between branch and combined
            branch_zeta -= through_zeta;
        for (const auto &[leg, zeta] :
             {std::pair(tee.through_leg, through_zeta), std::pair(tee.branch_leg, branch_zeta)}) {
            const double wanted_pa =
                models::zeta_resistance(zeta, tee.bore_m, fluid[leg].density_kg_m3) *
                split.combined_kg_s * split.combined_kg_s;
            worst = std::max(worst, update_leg(network.links[leg], tee, wanted_pa, flow_kg_s[leg],
                                               split.combined_kg_s > 0.0));
        }
    }
    return worst;
}

void remark_on_tees(const Network &network, const std::vector<double> &flow_kg_s,
                    std::vector<std::string> &remarks) {
    for (const TeeNode &tee : network.tees)
        if (!split_of(network, tee, flow_kg_s).covered)
            remarks.push_back(
                fmt::format("the tee at `{}` has all of its flow in the branch leg, for which "
                            "there are no loss "
                            "coefficients: those for all flow turning into the branch are taken",
                            network.nodes[tee.node].name));
}

} // namespace headroom::solver
