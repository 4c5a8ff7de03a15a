#include "solver/solve.hpp"

#include "models/local_loss.hpp"
#include "models/tee.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/feasible.hpp"
#include "solver/flow/newton.hpp"
#include "solver/flow/pressures.hpp"
#include "solver/heat/emission.hpp"
#include "solver/root.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::Network;
using networks::RunningPump;

constexpr int most_outer_steps = 200;
constexpr double temperature_tolerance_k = 1e-9;
constexpr double tee_tolerance_pa = 1e-7;
constexpr double control_tolerance_pa = 1e-8;
constexpr int scan_halvings = 6;

class CoupledSolve {
public:
    CoupledSolve(Network network, const networks::House *house)
        : network_(std::move(network)), house_(house), system_(contract(network_)),
          equations_(network_, system_) {
        for (LinkId e = 0; e < network_.links.size(); ++e)
            if (const auto *pump = std::get_if<RunningPump>(&network_.links[e].component))
                if (pump->control != networks::PumpControl::None ||
                    pump->curve.peak_flow_m3_s > 0.0)
                    controlled_.push_back(e);
    }

    Solution run() {
        if (const auto contradiction = find_contradiction(network_, house_)) {
            solution_.outcome.reason = StopReason::Contradiction;
            solution_.outcome.worst_equation = contradiction->equation;
            solution_.outcome.explanation = contradiction->explanation;
            return std::move(solution_);
        }
        std::vector<double> mean_c;
        for (const networks::Link &link : network_.links)
            mean_c.push_back(link.expected_c);
        solution_.pump_limits_pa.assign(controlled_.size(), 0.0);
        DirectedWater water{mean_c, mean_c};
        for (int outer = 1;; ++outer) {
            solution_.outer_steps = outer;
            set_fluid(mean_c);
            solution_.outcome = solve_pumps();
            if (!solution_.outcome.converged() && outer > 1 && network_.buoyancy) {
                equations_.set_directed_water({mean_c, mean_c}); // the same either way: all frozen
                solution_.outcome = solve_pumps();
            }
            take_flows();
            if (!solution_.outcome.converged())
                break;
            solution_.heat = temperatures(network_, solution_.flow_kg_s);
            const double room_change = update_rooms();
            update_emission();
            const double tee_change = update_tees();
            const double damping = outer > 100 ? 0.1 : outer > 50 ? 0.25 : outer > 20 ? 0.5 : 1.0;
            const double change = move_water(damping, mean_c, water);
            equations_.set_directed_water(water);
            if (change <= temperature_tolerance_k && room_change <= temperature_tolerance_k &&
                tee_change <= tee_tolerance_pa)
                break;
            if (outer == most_outer_steps) {
                solution_.outcome.reason = StopReason::Unsettled;
                solution_.outcome.explanation = fmt::format(
                    "temperatures still change by {:.3g} K and tee losses by {:.3g} Pa after {} "
                    "rounds",
                    change, tee_change, outer);
                break;
            }
        }
        recover_pressures(network_, house_, equations_, solution_);
        solution_.outcome.newton_steps = newton_steps_;
        return std::move(solution_);
    }

private:
    void set_fluid(const std::vector<double> &mean_c) {
        solution_.fluid.clear();
        for (double t : mean_c)
            solution_.fluid.push_back(models::fluid_state(network_.fluid, t));
        equations_.set_fluid(solution_.fluid);
    }

    // Moves the temperatures that the flow equations are solved at towards those the flows carry;
    // the largest disagreement. `water` is what flowing water would have, by direction.
    double move_water(double damping, std::vector<double> &mean_c, DirectedWater &water) const {
        double change = 0.0;
        for (LinkId e = 0; e < mean_c.size(); ++e) {
            const double flow = solution_.flow_kg_s[e];
            const double step = solution_.heat.mean_c[e] - mean_c[e];
            mean_c[e] += damping * step;
            double &full_c = flow >= 0.0 ? water.along_c[e] : water.against_c[e];
            const double full_step = solution_.heat.full_c[e] - full_c;
            full_c += damping * full_step;
            // Still water's temperature matters where its weight drives flows, and nowhere else.
            const double share = network_.buoyancy ? 1.0 : moving_share(flow);
            change = std::max(
                {change, share * std::abs(step), moving_share(flow) * std::abs(full_step)});
        }
        return change;
    }

    // The largest change of a floating room's temperature.
    double update_rooms() {
        const std::vector<RoomBalance> before = std::move(solution_.rooms);
        solution_.rooms = settle_rooms(network_, solution_.flow_kg_s, solution_.heat);
        double worst = 0.0;
        for (std::size_t r = 0; r < solution_.rooms.size(); ++r)
            worst =
                std::max(worst, before.empty()
                                    ? models::no_limit
                                    : std::abs(solution_.rooms[r].reached_c - before[r].reached_c));
        return worst;
    }

