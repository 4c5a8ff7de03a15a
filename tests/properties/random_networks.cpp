// Random networks with every part and every extreme: each must be solved to the stated tolerances.
// HEADROOM_PROPERTY_NETWORKS sets how many are tried (2000), HEADROOM_PROPERTY_SEED the first.
#include "solver/flow/branches.hpp"
#include "solver/flow/newton.hpp"
#include "solver/solve.hpp"
#include "tests/support/environment.hpp"
#include "tests/support/network_check.hpp"
#include "tests/support/random_network.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <string>
#include <vector>

using namespace headroom;
using namespace headroom::tests;

namespace {

std::size_t networks_to_try() {
    return from_environment("HEADROOM_PROPERTY_NETWORKS", 2000);
}

std::size_t first_seed() {
    return from_environment("HEADROOM_PROPERTY_SEED", 1);
}

struct Spread {
    std::vector<int> values;

    int at(double share) {
        std::sort(values.begin(), values.end());
        return values.empty() ? 0
                              : values[static_cast<std::size_t>(
                                    share * static_cast<double>(values.size() - 1))];
    }
};

const char *reason_name(solver::StopReason reason) {
    static constexpr const char *names[] = {"not solved",    "converged", "iteration limit",
                                            "stalled",       "singular",  "non-finite",
                                            "contradiction", "unsettled"};
    return names[static_cast<std::size_t>(reason)];
}

// How far a controlled pump's pressure is from the one its control wants at its flow.
double control_disagreement(const networks::Network &solved, const solver::Solution &solution) {
    double worst = 0.0;
    for (networks::LinkId e = 0; e < solved.links.size(); ++e) {
        const auto *pump = std::get_if<networks::RunningPump>(&solved.links[e].component);
        if (pump == nullptr || pump->control == networks::PumpControl::None)
            continue;
        const double density = solution.fluid[e].density_kg_m3;
        const double given = -solution.open_loss_pa[e] * 1000.0 / density;
        const double wanted = networks::control_pressure(*pump, density, solution.flow_kg_s[e]);
        if (solution.flow_kg_s[e] >= 0.0)
            worst = std::max(worst, std::abs(given - wanted));
    }
    return worst;
}

} // namespace

TEST_CASE("Flows at frozen properties are found for every random network within 16 steps at p99") {
    const std::size_t count = networks_to_try();
    Spread steps;
    std::size_t converged = 0;
    std::string failures;
    for (std::size_t seed = first_seed(); seed < first_seed() + count; ++seed) {
        const networks::Network network = random_network(seed);
        const solver::BranchSystem system = solver::contract(network);
        solver::FlowEquations equations(network, system);
        equations.set_fluid(expected_states(network));
        const solver::Outcome outcome = equations.solve();
        steps.values.push_back(outcome.newton_steps);
        converged += outcome.converged();
        if (!outcome.converged() && failures.size() < 2000)
            failures += fmt::format("seed {}: {}, law {:.2e} of {:.2e} Pa, mass {:.2e} kg/s\n",
                                    seed, reason_name(outcome.reason), outcome.worst_law_pa,
                                    outcome.law_tolerance_pa, outcome.worst_mass_kg_s);
    }
    const std::string table =
        fmt::format("{} networks, {} converged, steps median {} p99 {} max {}\n{}", count,
                    converged, steps.at(0.5), steps.at(0.99), steps.at(1.0), failures);
    if (count > 2000)
        WARN(table);
    INFO(table);
    CHECK(converged == count);
    CHECK(steps.at(0.99) <= 16);
}

// Warm water that drives the flows which carry it. Its steady state need not be one that repetition
// finds, so such a network may end unsettled; then it must say so.
bool drives_itself(const networks::Network &network) {
    return network.source && network.buoyancy;
}

TEST_CASE("Every random network is solved to the stated tolerances on the whole network") {
    const std::size_t count = networks_to_try();
    Spread outer;
    std::size_t converged = 0, right = 0, self_driven = 0, unsettled = 0;
    double worst_mass = 0.0, worst_law = 0.0, worst_control = 0.0; // as shares of the tolerance
    std::string failures;
    for (std::size_t seed = first_seed(); seed < first_seed() + count; ++seed) {
        const networks::Network network = random_network(seed);
        const solver::Solution solution = solver::solve(network);
        outer.values.push_back(solution.outer_steps);
        self_driven += drives_itself(network);
        if (drives_itself(network) && solution.outcome.reason == solver::StopReason::Unsettled) {
            ++unsettled;
            continue;
        }
        converged += solution.outcome.converged();
        if (!solution.outcome.converged()) {
            if (failures.size() < 4000)
                failures +=
                    fmt::format("seed {}: {}, {} {}\n", seed, reason_name(solution.outcome.reason),
                                solution.outcome.worst_equation, solution.outcome.explanation);
            continue;
        }
        const networks::Network solved = as_solved(network, solution);
        const NetworkCheck check = check_network(solved, solution);
        const double control = control_disagreement(solved, solution) / check.law_tolerance_pa;
        worst_mass = std::max(worst_mass, check.worst_mass_kg_s / check.mass_tolerance_kg_s);
        worst_law = std::max(worst_law, check.worst_law_pa / check.law_tolerance_pa);
        worst_control = std::max(worst_control, control);
        const bool passes = check.passes() && control <= 1.0;
        right += passes;
        if (!passes && failures.size() < 4000)
            failures += fmt::format(
                "seed {}: mass {:.2e}, bound {:.2e} of {:.2e} kg/s, law {:.2e}, held {:.2e} of "
                "{:.2e} Pa, control {:.2e} of it, pressures {} {}\n",
                seed, check.worst_mass_kg_s, check.worst_bound_kg_s, check.mass_tolerance_kg_s,
                check.worst_law_pa, check.worst_held_pa, check.law_tolerance_pa, control,
                check.pressures_exist ? "exist" : "do not exist", check.where);
    }
    const std::string table = fmt::format(
        "{} networks, {} of them warm water drives and {} of those unsettled; {} converged, {} of "
        "them right; outer steps median {} p99 {} max {}; worst mass {:.2e}, law {:.2e} and pump "
        "control {:.2e} of their tolerances\n{}",
        count, self_driven, unsettled, converged, right, outer.at(0.5), outer.at(0.99),
        outer.at(1.0), worst_mass, worst_law, worst_control, failures);
    if (count > 2000)
        WARN(table);
    INFO(table);
    CHECK(converged == count - unsettled);
    CHECK(right == converged);
    // Not a law but a guard against worse: 29 of 362 here, 98 of 1729 over 10 000 networks.
    CHECK(static_cast<double>(unsettled) <= 0.1 * static_cast<double>(self_driven));
}
