// Y. A. Cengel and J. M. Cimbala, Fluid Mechanics: Fundamentals and Applications, chapter 8. The
// examples use g = 9.81 m/s2.
#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/pipe.hpp"
#include "models/units.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

constexpr double gravity = 9.81;

Fluid stated(double density, double viscosity) {
    Fluid fluid;
    fluid.kind = FluidKind::Stated;
    fluid.stated_density_kg_m3 = density;
    fluid.stated_viscosity_pa_s = viscosity;
    return fluid;
}

} // namespace

TEST_CASE("Cengel-Cimbala 8-2: laminar water in a 3 mm pipe loses the head printed") {
    const std::string source = "Cengel and Cimbala, example 8-2, ";
    const FluidState water = fluid_state(stated(1000.0, 1.519e-3), 5.0);
    const double flow = 0.9 * bore_area_m2(0.003) * 1000.0;
    double inverse_root = 0.0;
    const double loss =
        pipe_loss(make_pipe({9.0, 0.003, 0.0}), water, flow, inverse_root).pressure_pa;
    CHECK_THAT(loss / 1e3, agrees_with(43.7, 0.003, source + "pressure loss in kPa"));
    CHECK_THAT(loss / (1000.0 * gravity), agrees_with(4.46, 0.003, source + "head loss in m"));
    CHECK_THAT(loss * flow / 1000.0,
               agrees_with(0.28, 0.003, source + "pumping power in W", 0.005));
}

TEST_CASE("Cengel-Cimbala 8-3: water in a 50 mm steel pipe has the factor and loss printed") {
    const std::string source = "Cengel and Cimbala, example 8-3, ";
    const FluidState water = fluid_state(stated(999.0, 1.138e-3), 15.0);
    const double flow = 0.006 * 999.0;
    const double reynolds = reynolds_number(0.05, water, flow);
    CHECK_THAT(colebrook_friction_factor(reynolds, 2e-6 / 0.05),
               agrees_with(0.0172, 0.01, source + "friction factor"));
    double inverse_root = 0.0;
    const double loss =
        pipe_loss(make_pipe({60.0, 0.05, 2e-6}), water, flow, inverse_root).pressure_pa;
    CHECK_THAT(loss / 1e3, agrees_with(96.5, 0.01, source + "pressure loss in kPa"));
    CHECK_THAT(loss / (999.0 * gravity), agrees_with(9.85, 0.01, source + "head loss in m"));
    CHECK_THAT(loss * 0.006, agrees_with(579.0, 0.01, source + "pumping power in W"));
}

TEST_CASE("Water at 15 degC has the density and viscosity Cengel and Cimbala use") {
    const FluidState water = fluid_state(Fluid{}, 15.0);
    CHECK_THAT(water.density_kg_m3,
               agrees_with(999.0, 0.0002, "Cengel and Cimbala, example 8-3, density at 15 degC"));
    CHECK_THAT(
        water.viscosity_pa_s,
        agrees_with(1.138e-3, 0.005, "Cengel and Cimbala, example 8-3, viscosity at 15 degC"));
}
