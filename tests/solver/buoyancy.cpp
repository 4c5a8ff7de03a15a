#include "models/fluid.hpp"
#include "models/units.hpp"
#include "solver/heat/temperatures.hpp"
#include "solver/solve.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;

namespace {

constexpr double height_m = 5.0;
constexpr double kv_m3_h = 1.5;

// A source below, an emitter above, a warm riser and a cool downcomer, and no pump.
struct GravityCircuit {
    SmallNetwork n;
    networks::LinkId riser, downcomer;

    explicit GravityCircuit(double back_c = 45.0) {
        n.network.buoyancy = true;
        n.network.reference_density_kg_m3 =
            models::fluid_state(n.network.fluid, back_c).density_kg_m3;
        const auto back = n.node(), sent = n.node(), top = n.node(height_m),
                   cooled = n.node(height_m);
        n.source(back, sent, networks::FlowFactor{kv_m3_h}, 65.0);
        riser = n.link(sent, top, plain_pipe(height_m, 0.026), 65.0);
        n.emitter(top, cooled, networks::FlowFactor{kv_m3_h}, 20.0, 90.0);
        downcomer = n.link(cooled, back, plain_pipe(height_m, 0.026), back_c);
    }
};

double density_at(double celsius) {
    return models::fluid_state({}, celsius).density_kg_m3;
}

} // namespace

TEST_CASE("A warm riser drives itself: density difference times g times height = loss") {
    const GravityCircuit circuit;
    const solver::Solution s = solver::solve(circuit.n.network);
    REQUIRE(s.outcome.converged());
    CHECK(s.flow_kg_s[circuit.riser] > 1e-3);
    const double driven =
        (density_at(s.heat.mean_c[circuit.downcomer]) - density_at(s.heat.mean_c[circuit.riser])) *
        models::gravity_m_per_s2 * height_m;
    double lost = 0.0;
    for (double loss : s.loss_pa)
        lost += loss;
    CHECK(driven > 10.0);
    CHECK_THAT(lost, Catch::WithinAbs(driven, 1e-5));
    // The riser holds the source's water, the downcomer what the emitter leaves of it.
    CHECK_THAT(s.heat.mean_c[circuit.riser], Catch::WithinAbs(65.0, 0.01));
    const double capacity = solver::mean_heat_capacity_j_kg_k(circuit.n.network);
    CHECK_THAT(s.heat.mean_c[circuit.downcomer],
               Catch::WithinAbs(
                   20.0 + 45.0 * std::exp(-90.0 / (s.flow_kg_s[circuit.riser] * capacity)), 0.01));
}

TEST_CASE("Without buoyancy in the network warm water does not move by itself") {
    GravityCircuit circuit;
    circuit.n.network.buoyancy = false;
    const solver::Solution s = solver::solve(circuit.n.network);
    REQUIRE(s.outcome.converged());
    CHECK(s.flow_kg_s[circuit.riser] == 0.0);
}

TEST_CASE("A check valve that opens above what warm water drives keeps it still") {
    GravityCircuit circuit;
    circuit.n.network.links[0].component = networks::OneWay{kv_m3_h, 500.0};
    const solver::Solution s = solver::solve(circuit.n.network);
    REQUIRE(s.outcome.converged());
    CHECK(s.flow_kg_s[circuit.riser] == 0.0);
}
