#include "solver/flow/buoyancy.hpp"
#include "models/fluid.hpp"
#include "models/units.hpp"
#include "solver/flow/branches.hpp"
#include "solver/heat/temperatures.hpp"
#include "solver/solve.hpp"
#include "tests/support/derivative_check.hpp"
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

namespace {

// IAPWS-IF97 at 2 bar: 983.2536 kg/m3 at 60 degC and 992.2674 kg/m3 at 40 degC; 5 m of either
// differ by 9.0138 * 9.80665 * 5 Pa.
constexpr double cold_kg_m3 = 992.2674;
constexpr double hot_kg_m3 = 983.2536;
constexpr double column_pa = 441.976;

// Flow of water through the hot valve of Kv 1 that takes a pressure: V = Kv sqrt(dp/(1 bar d)),
// d the density over 1000.
double hot_flow_kg_s(double pressure_pa) {
    return hot_kg_m3 / 3600.0 * std::sqrt(pressure_pa / 1e5 / (hot_kg_m3 / 1e3));
}

// Published densities are met to 1.2e-6, which is 0.0012 kg/m3 in a difference of 9: 1.3e-4 either
// way, and half of that in a flow by the square root.
constexpr double flow_share = 1.4e-4;

// Water at 60 degC in one column and at 40 degC in the other, however fast it flows: one part heats
// and one cools, and only one valve takes anything.
struct TwoColumns {
    SmallNetwork n;
    networks::LinkId heats, hot, cools, cold;

    // The heating part at the foot, or at the top, with a rise in it.
    TwoColumns(bool heats_below, double rise_pa) {
        const double foot = heats_below ? 0.0 : 5.0;
        const double top = 5.0 - foot;
        n.network.buoyancy = true;
        n.network.reference_density_kg_m3 = cold_kg_m3;
        const auto before = n.node(foot), after = n.node(foot), far = n.node(top),
                   beyond = n.node(top);
        heats = n.source(before, after, networks::PressureRise{rise_pa}, 60.0);
        hot = n.link(after, far, networks::FlowFactor{1.0}, 60.0);
        cools = n.source(far, beyond, networks::PressureRise{0.0}, 40.0);
        cold = n.link(beyond, before, networks::PressureRise{0.0}, 40.0);
    }

    solver::Solution solved() const {
        solver::Solution s = solver::solve(n.network);
        REQUIRE(s.outcome.converged());
        return s;
    }
};

} // namespace

TEST_CASE("5 m of water at 60 beside 5 m at 40 degC drive 442 Pa") {
    const TwoColumns columns(true, 0.0);
    const solver::Solution s = columns.solved();
    CHECK(s.loss_pa[columns.hot] == Approx(column_pa).epsilon(3e-4));
    CHECK(s.flow_kg_s[columns.hot] == Approx(hot_flow_kg_s(column_pa)).epsilon(flow_share));
}

TEST_CASE(
    "A pump that sends warm water up is helped by its weight, one that sends it down hindered") {
    const solver::Solution up = TwoColumns(true, 1000.0).solved();
    CHECK(up.flow_kg_s[0] == Approx(hot_flow_kg_s(1000.0 + column_pa)).epsilon(flow_share));
    const solver::Solution down = TwoColumns(false, 1000.0).solved();
    CHECK(down.flow_kg_s[0] == Approx(hot_flow_kg_s(1000.0 - column_pa)).epsilon(flow_share));
}

TEST_CASE("A pump too weak to push warm water down leaves it all but still") {
    // 200 Pa against 442: as soon as the hot column cools towards the room the pump moves it on.
    // Water is half-way to the room's temperature at 1e-6 kg/s.
    const solver::Solution s = TwoColumns(false, 200.0).solved();
    CHECK(std::abs(s.flow_kg_s[0]) < 1e-5);
}

TEST_CASE("The gauge pressure over a warm column is the fill less the warm column's weight") {
    TwoColumns columns(true, 0.0);
    columns.n.network.fill = networks::NodePressure{0, 1.5e5};
    const solver::Solution s = columns.solved();
    // Down the cold column there is no loss: 150000 - 992.2674 * 9.80665 * 5.
    const double top_pa = 1.5e5 - 992.2674 * 9.80665 * 5.0;
    CHECK(s.pressure_pa[3] == Approx(top_pa).margin(0.06)); // densities to 1.2e-6 of 48 kPa
    CHECK(s.pressure_pa[2] == Approx(top_pa).margin(0.06));
}

TEST_CASE("The weight of water that creeps has the slope of its own differences") {
    // A column that would fill with cold water upwards and with warm water downwards: its weight
    // resists either way and rises with the flow, by way of water at the room's temperature.
    SmallNetwork n;
    n.network.buoyancy = true;
    n.network.reference_density_kg_m3 = density_at(20.0);
    const auto foot = n.node(), top = n.node(height_m);
    n.link(foot, top, networks::FlowFactor{1.0});
    n.link(top, foot, networks::PressureRise{100.0});
    const solver::BranchSystem system = solver::contract(n.network);
    solver::BranchBuoyancy buoyancy(n.network, system);
    buoyancy.set({{10.0, 20.0}, {40.0, 20.0}});
    const std::size_t branch = system.branch_of[0];
    REQUIRE(buoyancy.rises(branch));
    const double sign = system.sign_of[0];
    const auto law = [&](double flow_kg_s) {
        models::Loss loss = buoyancy.law(branch, sign * flow_kg_s);
        return models::Loss{sign * loss.pressure_pa, loss.slope_pa_s_per_kg};
    };
    // The slope by temperature is a difference over 1e-3 of the way, of 10 or 20 K: with densities
    // that bend by some per cent over that way, it is right to a few parts in 1e5 of itself, and to
    // 1e-3 where the way has only begun.
    for (const double flow : {-4e-6, -1e-6, -3e-7, 3e-7, 1e-6, 4e-6})
        check_slope(law, flow, 1e-4 * std::abs(flow), 2e-3);
    CHECK(law(1e-3).pressure_pa > law(0.0).pressure_pa);
    CHECK(law(-1e-3).pressure_pa < law(0.0).pressure_pa);
}
