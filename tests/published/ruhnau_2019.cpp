// O. Ruhnau, L. Hirth, A. Praktiknjo, Time series of heat demand and heat pump efficiency for
// energy system modeling, Sci. Data 6 (2019) 189: the regressions for air and ground sources (read
// as quoted in open energy models). The values below were worked by hand from the printed
// coefficients.
#include "models/cop_regression.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("The COP of Ruhnau et al. at lifts of 30, 40 and 50 K is that of their coefficients") {
    struct Row {
        double lift_k, air, ground;
    };
    const std::vector<Row> rows{
        {30.0, 3.8300, 5.0700}, {40.0, 3.2800, 3.8100}, {50.0, 2.8300, 2.7900}};
    for (const Row &row : rows) {
        INFO("lift " << row.lift_k << " K");
        CHECK_THAT(ruhnau_2019_air_cop(row.lift_k).cop,
                   agrees_with(row.air, 1e-12, "Ruhnau et al. 2019, air source"));
        CHECK_THAT(ruhnau_2019_ground_cop(row.lift_k).cop,
                   agrees_with(row.ground, 1e-12, "Ruhnau et al. 2019, ground source"));
    }
}

TEST_CASE("Ruhnau et al. hold the COP at lifts below 15 K") {
    CHECK(ruhnau_2019_air_cop(10.0).cop == ruhnau_2019_air_cop(15.0).cop);
    CHECK(ruhnau_2019_ground_cop(10.0).cop == ruhnau_2019_ground_cop(15.0).cop);
    CHECK(ruhnau_2019_air_cop(10.0).lift == RangeStatus::Below);
}
