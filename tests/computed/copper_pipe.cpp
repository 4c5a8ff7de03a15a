// Losses of copper tube by Colebrook's law (python3-fluids 1.0.22) with water properties by
// python3-iapws 1.5.3 at 0.2 MPa and the bores of EN 1057.
#include "models/fluid.hpp"
#include "models/pipe.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

const std::string tool = "python3-fluids 1.0.22 with python3-iapws 1.5.3";

double loss_pa_per_m(double bore_m, double roughness_m, double flow_kg_s, double temperature_c) {
    double inverse_root = 0.0;
    return pipe_loss(make_pipe({1.0, bore_m, roughness_m}), fluid_state(Fluid{}, temperature_c),
                     flow_kg_s, inverse_root)
        .pressure_pa;
}

} // namespace

TEST_CASE("New copper at 45 and 70 degC loses what an independent calculation gives") {
    struct Row {
        double bore_m, flow_kg_s, at_45_c, at_70_c;
    };
    for (const Row &row : {Row{0.0088, 0.040, 778.76, 714.72}, Row{0.0136, 0.05, 145.59, 133.12},
                           Row{0.0136, 0.10, 487.23, 449.45}, Row{0.0136, 0.15, 994.85, 922.32},
                           Row{0.0202, 0.25, 370.87, 343.89}, Row{0.0262, 0.50, 365.61, 340.42},
                           Row{0.0326, 0.90, 365.93, 341.85}}) {
        INFO("bore " << row.bore_m << " m, " << row.flow_kg_s << " kg/s");
        CHECK_THAT(loss_pa_per_m(row.bore_m, 1.5e-6, row.flow_kg_s, 45.0),
                   agrees_with(row.at_45_c, 0.001, tool));
        CHECK_THAT(loss_pa_per_m(row.bore_m, 1.5e-6, row.flow_kg_s, 70.0),
                   agrees_with(row.at_70_c, 0.001, tool));
    }
}

TEST_CASE("New and aged copper at 10 degC lose what an independent calculation gives") {
    struct Row {
        double flow_l_s, bore_m, velocity, smooth_kpa, rough_kpa;
    };
    const FluidState water = fluid_state(Fluid{}, 10.0);
    for (const Row &row :
         {Row{0.90, 0.0262, 1.669, 1.226, 1.463}, Row{0.60, 0.0202, 1.872, 2.071, 2.527},
          Row{0.30, 0.0136, 2.065, 4.025, 5.056}, Row{0.20, 0.0136, 1.377, 1.974, 2.369},
          Row{0.10, 0.0136, 0.688, 0.591, 0.667}, Row{0.32, 0.0202, 0.999, 0.685, 0.786},
          Row{0.15, 0.0136, 1.033, 1.194, 1.394}}) {
        INFO("bore " << row.bore_m << " m, " << row.flow_l_s << " l/s");
        const double flow = row.flow_l_s * 1e-3 * water.density_kg_m3;
        CHECK_THAT(velocity_m_s(row.bore_m, water, flow),
                   agrees_with(row.velocity, 1e-9, tool, 0.0005001));
        CHECK_THAT(loss_pa_per_m(row.bore_m, 1.5e-6, flow, 10.0) / 1e3,
                   agrees_with(row.smooth_kpa, 0.001, tool));
        CHECK_THAT(loss_pa_per_m(row.bore_m, 50e-6, flow, 10.0) / 1e3,
                   agrees_with(row.rough_kpa, 0.001, tool));
    }
}
