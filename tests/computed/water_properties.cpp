// Water at 0.2 MPa absolute by the IAPWS97 class of python3-iapws 1.5.3 (IF97 with the viscosity
// and conductivity releases R12-08 and R15-11).
#include "models/fluid.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double temperature_c, density, viscosity_upa_s, heat_capacity_kj, conductivity_mw;
};

const std::vector<Row> rows{
    {5.0, 1000.0154, 1518.031, 4.20452, 567.863}, {10.0, 999.7487, 1305.812, 4.19507, 578.841},
    {15.0, 999.1471, 1137.515, 4.18876, 588.861}, {20.0, 998.2512, 1001.567, 4.18449, 598.069},
    {25.0, 997.0925, 890.009, 4.18161, 606.572},  {30.0, 995.6959, 797.220, 4.17975, 614.450},
    {35.0, 994.0820, 719.133, 4.17869, 621.760},  {40.0, 992.2674, 652.743, 4.17831, 628.548},
    {45.0, 990.2663, 595.790, 4.17853, 634.848},  {50.0, 988.0904, 546.542, 4.17933, 640.687},
    {55.0, 985.7499, 503.654, 4.18067, 646.089},  {60.0, 983.2536, 466.067, 4.18254, 651.069},
    {65.0, 980.6090, 432.937, 4.18495, 655.645},  {70.0, 977.8227, 403.582, 4.18788, 659.828},
    {75.0, 974.9004, 377.450, 4.19133, 663.630},  {80.0, 971.8470, 354.085, 4.19530, 667.062}};

const std::string tool = "python3-iapws 1.5.3, IAPWS97 at 0.2 MPa, row ";

void check_row(const Row &row) {
    const FluidState state = fluid_state(Fluid{}, row.temperature_c);
    const std::string source = tool + std::to_string(row.temperature_c) + " degC";
    CHECK_THAT(state.density_kg_m3, agrees_with(row.density, 2e-4, source));
    CHECK_THAT(state.viscosity_pa_s, agrees_with(1e-6 * row.viscosity_upa_s, 5e-3, source));
    CHECK_THAT(state.heat_capacity_j_kg_k, agrees_with(1e3 * row.heat_capacity_kj, 1e-3, source));
    CHECK_THAT(state.conductivity_w_m_k, agrees_with(1e-3 * row.conductivity_mw, 5e-3, source));
}

} // namespace

TEST_CASE("Water's properties from 5 to 80 degC agree with IAPWS-IF97") {
    for (const Row &row : rows)
        check_row(row);
}

TEST_CASE("Water's properties deviate from IAPWS-IF97 by no more than they say") {
    // The worst deviations named in models/fluid.hpp, or half of the table's last digit.
    for (const Row &row : rows) {
        const FluidState state = fluid_state(Fluid{}, row.temperature_c);
        const std::string source = tool + std::to_string(row.temperature_c) + " degC";
        CHECK_THAT(state.density_kg_m3, agrees_with(row.density, 1.2e-6, source));
        CHECK_THAT(state.viscosity_pa_s, agrees_with(1e-6 * row.viscosity_upa_s, 2e-6, source));
        CHECK_THAT(state.heat_capacity_j_kg_k,
                   agrees_with(1e3 * row.heat_capacity_kj, 8e-6, source));
        CHECK_THAT(state.conductivity_w_m_k,
                   agrees_with(1e-3 * row.conductivity_mw, 1.7e-4, source));
    }
}

TEST_CASE("Water's properties agree with IAPWS-IF97 down to freezing and up to 109 degC") {
    const std::vector<Row> ends{{0.1, 999.9011, 1785.306, 4.21858, 555.982},
                                {0.5, 999.9259, 1760.753, 4.21720, 557.000},
                                {100.0, 958.4005, 281.612, 4.21642, 677.273},
                                {109.0, 951.7397, 257.111, 4.22874, 680.129}};
    for (const Row &row : ends)
        check_row(row);
}
