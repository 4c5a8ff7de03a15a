// Flue efficiency of methane worked apart in Python: enthalpies of carbon dioxide, oxygen and
// nitrogen by the Shomate equations of the NIST Chemistry WebBook, water and vapour from steam
// tables (both from memory; unsaturated vapour with 1.87 kJ/(kg K)), condensate leaving at flue
// temperature; gross heat 890.58 kJ/mol at 25 degC, air of 20.95 % oxygen. The constant heat
// capacities of the model stay within 2e-4 up to 100 degC, and within 1 % of the flue loss at 250
// degC.
#include "models/flue_gas.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

struct Row {
    double flue_c, gross, condensate_share;
};

void check(double air_ratio, const std::vector<Row> &rows) {
    for (const Row &row : rows) {
        INFO("air ratio " << air_ratio << ", flue " << row.flue_c << " degC");
        const FlueEfficiency flue = flue_efficiency(row.flue_c, air_ratio, true);
        CHECK_THAT(flue.gross, WithinAbs(row.gross, 2e-4));
        CHECK_THAT(flue.condensate_share, WithinAbs(row.condensate_share, 2e-4));
    }
}

} // namespace

TEST_CASE("Flue efficiency agrees with real enthalpies of gas and water") {
    check(1.0, {{30.0, .97933, .8131}, {45.0, .94754, .5530}, {60.0, .88844, 0.0}});
    check(1.25, {{25.0, .98256, .8235},
                 {30.0, .97381, .7608},
                 {35.0, .96318, .6784},
                 {40.0, .95012, .5702},
                 {45.0, .93389, .4282},
                 {50.0, .91345, .2411},
                 {55.0, .88792, 0.0},
                 {60.0, .88570, 0.0},
                 {70.0, .88125, 0.0},
                 {100.0, .86787, 0.0}});
    check(1.5, {{30.0, .96829, .7086}, {45.0, .92024, .3034}, {60.0, .88296, 0.0}});
    CHECK_THAT(1.0 - flue_efficiency(250.0, 1.25, true).gross, WithinRel(1.0 - .80000, 0.01));
}

TEST_CASE("The theory without the condensate's own heat lies within a fifth of a point") {
    // Worked apart with steam properties of IAPWS-IF97 and condensate taken out at 25 degC.
    const std::vector<Row> rows{{30.0, .9745, 0.0}, {35.0, .9644, 0.0}, {40.0, .9517, 0.0},
                                {45.0, .9355, 0.0}, {50.0, .9146, 0.0}, {55.0, .8879, 0.0},
                                {60.0, .8857, 0.0}, {70.0, .8813, 0.0}};
    for (const Row &row : rows)
        CHECK_THAT(flue_efficiency(row.flue_c, 1.25, true).gross, WithinAbs(row.gross, 0.002));
    CHECK_THAT(flue_dew_point_c(1.25), WithinAbs(54.93, 0.1)); // there with 21 % oxygen
    CHECK_THAT(methane_net_j_mol / methane_gross_j_mol, WithinAbs(.9012, 5e-5));
}
