// Flows at frozen properties, with pumps whose control law rises with flow.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/flow_equations.hpp"

#include <string>
#include <utility>
#include <vector>

namespace headroom::solver {

/// The flow equations of a network and the working points of its controlled pumps. A pump whose law
/// rises with flow (proportional pressure, the rising part of a drooping curve) is replaced by one
/// that holds a pressure h [Pa], and h is the root of control(q(h)) - h, where q(h) is unique and
/// rises: an interval is scanned from 0 to the curve's peak and the least root refined by
/// bracketing. Pumps take turns until all agree; where one has several working points the least
/// head is taken and remarks() says so. `network` is changed (limits of its pumps) and must outlive
/// this.
class ControlledFlow {
public:
    ControlledFlow(networks::Network &network, const networks::House *house);

    /// Freezes fluid states, one a link, and by direction of flow the water that drives itself.
    void set_fluid(const std::vector<models::FluidState> &states);
    void set_directed_water(const DirectedWater &water) { equations_.set_directed_water(water); }

    /// Solves from the present flows; Unsettled where the pumps find no common working point.
    Outcome solve();

    /// The same, but each pump stays on the working point it is at while there is one close by.
    Outcome follow();

    /// kg/s along the link.
    double link_flow(networks::LinkId link) const;

    const FlowEquations &equations() const { return equations_; }
    int newton_steps() const { return newton_steps_; }
    const std::vector<double> &pump_limits_pa() const { return pump_limits_pa_; }
    const std::vector<std::string> &remarks() const { return remarks_; }

private:
    struct ScanPoint;

    Outcome solve_flows();
    Outcome take_turns(bool follow);
    Outcome settle_pump(std::size_t k, bool follow);
    void find_all_brackets(networks::LinkId e, std::vector<std::pair<double, double>> &brackets,
                           Outcome &outcome);
    bool find_bracket_near(networks::LinkId e, std::vector<std::pair<double, double>> &brackets,
                           Outcome &outcome);
    double control_excess(networks::LinkId e, double limit_pa, Outcome &outcome);
    ScanPoint scan_point(networks::LinkId e, double limit_pa, Outcome &outcome);
    void find_brackets(networks::LinkId e, const ScanPoint &a, const ScanPoint &b, int halvings,
                       std::vector<std::pair<double, double>> &brackets, Outcome &outcome);
    void note_several(networks::LinkId e, std::size_t count);
    networks::RunningPump &pump(networks::LinkId e) {
        return std::get<networks::RunningPump>(network_.links[e].component);
    }

    networks::Network &network_;
    const networks::House *house_;
    BranchSystem system_;
    FlowEquations equations_;
    std::vector<networks::LinkId> controlled_;
    std::vector<double> pump_limits_pa_;
    std::vector<double> density_kg_m3_; // of each link
    std::vector<std::string> remarks_;
    int newton_steps_ = 0;
};

} // namespace headroom::solver
