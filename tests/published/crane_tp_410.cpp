// Crane Co., Flow of Fluids Through Valves, Fittings and Pipe, Technical Paper 410, worked
// examples.
#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/local_loss.hpp"
#include "models/pipe.hpp"
#include "models/pump.hpp"
#include "models/tee.hpp"
#include "models/units.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

namespace {
constexpr double us_gallon_m3 = 3.785411784e-3;
constexpr double foot_m = 0.3048;
constexpr double gpm = us_gallon_m3 / 60.0;
constexpr double foot_of_head_pa = foot_m * pa_per_metre_head;
} // namespace

TEST_CASE("Crane 7.1: water at 30 degC in smooth pipe has the Reynolds number and factor printed") {
    // 200 l/min in 50 mm Schedule 40 (bore 52.5 mm), smooth.
    const FluidState water = fluid_state(Fluid{}, 30.0);
    const double flow = 0.2 / 60.0 * water.density_kg_m3;
    const double reynolds = reynolds_number(0.0525, water, flow);
    CHECK_THAT(reynolds, agrees_with(100600.0, 0.015, "Crane TP-410M example 7.1, Re"));
    CHECK_THAT(colebrook_friction_factor(reynolds, 0.0),
               agrees_with(0.0179, 0.015, "Crane TP-410M example 7.1, f"));
}

TEST_CASE("Crane 7.2: a globe valve of Kv 500 in 154 mm has the coefficient printed") {
    CHECK_THAT(zeta_from_kv(500.0, 0.154), agrees_with(3.6, 0.001, "Crane TP-410M example 7.2, K"));
}

TEST_CASE("Crane 7.2: the valve loses as much as 240 bores of pipe at a friction factor of 0.015") {
    PipeShape shape{240.0 * 0.154, 0.154, 0.0};
    shape.constant_friction_factor = 0.015;
    const FluidState water = fluid_state(Fluid{}, 15.0);
    double inverse_root = 0.0;
    const double flow = 40.0;
    CHECK_THAT(kv_resistance(500.0, water.density_kg_m3) * flow * flow,
               agrees_with(pipe_loss(make_pipe(shape), water, flow, inverse_root).pressure_pa,
                           0.001, "Crane TP-410M example 7.2, L/D 240"));
}

TEST_CASE("Crane 7.33: slowing a pump from 3500 to 1700 rpm scales its duty point as printed") {
    // The point of 400 gpm and 126 ft is the example's; the other two only carry the curve past it.
    const PumpCurve curve = make_pump_curve({{0.0, 140.0 * foot_of_head_pa},
                                             {400.0 * gpm, 126.0 * foot_of_head_pa},
                                             {600.0 * gpm, 100.0 * foot_of_head_pa}});
    const double speed = 1700.0 / 3500.0;
    CHECK_THAT(
        pump_pressure(curve, 194.2857 * gpm, speed).pressure_pa / foot_of_head_pa,
        agrees_with(29.72571, 1e-6, "Crane TP-410 example 7.33, head in ft at 194.2857 gpm"));
    CHECK_THAT(affinity_power(17.5, speed),
               agrees_with(2.005306, 1e-6, "Crane TP-410 example 7.33, power in hp"));
}

TEST_CASE("Crane 7.35: an equal tee with a quarter of the flow joining has the values printed") {
    CHECK_THAT(converging_tee_branch(0.25),
               agrees_with(-0.0421875, 1e-6, "Crane TP-410 example 7.35, branch, printed -0.042"));
    CHECK_THAT(converging_tee_run(0.25),
               agrees_with(0.325, 1e-6, "Crane TP-410 example 7.35, run"));
}

TEST_CASE("Crane's conversion of Kv to a loss coefficient is met to a tenth of a per cent") {
    // Crane and IEC 60534 round the constant to 1.6e9 (zeta = 1.6e9 D^4/Kv^2, D in m, Kv in m3/h).
    for (const double bore : {0.008, 0.0202, 0.1})
        CHECK_THAT(zeta_from_kv(1.0, bore) / (bore * bore * bore * bore),
                   agrees_with(1.6e9, 0.001, "Crane TP-410M, constant of K from Kv"));
}
