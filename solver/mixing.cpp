#include "solver/root.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::MixerNode;
using networks::Network;

constexpr double least_travel = 0.005;
constexpr double most_travel = 0.995;
constexpr double temperature_tolerance_k = 1e-6;
constexpr int most_rounds = 40;

class Mixing {
public:
    Mixing(Network network, const networks::House *house)
        : network_(std::move(network)), house_(house), travel_(network_.mixers.size(), 0.5) {}

    Solution run() {
        for (std::size_t m = 0; m < travel_.size(); ++m)
            place(m, travel_[m]);
        Solution solution = solve_as_placed(network_, house_);
        bool settled = false;
        for (int round = 0; round < most_rounds && solution.outcome.converged() && !settled;
             ++round) {
            const std::vector<double> before = travel_;
            for (std::size_t m = 0; m < travel_.size() && solution.outcome.converged(); ++m)
                settle(m, solution);
            settled = true;
            for (std::size_t m = 0; m < travel_.size(); ++m)
                settled = settled && std::abs(travel_[m] - before[m]) <= 1e-7;
        }
        if (solution.outcome.converged() && !settled) {
            solution.outcome.reason = StopReason::Unsettled;
            solution.outcome.explanation = "the mixers do not settle on positions that agree";
        }
        for (std::size_t m = 0; m < travel_.size(); ++m) {
            const MixerNode &mixer = network_.mixers[m];
            solution.mixers.push_back(
                {mixer.run, travel_[m], mixer.set_c,
                 solution.heat.node_c.empty() ? mixer.set_c : solution.heat.node_c[mixer.mixed]});
        }
        return solution;
    }

private:
    void place(std::size_t m, double travel) {
        const MixerNode &mixer = network_.mixers[m];
        network_.links[mixer.hot].component = networks::FlowFactor{mixer.kv_m3_h * travel};
        network_.links[mixer.cold].component = networks::FlowFactor{mixer.kv_m3_h * (1.0 - travel)};
        travel_[m] = travel;
    }

    // Mixed less set temperature at a travel, leaving the solution there.
    double excess_k(std::size_t m, double travel, Solution &solution) {
        place(m, travel);
        solution = solve_as_placed(network_, house_);
        if (!solution.outcome.converged())
            return 0.0;
        return solution.heat.node_c[network_.mixers[m].mixed] - network_.mixers[m].set_c;
    }

    // Fully open and still not warm enough, or all but shut and still too warm: the nearer end.
    void settle(std::size_t m, Solution &solution) {
        const auto excess = [&](double travel) { return excess_k(m, travel, solution); };
        excess(bracketed_root(excess, least_travel, most_travel, temperature_tolerance_k));
    }

    Network network_;
    const networks::House *house_;
    std::vector<double> travel_;
};

} // namespace

Solution solve(Network network, const networks::House *house) {
    if (network.mixers.empty())
        return solve_as_placed(std::move(network), house);
    return Mixing(std::move(network), house).run();
}

} // namespace headroom::solver
