#include "solver/solve.hpp"

#include "solver/controlled_flow.hpp"
#include "solver/flow/feasible.hpp"
#include "solver/flow/pressures.hpp"
#include "solver/heat/emission.hpp"
#include "solver/newton_krylov.hpp"
#include "solver/tees.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::Network;

constexpr int most_outer_steps = 200;
constexpr double temperature_tolerance_k = 1e-9;
constexpr double tee_tolerance_pa = 1e-7;
constexpr double same_working_point_pa = 1e-5; // apart, that one root is found from other sides

// Where warm water drives the flows that carry it, repetition may run in circles. After
// `plain_rounds`, and as many after each time it gets nowhere, the temperatures are sought by
// Newton's method. It tries flows some 1e-5 Pa of a storey's weight apart.
constexpr int plain_rounds = 10;
constexpr int most_newton_tries = 20;
constexpr double probe_k = 1e-6;
constexpr double coldest_c = -50.0;
constexpr double hottest_c = 150.0;

class CoupledSolve {
public:
    CoupledSolve(Network network, const networks::House *house)
        : network_(std::move(network)), house_(house), flow_(network_, house) {}

    Solution run() {
        if (const auto contradiction = find_contradiction(network_, house_)) {
            solution_.outcome.reason = StopReason::Contradiction;
            solution_.outcome.worst_equation = contradiction->equation;
            solution_.outcome.explanation = contradiction->explanation;
            stand_still();
            return std::move(solution_);
        }
        for (const networks::Link &link : network_.links)
            mean_c_.push_back(link.expected_c);
        water_ = {mean_c_, mean_c_};
        const bool settled = repeat();
        solution_.pump_limits_pa = flow_.pump_limits_pa();
        solution_.remarks = flow_.remarks();
        remark_on_tees(network_, solution_.flow_kg_s, solution_.remarks);
        if (!settled) // unless the laws hold at the temperatures carried last, as well as stated
            hold_carried_temperatures();
        recover_pressures(network_, house_, flow_.equations(), solution_);
        if (!settled && solution_.outcome.reason == StopReason::CheckFailed)
            solution_.outcome.reason = StopReason::Unsettled;
        if (solution_.outcome.converged())
            solution_.outcome.explanation.clear();
        solution_.outcome.newton_steps = flow_.newton_steps();
        return std::move(solution_);
    }

private:
    // Flows, the temperatures they carry, and what depends on both, in turn until none changes;
    // false if they do not come to that. A solve that fails ends it too, and is told by the
    // outcome.
    bool repeat() {
        int plain_until = network_.source ? plain_rounds : most_outer_steps;
        int newton_tries = 0;
        for (int outer = 1;; ++outer) {
            solution_.outer_steps = outer;
            bool settled = false; // flows and temperatures agree
            if (outer > plain_until) {
                settled = settle_water();
                if (!settled)
                    plain_until = ++newton_tries < most_newton_tries ? outer + plain_rounds
                                                                     : most_outer_steps;
            }
            solve_at_temperatures(outer > 1);
            if (!solution_.outcome.converged())
                return true;
            const double room_change = update_rooms();
            const bool emitters_follow = update_emission();
            const double tee_change = update_tees(network_, solution_.flow_kg_s, solution_.fluid);
            const double damping = outer > 100 ? 0.1 : outer > 50 ? 0.25 : outer > 20 ? 0.5 : 1.0;
            const double change = move_water(settled ? 0.0 : damping);
            if (change <= temperature_tolerance_k && room_change <= temperature_tolerance_k &&
                tee_change <= tee_tolerance_pa && emission_agrees(emitters_follow) &&
                working_points_agree())
                return true;
            if (outer == most_outer_steps) {
                solution_.outcome.explanation = what_still_changes(change, tee_change);
                if (room_change > temperature_tolerance_k || tee_change > tee_tolerance_pa)
                    solution_.outcome.reason = StopReason::Unsettled;
                return false;
            }
        }
    }

    // Nothing solved, in lists of the right length.
    void stand_still() {
        solution_.flow_kg_s.assign(network_.links.size(), 0.0);
        solution_.loss_pa = solution_.open_loss_pa = solution_.flow_kg_s;
        solution_.pressure_pa.assign(network_.nodes.size(), 0.0);
        solution_.pressure_known.assign(network_.nodes.size(), 0);
        solution_.heat = temperatures(network_, solution_.flow_kg_s);
        set_fluid(solution_.heat.mean_c);
    }

    std::string what_still_changes(double water_k, double tee_pa) const {
        std::string out = fmt::format("after {} rounds ", most_outer_steps);
        if (water_k > temperature_tolerance_k)
            out +=
                fmt::format("the water in `{}` still changes by {:.3g} K as its flow goes from "
                            "{:.3g} to {:.3g} "
                            "kg/s, each because of the other",
                            network_.link_name(house_, least_settled_), water_k,
                            flow_before_kg_s_[least_settled_], solution_.flow_kg_s[least_settled_]);
        else if (tee_pa > tee_tolerance_pa)
            out += fmt::format("the losses of tees still change by {:.3g} Pa", tee_pa);
        else
            out += "the rooms' temperatures still change";
        return out;
    }

    void hold_carried_temperatures() {
        const std::vector<double> carried_c = solution_.heat.mean_c;
        set_fluid(carried_c);
        flow_.set_directed_water({carried_c, carried_c});
    }

