// The equations solved again and again, as properties change.
#include "solver/flow/flow_equations.hpp"

#include "solver/flow/branches.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::solver;

TEST_CASE("Water without a number leaves nothing behind for the water that comes after it") {
    tests::SmallNetwork n;
    const auto suction = n.node(), pressed = n.node();
    n.link(suction, pressed,
           networks::RunningPump{models::make_pump_curve({{0.0, 40e3}, {0.0005, 0.0}})});
    const auto pipe = n.link(pressed, suction, tests::plain_pipe());
    n.link(pressed, suction, tests::plain_pipe(20));
    const BranchSystem branches = contract(n.network);
    const std::vector<models::FluidState> water(n.network.links.size(),
                                                models::fluid_state({}, 40.0));
    std::vector<models::FluidState> faulty = water;
    faulty[pipe].viscosity_pa_s = std::nan("");

    FlowEquations fresh(n.network, branches);
    fresh.set_fluid(water);
    REQUIRE(fresh.solve().converged());

    for (const bool faulty_first : {false, true}) {
        FlowEquations equations(n.network, branches);
        if (!faulty_first) {
            equations.set_fluid(water);
            REQUIRE(equations.solve().converged());
        }
        for (int time = 0; time < 2; ++time) {
            equations.set_fluid(faulty);
            CHECK_FALSE(equations.solve().converged());
            equations.set_fluid(water);
            REQUIRE(equations.solve().converged());
            for (std::size_t b = 0; b < branches.branches.size(); ++b)
                CHECK(equations.branch_flows()[b] ==
                      Approx(fresh.branch_flows()[b]).epsilon(1e-10).margin(0.0));
        }
    }
}
