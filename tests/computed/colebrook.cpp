// Colebrook's law solved with mpmath 1.2.1 at 30 digits, over a grid of Re and relative roughness.
#include "models/friction.hpp"

#include "tests/support/friction_factor.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

constexpr std::array<double, 6> roughnesses{0.0, 5e-5, 1e-4, 5e-4, 1e-3, 5e-3};

struct Row {
    double reynolds;
    std::array<double, 6> factors;
};

const std::vector<Row> grid{{3000.0,
                             {0.043519188768576, 0.043564157564085, 0.043609087590758,
                              0.043967145878930, 0.044411328023339, 0.047841212463176}},
                            {4000.0,
                             {0.039907014055635, 0.039957753381664, 0.040008431233555,
                              0.040411669704864, 0.040910389862846, 0.044711236317243}},
                            {5000.0,
                             {0.037392727578047, 0.037448666533807, 0.037504518014130,
                              0.037948231315602, 0.038495359000540, 0.042612847788778}},
                            {10000.0,
                             {0.030882950353488, 0.030960210153382, 0.031037212200999,
                              0.031644235866252, 0.032381806363093, 0.037629861975617}},
                            {20000.0,
                             {0.025883078538096, 0.025992647938233, 0.026101465729497,
                              0.026946523895878, 0.027945713020885, 0.034470044151667}},
                            {50000.0,
                             {0.020891443528337, 0.021071198511433, 0.021247883751740,
                              0.022564968596574, 0.024020783975372, 0.032174645220168}},
                            {100000.0,
                             {0.017989773084274, 0.018256220612143, 0.018513866077472,
                              0.020327000158170, 0.022174535944515, 0.031306382937087}},
                            {1000000.0,
                             {0.011645040997992, 0.012648877228566, 0.013441437692508,
                              0.017206729844068, 0.019943465840477, 0.030465025820875}}};

const std::string tool = "mpmath 1.2.1 at 30 digits";

} // namespace

TEST_CASE("The Colebrook factor agrees with a 30-digit solution to 1e-12") {
    for (const Row &row : grid)
        for (std::size_t i = 0; i < roughnesses.size(); ++i) {
            INFO("Re " << row.reynolds << ", relative roughness " << roughnesses[i]);
            CHECK_THAT(colebrook_friction_factor(row.reynolds, roughnesses[i]),
                       agrees_with(row.factors[i], 1e-12, tool));
        }
}

TEST_CASE("A turbulent pipe's friction curve agrees with a 30-digit solution to 1e-12") {
    for (const Row &row : grid)
        for (std::size_t i = 0; i < roughnesses.size(); ++i) {
            // The early transition is over at every Reynolds number of the grid.
            const FrictionCurve curve = friction_curve(roughnesses[i], 0.0, Transition::Early);
            INFO("Re " << row.reynolds << ", relative roughness " << roughnesses[i]);
            CHECK_THAT(friction_factor(curve, row.reynolds),
                       agrees_with(row.factors[i], 1e-12, tool));
        }
}