    // Described emitters: the exponential law that meets their outlet at this flow and inlet.
    void update_emission() {
        const double heat_capacity = mean_heat_capacity_j_kg_k(network_);
        for (LinkId e = 0; e < network_.links.size(); ++e) {
            networks::Exchange &exchange = network_.links[e].exchange;
            const double flow = std::abs(solution_.flow_kg_s[e]);
            if (std::holds_alternative<std::monostate>(exchange.emission) || flow < standing_kg_s)
                continue;
            const EmitterHeat heat =
                emitter_heat(exchange.emission, network_.fluid, solution_.heat.in_c[e],
                             exchange.room_c, flow, heat_capacity);
            exchange.rest_c = heat.rest_c;
            exchange.conductance_w_k = heat.conductance_w_k;
        }
    }

    void take_flows() {
        solution_.flow_kg_s.resize(network_.links.size());
        for (LinkId e = 0; e < network_.links.size(); ++e)
            solution_.flow_kg_s[e] = link_flow(e);
    }

    double link_flow(LinkId e) const {
        return system_.sign_of[e] == 0
                   ? 0.0
                   : system_.sign_of[e] * equations_.branch_flows()[system_.branch_of[e]];
    }

    Outcome solve_flows() {
        Outcome outcome = equations_.solve();
        newton_steps_ += outcome.newton_steps;
        return outcome;
    }

    RunningPump &pump(LinkId e) { return std::get<RunningPump>(network_.links[e].component); }

    // A pump whose law rises with flow is replaced by one that holds a pressure h, and h is the
    // root of  control(q(h)) - h , where q(h) is unique and rises. One pump at a time, in turn,
    // until all agree.
    Outcome solve_pumps() {
        Outcome outcome = solve_flows();
        for (int round = 0; round < 50 && outcome.converged() && !controlled_.empty(); ++round) {
            double worst = 0.0;
            for (std::size_t k = 0; k < controlled_.size() && outcome.converged(); ++k) {
                const double before = pump(controlled_[k]).limit_pa;
                outcome = settle_pump(k);
                const double after = pump(controlled_[k]).limit_pa;
                worst = std::max(worst, std::isfinite(before) ? std::abs(after - before)
                                                              : models::no_limit);
            }
            if (controlled_.size() == 1 || worst <= 10.0 * control_tolerance_pa)
                return outcome;
        }
        if (outcome.converged() && !controlled_.empty()) {
            outcome.reason = StopReason::Unsettled;
            outcome.explanation = "the pumps' controls do not settle on a common working point";
        }
        return outcome;
    }

    // control(q(h)) - h, solving the flows on the way.
    double control_excess(LinkId e, double limit_pa, Outcome &outcome) {
        pump(e).limit_pa = limit_pa;
        outcome = solve_flows();
        return networks::control_pressure(pump(e), solution_.fluid[e].density_kg_m3, link_flow(e)) -
               limit_pa;
    }

    // Where a scan of a pump's limit stands.
    struct ScanPoint {
        double limit_pa;
        double control_pa; // what the control wants at the flow of that limit
        bool falls;        // control rises up to a flow and falls from there on

        bool below() const { return control_pa > limit_pa; }
    };

    ScanPoint scan_point(LinkId e, double limit_pa, Outcome &outcome) {
        const double control_pa = control_excess(e, limit_pa, outcome) + limit_pa;
        const double flow = link_flow(e);
        const double density = solution_.fluid[e].density_kg_m3;
        const bool falls = networks::control_pressure(pump(e), density, flow * (1.0 + 1e-6)) <
                           networks::control_pressure(pump(e), density, flow);
        return {limit_pa, control_pa, falls};
    }

    // Two working points can hide between scan points of one sign, where a bypass valve opens.
    // Such an interval is halved unless what the control wants at its ends rules them out.
    void find_brackets(LinkId e, const ScanPoint &a, const ScanPoint &b, int halvings,
                       std::vector<std::pair<double, double>> &brackets, Outcome &outcome) {
        if (!outcome.converged())
            return;
        if (a.below() != b.below()) {
            brackets.emplace_back(a.limit_pa, b.limit_pa);
            return;
        }
        const double least_pa = std::min(a.control_pa, b.control_pa);
        const double most_pa = !b.falls ? b.control_pa : a.falls ? a.control_pa : models::no_limit;
        const bool none = a.below() ? least_pa >= b.limit_pa : most_pa <= a.limit_pa;
        if (none || halvings == 0)
            return;
        const ScanPoint middle = scan_point(e, 0.5 * (a.limit_pa + b.limit_pa), outcome);
        find_brackets(e, a, middle, halvings - 1, brackets, outcome);
        find_brackets(e, middle, b, halvings - 1, brackets, outcome);
    }

