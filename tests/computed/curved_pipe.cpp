// Friction factors of coiled pipe by python3-fluids 1.0.22 (helical_laminar_fd_White,
// helical_laminar_fd_Mori_Nakayama, helical_turbulent_fd_Mori_Nakayama,
// helical_turbulent_fd_Schmidt, helical_transition_Re_Ito, helical_transition_Re_Schmidt).
#include "models/friction.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double curvature, reynolds, white, mori_nakayama;
};

const std::vector<Row> laminar_rows{{0.04, 500.0, 0.19586897, 0.20489106},
                                    {0.04, 1000.0, 0.12435975, 0.12695223},
                                    {0.04, 2000.0, 0.08070927, 0.08254613},
                                    {0.06, 1000.0, 0.13396389, 0.13656302},
                                    {0.06, 2000.0, 0.08737347, 0.08967320}};

double laminar_factor(const Row &row) {
    return friction_factor(friction_curve(0.0, row.curvature, Transition::Middle), row.reynolds);
}

} // namespace

TEST_CASE("Laminar flow in a bend follows White's law to 1e-6") {
    for (const Row &row : laminar_rows) {
        INFO("curvature " << row.curvature << ", Re " << row.reynolds);
        CHECK_THAT(laminar_factor(row),
                   agrees_with(row.white, 1e-6, "python3-fluids 1.0.22, helical_laminar_fd_White"));
    }
}

TEST_CASE("Laminar flow in a bend is within a fifth of Mori and Nakayama's law") {
    for (const Row &row : laminar_rows) {
        INFO("curvature " << row.curvature << ", Re " << row.reynolds);
        CHECK_THAT(laminar_factor(row),
                   agrees_with(row.mori_nakayama, 0.20,
                               "python3-fluids 1.0.22, helical_laminar_fd_Mori_Nakayama"));
    }
}

TEST_CASE("Turbulent flow in a smooth bend is within a fifth of two other published laws") {
    const double factor = friction_factor(friction_curve(0.0, 0.04, Transition::Middle), 20000.0);
    CHECK_THAT(factor, agrees_with(0.03168000, 0.20,
                                   "python3-fluids 1.0.22, helical_turbulent_fd_Mori_Nakayama"));
    CHECK_THAT(factor, agrees_with(0.03094897, 0.20,
                                   "python3-fluids 1.0.22, helical_turbulent_fd_Schmidt"));
}

TEST_CASE("A bend's critical Reynolds number follows Ito's law to 1e-6") {
    const std::string tool = "python3-fluids 1.0.22, helical_transition_Re_Ito";
    CHECK_THAT(curved_critical_reynolds(0.04), agrees_with(7139.8517, 1e-6, tool));
    CHECK_THAT(curved_critical_reynolds(0.06), agrees_with(8129.0238, 1e-6, tool));
}

TEST_CASE("A bend's critical Reynolds number is within a fifth of Schmidt's") {
    const std::string tool = "python3-fluids 1.0.22, helical_transition_Re_Schmidt";
    CHECK_THAT(curved_critical_reynolds(0.04), agrees_with(6946.8, 0.20, tool));
    CHECK_THAT(curved_critical_reynolds(0.06), agrees_with(7876.9, 0.20, tool));
}
