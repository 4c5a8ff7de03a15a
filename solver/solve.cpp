#include "solver/solve.hpp"

#include "models/local_loss.hpp"
#include "models/tee.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/feasible.hpp"
#include "solver/flow/newton.hpp"
#include "solver/flow/pressures.hpp"

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
        int total_steps = 0;
        for (int outer = 1;; ++outer) {
            solution_.outer_steps = outer;
            set_fluid(mean_c);
            solution_.outcome = solve_pumps();
            total_steps += solution_.outcome.newton_steps;
            take_flows();
            if (!solution_.outcome.converged())
                break;
            solution_.heat = temperatures(network_, solution_.flow_kg_s);
            const double tee_change = update_tees();
            double change = 0.0;
            const double damping = outer > 20 ? 0.5 : 1.0;
            for (std::size_t e = 0; e < mean_c.size(); ++e) {
                const double step = solution_.heat.mean_c[e] - mean_c[e];
                change = std::max(change, std::abs(step));
                mean_c[e] += damping * step;
            }
            if (change <= temperature_tolerance_k && tee_change <= tee_tolerance_pa)
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
        solution_.outcome.newton_steps = total_steps;
        return std::move(solution_);
    }

private:
    void set_fluid(const std::vector<double> &mean_c) {
        solution_.fluid.clear();
        for (double t : mean_c)
            solution_.fluid.push_back(models::fluid_state(network_.fluid, t));
        equations_.set_fluid(solution_.fluid);
    }

    void take_flows() {
        solution_.flow_kg_s.assign(network_.links.size(), 0.0);
        for (LinkId e = 0; e < network_.links.size(); ++e)
            if (system_.sign_of[e] != 0)
                solution_.flow_kg_s[e] =
                    system_.sign_of[e] * equations_.branch_flows()[system_.branch_of[e]];
    }

    double link_flow(LinkId e) const {
        return system_.sign_of[e] == 0
                   ? 0.0
                   : system_.sign_of[e] * equations_.branch_flows()[system_.branch_of[e]];
    }

    RunningPump &pump(LinkId e) { return std::get<RunningPump>(network_.links[e].component); }

    // A pump whose law rises with flow is replaced by one that holds a pressure h, and h is the
    // root of  control(q(h)) - h , where q(h) is unique and rises. One pump at a time, in turn,
    // until all agree.
    Outcome solve_pumps() {
        Outcome outcome = equations_.solve();
        for (int round = 0; round < 50 && outcome.converged() && !controlled_.empty(); ++round) {
            double worst = 0.0;
            for (std::size_t k = 0; k < controlled_.size() && outcome.converged(); ++k) {
                const double before = pump(controlled_[k]).limit_pa;
                outcome = settle_pump(k);
                const double after = pump(controlled_[k]).limit_pa;
                worst = std::max(worst, std::isfinite(before) ? std::abs(after - before)
                                                              : models::no_limit);
            }
            if (controlled_.size() == 1 || worst <= 1e-6)
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
        outcome = equations_.solve();
        return networks::control_pressure(pump(e), solution_.fluid[e].density_kg_m3, link_flow(e)) -
               limit_pa;
    }

    Outcome settle_pump(std::size_t k) {
        const LinkId e = controlled_[k];
        Outcome outcome;
        const double peak = pump(e).speed * pump(e).speed * pump(e).curve.peak_pressure_pa;
        constexpr int scan_points = 24;
        // Every sign change from above to below is a working point; the least is taken as worst.
        std::vector<std::pair<double, double>> brackets;
        double h0 = 0.0;
        double g0 = control_excess(e, h0, outcome);
        for (int i = 1; i <= scan_points && outcome.converged(); ++i) {
            const double h1 = peak * (1.0 + 1e-9) * i / scan_points;
            const double g1 = control_excess(e, h1, outcome);
            if ((g0 > 0.0 && g1 <= 0.0) || (g0 < 0.0 && g1 >= 0.0))
                brackets.emplace_back(h0, h1);
            h0 = h1;
            g0 = g1;
        }
        if (!outcome.converged())
            return outcome;
        if (brackets.empty()) {
            control_excess(e, peak, outcome);
            return outcome;
        }
        if (brackets.size() > 1)
            note_several(e, brackets.size());
        const double root =
            bracketed_root(e, brackets.front().first, brackets.front().second, outcome);
        solution_.pump_limits_pa[k] = root;
        return outcome;
    }

    // Illinois variant of regula falsi.
    double bracketed_root(LinkId e, double low, double high, Outcome &outcome) {
        double g_low = control_excess(e, low, outcome);
        double g_high = control_excess(e, high, outcome);
        double h = high;
        int side = 0;
        for (int i = 0; i < 100 && outcome.converged(); ++i) {
            if (std::abs(high - low) <= 1e-9 * std::max(high, 1.0) || g_high == g_low)
                break;
            h = (low * g_high - high * g_low) / (g_high - g_low);
            const double g = control_excess(e, h, outcome);
            if (std::abs(g) <= 1e-8)
                break;
            if ((g > 0.0) == (g_low > 0.0)) {
                low = h;
                g_low = g;
                if (side == -1)
                    g_high *= 0.5;
                side = -1;
            } else {
                high = h;
                g_high = g;
                if (side == 1)
                    g_low *= 0.5;
                side = 1;
            }
        }
        return h;
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
            const networks::Tee &data = house_->tees[tee.tee];
            const auto towards = [&](LinkId e) { // positive into the tee
                const double flow = link_flow(e);
                const networks::Link &link = network_.links[e];
                const bool ends_here = link.to == tee.node ||
                                       leg_node(tee.through_leg, tee.node) == link.to ||
                                       leg_node(tee.branch_leg, tee.node) == link.to;
                return ends_here ? flow : -flow;
            };
            const double combined = towards(tee.combined);
            const double branch = towards(tee.branch);
            const double ratio = data.branch_bore_m / data.bore_m;
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
            worst = std::max(worst, update_leg(*tee.through_leg, through_zeta, combined, data));
            worst = std::max(worst, update_leg(*tee.branch_leg, branch_zeta, combined, data));
        }
        return worst;
    }

    std::size_t leg_node(const std::optional<LinkId> &leg, std::size_t tee_node) const {
        if (!leg)
            return tee_node;
        const networks::Link &link = network_.links[*leg];
        return link.from == tee_node ? link.to : link.from;
    }

    double update_leg(LinkId e, double zeta, double combined, const networks::Tee &data) {
        auto &leg = std::get<networks::TeeLeg>(network_.links[e].component);
        const double flow = link_flow(e);
        const double wanted =
            models::zeta_resistance(zeta, data.bore_m, solution_.fluid[e].density_kg_m3) *
            combined * combined;
        const double present = leg.resistance * flow * flow - leg.gain_pa;
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
    Solution solution_;
};

} // namespace

Solution solve(Network network, const networks::House *house) {
    return CoupledSolve(std::move(network), house).run();
}

} // namespace headroom::solver
