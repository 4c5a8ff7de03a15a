#include "solver/root.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace headroom::solver {
namespace {

using networks::MixerNode;
using networks::Network;

constexpr double least_travel = 0.005;
constexpr double most_travel = 0.995;
constexpr double temperature_tolerance_k = 1e-6;
constexpr double travel_resolution = 1e-8;
constexpr double widest_jump = 0.25; // of travel, for what lies between to pass as a jump
constexpr double least_jump_k = 0.1; // to either side of what is set
constexpr int most_narrowings = 8;
constexpr int most_rounds = 40;

class Mixing {
public:
    Mixing(Network network, const networks::House *house)
        : network_(std::move(network)), house_(house), travel_(network_.mixers.size(), 0.5),
          jumps_(network_.mixers.size()) {}

    Solution run() {
        for (std::size_t m = 0; m < travel_.size(); ++m)
            place(m, travel_[m]);
        Solution solution;
        bool settled = false;
        bool solved = true;
        for (int round = 0; round < most_rounds && solved && !settled; ++round) {
            const std::vector<double> before = travel_;
            for (std::size_t m = 0; m < travel_.size() && solved; ++m) {
                settle(m, solution);
                solved = solution.outcome.converged();
            }
            // What settles one mixer knows nothing of the round before: alone it is settled.
            settled = travel_.size() == 1 ||
                      std::equal(travel_.begin(), travel_.end(), before.begin(),
                                 [](double a, double b) { return std::abs(a - b) <= 1e-7; });
        }
        if (solved && !settled) {
            solution.outcome.reason = StopReason::Unsettled;
            solution.outcome.explanation = "the mixers do not settle on positions that agree";
        }
        for (std::size_t m = 0; m < travel_.size(); ++m) {
            const MixerNode &mixer = network_.mixers[m];
            solution.mixers.push_back(
                {mixer.run, travel_[m], mixer.set_c,
                 solution.heat.node_c.empty() ? mixer.set_c : solution.heat.node_c[mixer.mixed],
                 jumps_[m]});
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

    // A travel that could be solved, and what is mixed there less what is set.
    struct Tried {
        double travel;
        double excess_k;
    };

    // Fully open and still not warm enough, or all but shut and still too warm: the nearer end.
    // Where what is mixed jumps, solves close to the jump may come to nothing; then that side of it
    // which comes nearer.
    void settle(std::size_t m, Solution &solution) {
        Tried cold{-models::no_limit, 0.0}, warm{models::no_limit, 0.0}; // nearest on either side
        const auto excess = [&](double travel) {
            const double miss = excess_k(m, travel, solution);
            if (solution.outcome.converged() && miss <= 0.0 && travel > cold.travel)
                cold = {travel, miss};
            if (solution.outcome.converged() && miss > 0.0 && travel < warm.travel)
                warm = {travel, miss};
            return miss;
        };
        excess(bracketed_root(excess, least_travel, most_travel, temperature_tolerance_k,
                              travel_resolution));
        jumps_[m] = jump(m, cold, warm);
        if (solution.outcome.converged())
            return;
        const double unsolved = travel_[m];
        const auto gap = [&] { return warm.travel - cold.travel; };
        for (int i = 0; i < most_narrowings && std::isfinite(gap()) && gap() > widest_jump; ++i)
            excess(0.5 * (unsolved + (i % 2 == 0 ? warm : cold).travel));
        if (!(gap() <= widest_jump))
            return;
        excess(warm.excess_k < -cold.excess_k ? warm.travel : cold.travel);
        jumps_[m] = jump(m, cold, warm);
    }

    std::optional<MixerJump> jump(std::size_t m, const Tried &cold, const Tried &warm) const {
        const double set_c = network_.mixers[m].set_c;
        if (!(warm.travel - cold.travel <= widest_jump) ||
            std::min(warm.excess_k, -cold.excess_k) <= least_jump_k)
            return std::nullopt;
        return MixerJump{cold.travel, set_c + cold.excess_k, warm.travel, set_c + warm.excess_k};
    }

    Network network_;
    const networks::House *house_;
    std::vector<double> travel_;
    std::vector<std::optional<MixerJump>> jumps_;
};

} // namespace

Solution solve(Network network, const networks::House *house) {
    if (network.mixers.empty())
        return solve_as_placed(std::move(network), house);
    return Mixing(std::move(network), house).run();
}

} // namespace headroom::solver
