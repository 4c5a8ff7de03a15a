// Random networks against what they were when last looked at: flows, pressures and temperatures,
// and the steps it took to find them, by which a slower way to the same flows is seen.
#include "solver/flow/branches.hpp"
#include "solver/flow/flow_equations.hpp"
#include "solver/solve.hpp"
#include "tests/support/fingerprint.hpp"
#include "tests/support/random_network.hpp"

#include <catch2/catch.hpp>

#include <cstdint>
#include <string>
#include <vector>

using namespace headroom;
using namespace headroom::tests;

namespace {

using Words = std::vector<std::string>;

constexpr std::uint64_t networks_on_file = 300;

// Tens of networks share a row; which of them differs is soon found.
std::string row_of(std::uint64_t seed) {
    const std::string tens = std::to_string(seed / 10);
    return "networks " + std::string(3 - tens.size(), '0') + tens + "x";
}

} // namespace

TEST_CASE("Steps to the flows of random networks at frozen properties are those on file") {
    Fingerprints prints;
    for (std::uint64_t seed = 0; seed < networks_on_file; ++seed) {
        const networks::Network network = random_network(seed);
        const solver::BranchSystem system = solver::contract(network);
        solver::FlowEquations equations(network, system);
        equations.set_fluid(expected_states(network));
        const solver::Outcome outcome = equations.solve();
        Fingerprint &print = prints[row_of(seed)];
        print.add(std::to_string(outcome.newton_steps));
        print.add(outcome.worst_equation);
    }
    CHECK(not_as_on_file(prints, "networks-frozen") == Words{});
}

TEST_CASE("Flows and temperatures of random networks are those on file, and the steps they took") {
    Fingerprints prints;
    for (std::uint64_t seed = 0; seed < networks_on_file; ++seed) {
        const networks::Network network = random_network(seed);
        const solver::Solution solution = solver::solve(network);
        if (!solution.outcome.converged())
            continue; // where repetition ends is a matter of the last bit
        Fingerprint &print = prints[row_of(seed)];
        print.add(std::to_string(solution.outcome.newton_steps));
        print.add(std::to_string(solution.outer_steps));
        for (networks::LinkId e = 0; e < network.links.size(); ++e)
            print.add(solution.flow_kg_s[e]);
        for (const double celsius : solution.heat.node_c)
            print.add(celsius);
    }
    CHECK(not_as_on_file(prints, "networks") == Words{});
}
