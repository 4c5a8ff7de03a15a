#include "models/pipe.hpp"

#include "models/units.hpp"
#include "tests/support/derivative_check.hpp"
#include "tests/support/friction_factor.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinRel;

namespace {

const FluidState water = fluid_state(Fluid{}, 40.0);
const std::vector<Transition> transitions{Transition::Early, Transition::Middle, Transition::Late};

PipeShape straight_shape() {
    return {92.0, 0.012, 7e-6};
}

PipeShape loop_shape() {
    PipeShape shape = straight_shape();
    shape.curved_share = 0.35;
    shape.bend_diameter_m = 0.3;
    return shape;
}

Loss loss_from_cold(const Pipe &pipe, double flow) {
    double inverse_root = 0.0;
    return pipe_loss(pipe, water, flow, inverse_root);
}

auto as_law(const Pipe &pipe) {
    return [&pipe](double flow) { return loss_from_cold(pipe, flow); };
}

double flow_at(const Pipe &pipe, double reynolds) {
    return reynolds * pi * pipe.bore_m * water.viscosity_pa_s / 4.0;
}

/// A straight pipe and a loop with bends, at each transition.
std::vector<Pipe> all_pipes() {
    std::vector<Pipe> pipes;
    for (const Transition transition : transitions)
        for (PipeShape shape : {straight_shape(), loop_shape()}) {
            shape.transition = transition;
            pipes.push_back(make_pipe(shape));
        }
    return pipes;
}

} // namespace

TEST_CASE("The slope of a pipe's loss is its derivative, forwards, backwards and at rest") {
    for (const Pipe &pipe : all_pipes()) {
        std::vector<double> flows{0.0};
        for (const double reynolds : {1e-3, 1.0, 300.0, 1700.0, 2150.0, 3000.0, 3700.0, 4300.0,
                                      6500.0, 7500.0, 9000.0, 2e4, 2e5}) {
            flows.push_back(flow_at(pipe, reynolds));
            flows.push_back(-flow_at(pipe, reynolds));
        }
        check_slopes(as_law(pipe), flows, flow_at(pipe, 1.0));
    }
}

TEST_CASE("The slope of a pipe's loss is its derivative at the ends of every regime") {
    // Twice differentiable on either side only: see the note at check_slope. A step of 1e-8 of the
    // flow keeps the difference within 1e-5 of the slope.
    for (const Pipe &pipe : all_pipes())
        for (const FrictionCurve *curve :
             {&pipe.straight, pipe.curved_share > 0.0 ? &pipe.curved : &pipe.straight})
            for (const double reynolds : {curve->laminar_until, curve->turbulent_from}) {
                const double flow = flow_at(pipe, reynolds);
                check_slope(as_law(pipe), flow, 1e-8 * flow, 1e-5);
                check_slope(as_law(pipe), -flow, 1e-8 * flow, 1e-5);
            }
}

TEST_CASE("A pipe loses as much in one direction as in the other") {
    for (const Pipe &pipe : all_pipes())
        for (const double flow : spread(0.0, 0.3, 61)) {
            const Loss forwards = loss_from_cold(pipe, flow);
            const Loss backwards = loss_from_cold(pipe, -flow);
            INFO("flow " << flow << " kg/s");
            CHECK(backwards.pressure_pa == -forwards.pressure_pa);
            CHECK(backwards.slope_pa_s_per_kg == forwards.slope_pa_s_per_kg);
        }
}

TEST_CASE("A pipe's loss rises from strong backflow through rest to strong flow") {
    for (const Pipe &pipe : all_pipes()) {
        check_rises(as_law(pipe), spread(-0.15, 0.15, 1201));
        check_content_is_convex(as_law(pipe), spread(-0.15, 0.15, 121));
    }
}

TEST_CASE("A pipe at rest loses nothing and has the slope of laminar flow") {
    const Pipe pipe = make_pipe(straight_shape());
    const Loss still = loss_from_cold(pipe, 0.0);
    CHECK(still.pressure_pa == 0.0);
    const double expected = 128.0 * water.viscosity_pa_s * pipe.length_m /
                            (pi * water.density_kg_m3 * std::pow(pipe.bore_m, 4));
    CHECK_THAT(still.slope_pa_s_per_kg, WithinRel(expected, 1e-13));
}

TEST_CASE("A pipe's loss is f L/D rho v^2/2") {
    const Pipe pipe = make_pipe(straight_shape());
    const double flow = 0.2;
    const double velocity = velocity_m_s(pipe.bore_m, water, flow);
    const double factor =
        colebrook_friction_factor(reynolds_number(pipe.bore_m, water, flow), 7e-6 / 0.012);
    const double expected = factor * 92.0 / 0.012 * water.density_kg_m3 * velocity * velocity / 2.0;
    CHECK_THAT(loss_from_cold(pipe, flow).pressure_pa, WithinRel(expected, 1e-12));
}