    Outcome settle_pump(std::size_t k) {
        const LinkId e = controlled_[k];
        Outcome outcome;
        const double peak = pump(e).speed * pump(e).speed * pump(e).curve.peak_pressure_pa;
        constexpr int scan_points = 24;
        // Every sign change is a working point; the least is taken as worst.
        std::vector<std::pair<double, double>> brackets;
        ScanPoint below = scan_point(e, 0.0, outcome);
        for (int i = 1; i <= scan_points && outcome.converged(); ++i) {
            const ScanPoint above = scan_point(e, peak * (1.0 + 1e-9) * i / scan_points, outcome);
            find_brackets(e, below, above, scan_halvings, brackets, outcome);
            below = above;
        }
        if (!outcome.converged())
            return outcome;
        if (brackets.empty()) {
            control_excess(e, peak, outcome);
            solution_.pump_limits_pa[k] = peak;
            return outcome;
        }
        if (brackets.size() > 1)
            note_several(e, brackets.size());
        settle_between(e, brackets.front().first, brackets.front().second, outcome);
        solution_.pump_limits_pa[k] = pump(e).limit_pa;
        return outcome;
    }

    // Solves at the root, as near as the flows let it be seen.
    void settle_between(LinkId e, double low, double high, Outcome &outcome) {
        const auto excess = [&](double h) { return control_excess(e, h, outcome); };
        control_excess(e, bracketed_root(excess, low, high, control_tolerance_pa), outcome);
    }

    void note_several(LinkId e, std::size_t count) {
        const std::string remark =
            fmt::format("{} has {} possible working points; the one with the least head is shown",
                        house_ != nullptr ? network_.owner_name(*house_, network_.links[e].owner)
                                          : network_.links[e].name,
                        count);
        if (std::find(solution_.remarks.begin(), solution_.remarks.end(), remark) ==
            solution_.remarks.end())
            solution_.remarks.push_back(remark);
    }

    // Loss coefficients at the present split, halfway from the last ones; the largest change in Pa.
    double update_tees() {
        double worst = 0.0;
        for (networks::TeeNode &tee : network_.tees) {
            const auto towards = [&](LinkId e) { // positive into the tee
                const double flow = link_flow(e);
                const networks::Link &link = network_.links[e];
                const bool ends_here = link.to == tee.node ||
                                       link.to == leg_node(tee.through_leg, tee.node) ||
                                       link.to == leg_node(tee.branch_leg, tee.node);
                return ends_here ? flow : -flow;
            };
            const double combined = towards(tee.combined);
            const double branch = towards(tee.branch);
            const double ratio = tee.branch_bore_m / tee.bore_m;
            const double share = combined != 0.0 ? std::clamp(-branch / combined, 0.0, 1.0) : 0.0;
            double through_zeta = 0.0;
            double branch_zeta = 0.0;
            if (combined > 0.0) { // flow divides
                through_zeta = models::diverging_tee_run(share, ratio);
                branch_zeta = models::diverging_tee_branch(share, ratio);
            } else if (combined < 0.0) {
                through_zeta = models::converging_tee_run(share);
                branch_zeta = models::converging_tee_branch(share, ratio);
            }
            worst =
                std::max(worst, update_leg(tee.through_leg, through_zeta, combined, tee.bore_m));
            worst = std::max(worst, update_leg(tee.branch_leg, branch_zeta, combined, tee.bore_m));
        }
        return worst;
    }

    // The leg's end away from the tee.
    networks::NodeId leg_node(LinkId leg, networks::NodeId tee_node) const {
        const networks::Link &link = network_.links[leg];
        return link.from == tee_node ? link.to : link.from;
    }

    double update_leg(LinkId e, double zeta, double combined, double bore_m) {
        auto &leg = std::get<networks::TeeLeg>(network_.links[e].component);
        const double flow = link_flow(e);
        const double wanted =
            models::zeta_resistance(zeta, bore_m, solution_.fluid[e].density_kg_m3) * combined *
            combined;
        // The gain is kept along the link; losses here are along the flow.
        const double present =
            leg.resistance * flow * flow - std::copysign(1.0, flow) * leg.gain_pa;
        const double next = present + 0.5 * (wanted - present);
        if (next >= 0.0 && flow != 0.0) {
            leg.resistance = next / (flow * flow);
            leg.gain_pa = 0.0;
        } else {
            leg.resistance = 0.0;
            leg.gain_pa = std::copysign(-next, flow);
        }
        return std::abs(wanted - present);
    }

    Network network_;
    const networks::House *house_;
    BranchSystem system_;
    FlowEquations equations_;
    std::vector<LinkId> controlled_;
    int newton_steps_ = 0;
    Solution solution_;
};

} // namespace

Solution solve_as_placed(Network network, const networks::House *house) {
    return CoupledSolve(std::move(network), house).run();
}

} // namespace headroom::solver
