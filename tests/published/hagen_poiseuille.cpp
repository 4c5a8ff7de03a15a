// The law of Hagen (1839) and Poiseuille (1840) for laminar flow in a round pipe,
// loss = 128 mu L V / (pi D^4), that is f = 64/Re: an exact result.
#include "models/friction.hpp"
#include "models/pipe.hpp"
#include "models/units.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("The laminar friction factor is 64/Re exactly") {
    const FrictionCurve curve = friction_curve(1e-3, 0.0, Transition::Middle);
    CHECK_THAT(friction_factor(curve, 1000.0), agrees_with(0.064, 1e-15, "Hagen-Poiseuille law"));
    CHECK_THAT(friction_factor(curve, 64.0), agrees_with(1.0, 1e-15, "Hagen-Poiseuille law"));
    CHECK_THAT(friction_factor(curve, 2000.0), agrees_with(0.032, 1e-15, "Hagen-Poiseuille law"));
}

TEST_CASE("A laminar pipe loses 128 mu L V/(pi D^4) whatever its roughness") {
    const FluidState liquid{1000.0, 1.0e-3, 4180.0, 0.6};
    const double flow = 0.01; // 1e-5 m3/s: Re 1273 in 10 mm
    for (const double roughness : {0.0, 7e-6, 2e-4}) {
        const Pipe pipe = make_pipe({25.0, 0.010, roughness});
        double inverse_root = 0.0;
        CHECK_THAT(
            pipe_loss(pipe, liquid, flow, inverse_root).pressure_pa,
            agrees_with(128.0 * 1.0e-3 * 25.0 * 1e-5 / (pi * 1e-8), 1e-13, "Hagen-Poiseuille law"));
    }
}
