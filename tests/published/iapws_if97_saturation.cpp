// IAPWS R7-97(2012), tables 35 and 36: saturation pressure and temperature, printed for checking
// programs (from memory). All nine digits are checked.
#include "models/saturation.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("The saturation pressure agrees with IAPWS-IF97 table 35") {
    struct Row {
        double temperature_k, pressure_mpa, half_digit;
    };
    const std::vector<Row> rows{
        {300.0, 0.353658941e-2, 5e-12}, {500.0, 0.263889776e1, 5e-9}, {600.0, 0.123443146e2, 5e-8}};
    for (const Row &row : rows)
        CHECK_THAT(
            1e-6 * saturation_pressure_pa(row.temperature_k - 273.15),
            agrees_with(row.pressure_mpa, 0.0, "IAPWS R7-97(2012), table 35", row.half_digit));
}

TEST_CASE("The saturation temperature agrees with IAPWS-IF97 table 36") {
    struct Row {
        double pressure_mpa, temperature_k;
    };
    const std::vector<Row> rows{{0.1, 0.372755919e3}, {1.0, 0.453035632e3}, {10.0, 0.584149488e3}};
    for (const Row &row : rows)
        CHECK_THAT(saturation_temperature_c(1e6 * row.pressure_mpa) + 273.15,
                   agrees_with(row.temperature_k, 0.0, "IAPWS R7-97(2012), table 36", 5e-7));
}