    // Whether the temperatures stay with rooms and emitters as they now are: they do where none of
    // either follows the water.
    bool emission_agrees(bool emitters_follow) {
        if (!emitters_follow && solution_.rooms.empty())
            return true;
        solution_.heat = temperatures(network_, solution_.flow_kg_s);
        return move_water(0.0) <= temperature_tolerance_k;
    }

    // Whether the working points that the pumps were followed to are still those with the least
    // head.
    bool working_points_agree() {
        if (flow_.pump_limits_pa().empty())
            return true;
        const std::vector<double> followed = flow_.pump_limits_pa();
        solution_.outcome = flow_.solve();
        take_flows();
        for (std::size_t k = 0; k < followed.size(); ++k)
            if (std::abs(flow_.pump_limits_pa()[k] - followed[k]) > same_working_point_pa)
                return !solution_.outcome.converged();
        return true;
    }

    void solve_at_temperatures(bool retry_frozen) {
        set_fluid(mean_c_);
        flow_.set_directed_water(water_);
        solution_.outcome = flow_.follow();
        if (!solution_.outcome.converged() && retry_frozen && network_.buoyancy) {
            flow_.set_directed_water({mean_c_, mean_c_}); // the same either way: all frozen
            solution_.outcome = flow_.follow();
        }
        take_flows();
        if (solution_.outcome.converged())
            solution_.heat = temperatures(network_, solution_.flow_kg_s);
    }

    // Mean temperatures that the flows solved at them carry, by Newton's method with emitters,
    // rooms and tees as they are. Leaves the best found.
    bool settle_water() {
        const auto links = static_cast<Eigen::Index>(mean_c_.size());
        const auto miss = [&](const Eigen::VectorXd &x) -> Eigen::VectorXd {
            const Eigen::VectorXd within = x.cwiseMax(coldest_c).cwiseMin(hottest_c);
            mean_c_.assign(within.begin(), within.begin() + links);
            water_.along_c.assign(within.begin() + links, within.begin() + 2 * links);
            water_.against_c.assign(within.begin() + 2 * links, within.end());
            solve_at_temperatures(false);
            if (!solution_.outcome.converged())
                return Eigen::VectorXd::Constant(x.size(), std::nan(""));
            Eigen::VectorXd left = Eigen::VectorXd::Zero(x.size());
            for (Eigen::Index e = 0; e < links; ++e) {
                const auto link = static_cast<std::size_t>(e);
                const double flow = solution_.flow_kg_s[link];
                const Eigen::Index full = flow >= 0.0 ? links + e : 2 * links + e;
                left[e] = solution_.heat.mean_c[link] - x[e];
                left[full] = solution_.heat.full_c[link] - x[full];
            }
            return left;
        };
        Eigen::VectorXd x(3 * links);
        x << Eigen::Map<const Eigen::VectorXd>(mean_c_.data(), links),
            Eigen::Map<const Eigen::VectorXd>(water_.along_c.data(), links),
            Eigen::Map<const Eigen::VectorXd>(water_.against_c.data(), links);
        const bool found = newton_krylov(miss, x, 0.1 * temperature_tolerance_k, probe_k);
        mean_c_.assign(x.begin(), x.begin() + links);
        water_.along_c.assign(x.begin() + links, x.begin() + 2 * links);
        water_.against_c.assign(x.begin() + 2 * links, x.end());
        return found;
    }

    void set_fluid(const std::vector<double> &mean_c) {
        solution_.fluid.clear();
        for (double t : mean_c)
            solution_.fluid.push_back(models::fluid_state(network_.fluid, t));
        flow_.set_fluid(solution_.fluid);
    }

    // Moves the temperatures that the flow equations are solved at towards those the flows carry;
    // the largest disagreement. `water_` is what flowing water would have, by direction.
    double move_water(double damping) {
        double change = 0.0;
        for (LinkId e = 0; e < mean_c_.size(); ++e) {
            const double flow = solution_.flow_kg_s[e];
            const double step = solution_.heat.mean_c[e] - mean_c_[e];
            mean_c_[e] += damping * step;
            double &full_c = flow >= 0.0 ? water_.along_c[e] : water_.against_c[e];
            const double full_step = solution_.heat.full_c[e] - full_c;
            full_c += damping * full_step;
            // Still water's temperature matters where its weight drives flows, and nowhere else.
            const double share = network_.buoyancy ? 1.0 : moving_share(flow);
            const double own =
                std::max(share * std::abs(step), moving_share(flow) * std::abs(full_step));
            if (own > change) {
                change = own;
                least_settled_ = e;
            }
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

    // Described emitters: the exponential law that meets their outlet at this flow and inlet. False
    // if no such emitter has any flow.
    bool update_emission() {
        bool any = false;
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
            any = true;
        }
        return any;
    }

    void take_flows() {
        flow_before_kg_s_ = solution_.flow_kg_s;
        solution_.flow_kg_s.resize(network_.links.size());
        for (LinkId e = 0; e < network_.links.size(); ++e)
            solution_.flow_kg_s[e] = flow_.link_flow(e);
    }

    Network network_;
    const networks::House *house_;
    ControlledFlow flow_;
    std::vector<double> mean_c_; // that the flow equations are solved at
    DirectedWater water_;
    LinkId least_settled_ = 0;             // whose water changed most in the last round
    std::vector<double> flow_before_kg_s_; // found before the present ones
    Solution solution_;
};

} // namespace

Solution solve_as_placed(Network network, const networks::House *house) {
    return CoupledSolve(std::move(network), house).run();
}

} // namespace headroom::solver
