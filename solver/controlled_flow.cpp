#include "solver/controlled_flow.hpp"

#include "solver/root.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::LinkId;
using networks::RunningPump;

constexpr double control_tolerance_pa = 1e-8;
constexpr int scan_points = 24;
constexpr int scan_halvings = 6;
constexpr int most_rounds = 50;
constexpr double first_reach_pa = 1.0; // either side of a working point that is followed
constexpr double last_reach_pa = 1e3;

double peak_pa(const RunningPump &pump) {
    return pump.speed * pump.speed * pump.curve.peak_pressure_pa;
}

} // namespace

// Where a scan of a pump's limit stands.
struct ControlledFlow::ScanPoint {
    double limit_pa;
    double control_pa; // what the control wants at the flow of that limit
    bool falls;        // control rises up to a flow and falls from there on

    bool below() const { return control_pa > limit_pa; }
};

ControlledFlow::ControlledFlow(networks::Network &network, const networks::House *house)
    : network_(network), house_(house), system_(contract(network)), equations_(network, system_) {
    for (LinkId e = 0; e < network_.links.size(); ++e)
        if (const auto *part = std::get_if<RunningPump>(&network_.links[e].component))
            if (networks::rises_with_flow(*part))
                controlled_.push_back(e);
    pump_limits_pa_.assign(controlled_.size(), 0.0);
}

void ControlledFlow::set_fluid(const std::vector<models::FluidState> &states) {
    equations_.set_fluid(states);
    density_kg_m3_.clear();
    for (const models::FluidState &state : states)
        density_kg_m3_.push_back(state.density_kg_m3);
}

double ControlledFlow::link_flow(LinkId e) const {
    return system_.sign_of[e] == 0
               ? 0.0
               : system_.sign_of[e] * equations_.branch_flows()[system_.branch_of[e]];
}

Outcome ControlledFlow::solve_flows() {
    Outcome outcome = equations_.solve();
    newton_steps_ += outcome.newton_steps;
    return outcome;
}

Outcome ControlledFlow::solve() {
    remarks_.clear();
    return take_turns(false);
}

Outcome ControlledFlow::follow() {
    return take_turns(true);
}

Outcome ControlledFlow::take_turns(bool follow) {
    Outcome outcome = solve_flows();
    for (int round = 0; round < most_rounds && outcome.converged() && !controlled_.empty();
         ++round) {
        double worst = 0.0;
        for (std::size_t k = 0; k < controlled_.size() && outcome.converged(); ++k) {
            const double before = pump(controlled_[k]).limit_pa;
            outcome = settle_pump(k, follow);
            const double after = pump(controlled_[k]).limit_pa;
            worst = std::max(worst,
                             std::isfinite(before) ? std::abs(after - before) : models::no_limit);
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
double ControlledFlow::control_excess(LinkId e, double limit_pa, Outcome &outcome) {
    pump(e).limit_pa = limit_pa;
    outcome = solve_flows();
    return networks::control_pressure(pump(e), density_kg_m3_[e], link_flow(e)) - limit_pa;
}

ControlledFlow::ScanPoint ControlledFlow::scan_point(LinkId e, double limit_pa, Outcome &outcome) {
    const double control_pa = control_excess(e, limit_pa, outcome) + limit_pa;
    const double flow = link_flow(e);
    const double density = density_kg_m3_[e];
    const bool falls = networks::control_pressure(pump(e), density, flow * (1.0 + 1e-6)) <
                       networks::control_pressure(pump(e), density, flow);
    return {limit_pa, control_pa, falls};
}

// Two working points can hide between scan points of one sign, where a bypass valve opens. Such an
// interval is halved unless what the control wants at its ends rules them out.
void ControlledFlow::find_brackets(LinkId e, const ScanPoint &a, const ScanPoint &b, int halvings,
                                   std::vector<std::pair<double, double>> &brackets,
                                   Outcome &outcome) {
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

void ControlledFlow::find_all_brackets(LinkId e, std::vector<std::pair<double, double>> &brackets,
                                       Outcome &outcome) {
    const double peak = peak_pa(pump(e));
    ScanPoint below = scan_point(e, 0.0, outcome);
    for (int i = 1; i <= scan_points && outcome.converged(); ++i) {
        const ScanPoint above = scan_point(e, peak * (1.0 + 1e-9) * i / scan_points, outcome);
        find_brackets(e, below, above, scan_halvings, brackets, outcome);
        below = above;
    }
}

// The working point a pump is at, where control falls below the limit as the limit rises; false if
// it is no longer to be found close by.
bool ControlledFlow::find_bracket_near(LinkId e, std::vector<std::pair<double, double>> &brackets,
                                       Outcome &outcome) {
    const double at_pa = pump(e).limit_pa;
    if (!std::isfinite(at_pa))
        return false;
    for (double reach = first_reach_pa; reach <= last_reach_pa; reach *= 10.0) {
        const double low = std::max(at_pa - reach, 0.0);
        const double high = std::min(at_pa + reach, peak_pa(pump(e)) * (1.0 + 1e-9));
        if (control_excess(e, low, outcome) > 0.0 && outcome.converged() &&
            control_excess(e, high, outcome) <= 0.0 && outcome.converged()) {
            brackets.emplace_back(low, high);
            return true;
        }
        if (!outcome.converged())
            return false;
    }
    return false;
}

Outcome ControlledFlow::settle_pump(std::size_t k, bool follow) {
    const LinkId e = controlled_[k];
    Outcome outcome;
    // Every sign change is a working point; the least is taken as worst.
    std::vector<std::pair<double, double>> brackets;
    if (!follow || !find_bracket_near(e, brackets, outcome))
        find_all_brackets(e, brackets, outcome);
    if (!outcome.converged())
        return outcome;
    if (brackets.empty()) {
        control_excess(e, peak_pa(pump(e)), outcome);
        pump_limits_pa_[k] = peak_pa(pump(e));
        return outcome;
    }
    if (brackets.size() > 1)
        note_several(e, brackets.size());
    // At the root, as near as the flows let it be seen.
    const auto excess = [&](double h) { return control_excess(e, h, outcome); };
    control_excess(e,
                   bracketed_root(excess, brackets.front().first, brackets.front().second,
                                  control_tolerance_pa),
                   outcome);
    pump_limits_pa_[k] = pump(e).limit_pa;
    return outcome;
}

void ControlledFlow::note_several(LinkId e, std::size_t count) {
    const std::string remark =
        fmt::format("{} has {} possible working points; the one with the least head is shown",
                    house_ != nullptr ? network_.owner_name(*house_, network_.links[e].owner)
                                      : network_.links[e].name,
                    count);
    if (std::find(remarks_.begin(), remarks_.end(), remark) == remarks_.end())
        remarks_.push_back(remark);
}

} // namespace headroom::solver
