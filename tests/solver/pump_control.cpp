#include "models/local_loss.hpp"
#include "solver/solve.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;
using networks::RunningPump;

namespace {

constexpr double per_m3_h = 1.0 / 3600.0;

const models::PumpCurve falling =
    models::make_pump_curve({{0.0, 30e3}, {0.8 * per_m3_h, 27e3}, {1.6 * per_m3_h, 12e3}});

struct Circuit {
    SmallNetwork n;
    networks::LinkId pump, load;

    Circuit(RunningPump running, double kv_m3_h) {
        n.network.fluid.kind = models::FluidKind::Stated; // 1000 kg/m3
        const auto a = n.node(), b = n.node();
        pump = n.link(a, b, std::move(running));
        load = n.link(b, a, networks::FlowFactor{kv_m3_h});
    }

    solver::Solution solved() const {
        solver::Solution solution = solver::solve(n.network);
        REQUIRE(solution.outcome.converged());
        return solution;
    }
};

double volume(const solver::Solution &s, networks::LinkId e) {
    return s.flow_kg_s[e] / 1000.0;
}

} // namespace

TEST_CASE("A pump at fixed speed works where its curve meets the circuit") {
    const Circuit circuit(RunningPump{falling, 0.8}, 2.0);
    const solver::Solution s = circuit.solved();
    const double head = models::pump_pressure(falling, volume(s, circuit.pump), 0.8).pressure_pa;
    CHECK_THAT(-s.loss_pa[circuit.pump], Catch::WithinAbs(head, 1e-6));
    CHECK_THAT(s.loss_pa[circuit.load], Catch::WithinAbs(head, 1e-6));
    CHECK_THAT(1e5 * std::pow(volume(s, circuit.load) * 3600.0 / 2.0, 2),
               Catch::WithinAbs(head, 0.006)); // the valve's law is linear near rest
}

TEST_CASE("A pump at constant pressure gives it until its curve falls below") {
    RunningPump pump{falling};
    pump.limit_pa = 20e3;
    const Circuit narrow(pump, 1.0);
    const Circuit wide(pump, 20.0);
    const solver::Solution s = narrow.solved();
    CHECK_THAT(-s.loss_pa[narrow.pump], Catch::WithinAbs(20e3, 1e-6));
    const solver::Solution beyond = wide.solved();
    CHECK(-beyond.loss_pa[wide.pump] < 20e3);
    CHECK_THAT(
        -beyond.loss_pa[wide.pump],
        Catch::WithinAbs(models::pump_pressure(falling, volume(beyond, wide.pump), 1.0).pressure_pa,
                         1e-6));
}

TEST_CASE("A pump at constant flow gives no more, and throttles what its curve has left") {
    RunningPump pump{falling};
    pump.most_kg_s = 0.2;
    const Circuit circuit(pump, 2.0);
    const solver::Solution s = circuit.solved();
    CHECK(s.flow_kg_s[circuit.pump] == 0.2);
    CHECK_THAT(-s.loss_pa[circuit.pump], Catch::WithinAbs(s.loss_pa[circuit.load], 1e-6));
    CHECK(-s.loss_pa[circuit.pump] < -s.open_loss_pa[circuit.pump]);
}

TEST_CASE("A pump at constant flow gives what it can where the circuit is too narrow") {
    RunningPump pump{falling};
    pump.most_kg_s = 0.2;
    const Circuit circuit(pump, 0.5);
    const solver::Solution s = circuit.solved();
    CHECK(s.flow_kg_s[circuit.pump] < 0.2);
    CHECK_THAT(s.loss_pa[circuit.pump], Catch::WithinAbs(s.open_loss_pa[circuit.pump], 1e-9));
}

TEST_CASE("A pump at proportional pressure stands on its line") {
    for (const double kv : {0.2, 0.5, 1.0, 2.0, 4.0, 20.0}) {
        RunningPump pump{falling};
        pump.control = networks::PumpControl::Proportional;
        pump.proportional_pa = 18e3;
        const Circuit circuit(pump, kv);
        const solver::Solution s = circuit.solved();
        INFO("Kv " << kv);
        CHECK_THAT(-s.loss_pa[circuit.pump],
                   Catch::WithinAbs(
                       networks::control_pressure(pump, 1000.0, s.flow_kg_s[circuit.pump]), 1e-6));
        CHECK(-s.loss_pa[circuit.pump] <= 18e3 + 1e-6);
        CHECK(s.remarks.empty());
    }
}

TEST_CASE("Proportional pressure against a bypass valve has several working points, and says so") {
    RunningPump pump{falling};
    pump.control = networks::PumpControl::Proportional;
    pump.proportional_pa = 20e3;
    Circuit circuit(pump, 0.3);
    const auto bypass = circuit.n.link(1, 0, networks::OneWay{3.0, 12e3});
    const solver::Solution s = circuit.solved();
    REQUIRE(s.remarks.size() == 1);
    CHECK_THAT(s.remarks[0], Catch::Matchers::Contains("3 possible working points"));
    // The one shown is that of the least head, with the bypass shut.
    CHECK(s.flow_kg_s[bypass] == 0.0);
    CHECK(-s.loss_pa[circuit.pump] < 12e3);
    CHECK_THAT(-s.loss_pa[circuit.pump],
               Catch::WithinAbs(networks::control_pressure(pump, 1000.0, s.flow_kg_s[circuit.pump]),
                                1e-6));
}

TEST_CASE("A drooping curve is followed on its rising part too") {
    const models::PumpCurve drooping = models::make_pump_curve(
        {{0.0, 20e3}, {0.6 * per_m3_h, 24e3}, {1.2 * per_m3_h, 18e3}, {1.6 * per_m3_h, 8e3}});
    for (const double kv : {0.4, 0.8, 1.5, 3.0, 6.0}) {
        const Circuit circuit(RunningPump{drooping}, kv);
        const solver::Solution s = circuit.solved();
        INFO("Kv " << kv);
        CHECK_THAT(
            -s.loss_pa[circuit.pump],
            Catch::WithinAbs(
                models::pump_pressure(drooping, volume(s, circuit.pump), 1.0).pressure_pa, 1e-6));
    }
}