TEST_CASE("Twice the pipe loses twice as much") {
    PipeShape shape = loop_shape();
    const Pipe once = make_pipe(shape);
    shape.length_m *= 2.0;
    const Pipe twice = make_pipe(shape);
    for (const double flow : {0.002, 0.025, 0.04, 0.2})
        CHECK_THAT(loss_from_cold(twice, flow).pressure_pa,
                   WithinRel(2.0 * loss_from_cold(once, flow).pressure_pa, 1e-14));
}

TEST_CASE("A loop loses the sum of its straight and its bent share") {
    PipeShape shape = loop_shape();
    shape.curved_share = 1.0;
    const Pipe coil = make_pipe(shape);
    const Pipe straight = make_pipe(straight_shape());
    const Pipe loop = make_pipe(loop_shape());
    for (const double flow : {0.002, 0.02, 0.04, 0.06, 0.3}) {
        INFO("flow " << flow << " kg/s");
        const double expected = 0.65 * loss_from_cold(straight, flow).pressure_pa +
                                0.35 * loss_from_cold(coil, flow).pressure_pa;
        CHECK_THAT(loss_from_cold(loop, flow).pressure_pa, WithinRel(expected, 1e-12));
    }
}

TEST_CASE("A warm start carried from flow to flow changes no loss") {
    const Pipe pipe = make_pipe(loop_shape());
    double carried = 0.0;
    for (const double flow : {0.3, 0.004, 0.03, -0.2, 0.05, 0.0, 1.0}) {
        INFO("flow " << flow << " kg/s");
        CHECK_THAT(pipe_loss(pipe, water, flow, carried).pressure_pa,
                   WithinRel(loss_from_cold(pipe, flow).pressure_pa, 1e-13));
    }
}

TEST_CASE("A pipe of stated friction factor is quadratic and odd, with its derivative as slope") {
    PipeShape shape = straight_shape();
    shape.constant_friction_factor = 0.03;
    const Pipe pipe = make_pipe(shape);
    const double one = loss_from_cold(pipe, 0.1).pressure_pa;
    CHECK_THAT(loss_from_cold(pipe, 0.2).pressure_pa, WithinRel(4.0 * one, 1e-14));
    CHECK(loss_from_cold(pipe, -0.1).pressure_pa == -one);
    check_slopes(as_law(pipe), {-0.2, -1e-3, 1e-3, 0.05, 0.2}, 1e-4);
}

TEST_CASE("A stated friction factor replaces the law of the bends too") {
    PipeShape shape = loop_shape();
    shape.constant_friction_factor = 0.03;
    const Pipe loop = make_pipe(shape);
    shape.curved_share = 0.0;
    CHECK_THAT(loss_from_cold(loop, 0.1).pressure_pa,
               WithinRel(loss_from_cold(make_pipe(shape), 0.1).pressure_pa, 1e-14));
}

TEST_CASE("Warmer water loses less at the same mass flow") {
    const Pipe pipe = make_pipe(loop_shape());
    for (const double flow : {0.005, 0.05, 0.3}) {
        double before = 1e12;
        for (const double temperature : {5.0, 20.0, 35.0, 55.0, 80.0}) {
            double inverse_root = 0.0;
            const double now =
                pipe_loss(pipe, fluid_state(Fluid{}, temperature), flow, inverse_root).pressure_pa;
            INFO("flow " << flow << " kg/s, " << temperature << " degC");
            CHECK(now < before);
            before = now;
        }
    }
}

TEST_CASE("The Reynolds number has no sign and the velocity has the sign of the flow") {
    // By hand: 0.1 kg/s at 1000 kg/m3 and 1 mPa s in 20 mm: 4 x 0.1/(pi x 0.02 x 0.001) = 6366.198,
    // and 1e-4 m3/s over 3.141593e-4 m2 = 0.3183099 m/s.
    const FluidState liquid{1000.0, 1e-3, 4180.0, 0.6};
    CHECK_THAT(reynolds_number(0.02, liquid, 0.1), WithinRel(6366.198, 1e-6));
    CHECK_THAT(reynolds_number(0.02, liquid, -0.1), WithinRel(6366.198, 1e-6));
    CHECK_THAT(velocity_m_s(0.02, liquid, 0.1), WithinRel(0.3183099, 1e-6));
    CHECK_THAT(velocity_m_s(0.02, liquid, -0.1), WithinRel(-0.3183099, 1e-6));
}

TEST_CASE("The regime follows the pipe's own transition") {
    PipeShape shape = straight_shape();
    const Pipe middle = make_pipe(shape);
    CHECK(flow_regime(middle, 0.0) == Regime::Still);
    CHECK(flow_regime(middle, 2300.0) == Regime::Laminar);
    CHECK(flow_regime(middle, 2301.0) == Regime::Transition);
    CHECK(flow_regime(middle, 4000.0) == Regime::Turbulent);
    shape.transition = Transition::Early;
    CHECK(flow_regime(make_pipe(shape), 2301.0) == Regime::Turbulent);
    shape.transition = Transition::Late;
    CHECK(flow_regime(make_pipe(shape), 3700.0) == Regime::Laminar);
}
