// Losses of floor-heating pipe at 37.5 degC and 7 um roughness by python3-fluids 1.0.22 with water
// properties by python3-iapws 1.5.3 at 0.2 MPa: laminar below Re 2300, Colebrook's law above.
#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/pipe.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double bore_m, flow_l_h, pa_per_m;
};

/// Bores 10 x 1.3, 12 x 1.4, 12 x 2, 14 x 2, 16 x 2, 17 x 2, 20 x 2.
const std::vector<Row> rows{{0.0074, 30.0, 77.5},    {0.0074, 60.0, 407.3},  {0.0074, 90.0, 822.3},
                            {0.0074, 120.0, 1360.4}, {0.0092, 60.0, 145.2},  {0.0092, 90.0, 291.6},
                            {0.0092, 120.0, 480.4},  {0.0080, 60.0, 281.4},  {0.0080, 90.0, 566.9},
                            {0.0100, 60.0, 98.0},    {0.0100, 120.0, 322.9}, {0.0120, 60.0, 41.5},
                            {0.0120, 90.0, 82.8},    {0.0120, 120.0, 135.8}, {0.0120, 150.0, 199.8},
                            {0.0130, 120.0, 92.9},   {0.0160, 60.0, 7.1},    {0.0160, 120.0, 34.8}};

const FluidState water = fluid_state(Fluid{}, 37.5);
const std::string tool = "python3-fluids 1.0.22 with python3-iapws 1.5.3";

double flow_kg_s(const Row &row) {
    return row.flow_l_h * 1e-3 / 3600.0 * water.density_kg_m3;
}

double loss_pa_per_m(const Row &row, Transition transition) {
    PipeShape shape{1.0, row.bore_m, 7e-6};
    shape.transition = transition;
    double inverse_root = 0.0;
    return pipe_loss(make_pipe(shape), water, flow_kg_s(row), inverse_root).pressure_pa;
}

double reynolds(const Row &row) {
    return reynolds_number(row.bore_m, water, flow_kg_s(row));
}

} // namespace

TEST_CASE("Floor pipe outside the transition loses what an independent calculation gives") {
    for (const Row &row : rows) {
        if (reynolds(row) > 2300.0 && reynolds(row) < 4000.0)
            continue;
        INFO("bore " << row.bore_m << " m, " << row.flow_l_h << " l/h, Re " << reynolds(row));
        CHECK_THAT(loss_pa_per_m(row, Transition::Middle),
                   agrees_with(row.pa_per_m, 0.001, tool, 0.05));
    }
}

TEST_CASE("With an early transition floor pipe is turbulent from Re 2300 on") {
    for (const Row &row : rows) {
        if (reynolds(row) < 2300.0)
            continue;
        INFO("bore " << row.bore_m << " m, " << row.flow_l_h << " l/h, Re " << reynolds(row));
        CHECK_THAT(loss_pa_per_m(row, Transition::Early),
                   agrees_with(row.pa_per_m, 0.001, tool, 0.05));
    }
}

TEST_CASE("Within the transition floor pipe loses between its laminar and its turbulent law") {
    for (const Row &row : rows) {
        const double re = reynolds(row);
        if (re <= 2300.0 || re >= 4000.0)
            continue;
        INFO("bore " << row.bore_m << " m, " << row.flow_l_h << " l/h, Re " << re);
        const double turbulent = row.pa_per_m;
        const double laminar =
            turbulent * 64.0 / re / colebrook_friction_factor(re, 7e-6 / row.bore_m);
        CHECK(loss_pa_per_m(row, Transition::Middle) > laminar);
        CHECK(loss_pa_per_m(row, Transition::Middle) < turbulent);
    }
}

TEST_CASE("At 90 l/h a metre of 10 x 1.3 pipe loses 9.9 times a metre of 16 x 2") {
    const Row small{0.0074, 90.0, 0.0};
    const Row large{0.0120, 90.0, 0.0};
    CHECK_THAT(loss_pa_per_m(small, Transition::Early) / loss_pa_per_m(large, Transition::Early),
               agrees_with(9.9, 0.001, tool, 0.05));
}
