// I. Staffell et al., A review of domestic heat pumps, Energy Environ. Sci. 5 (2012) 9291: the
// regressions for air and ground sources (read as quoted in open energy models). The values below
// were worked by hand from the printed coefficients.
#include "models/cop_regression.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("The COP of Staffell et al. at lifts of 30, 40 and 50 K is that of their coefficients") {
    struct Row {
        double lift_k, air, ground;
    };
    const std::vector<Row> rows{
        {30.0, 3.7470, 4.9306}, {40.0, 2.9780, 3.9444}, {50.0, 2.3350, 3.1050}};
    for (const Row &row : rows) {
        INFO("lift " << row.lift_k << " K");
        CHECK_THAT(staffell_2012_air_cop(row.lift_k).cop,
                   agrees_with(row.air, 1e-12, "Staffell et al. 2012, air source"));
        CHECK_THAT(staffell_2012_ground_cop(row.lift_k).cop,
                   agrees_with(row.ground, 1e-12, "Staffell et al. 2012, ground source"));
    }
}

TEST_CASE("The regressions of Staffell et al. hold from 15 or 20 to 60 K") {
    CHECK(staffell_2012_air_cop(15.0).lift == RangeStatus::Inside);
    CHECK(staffell_2012_air_cop(14.9).lift == RangeStatus::Below);
    CHECK(staffell_2012_ground_cop(20.0).lift == RangeStatus::Inside);
    CHECK(staffell_2012_ground_cop(19.9).lift == RangeStatus::Below);
    CHECK(staffell_2012_air_cop(60.1).lift == RangeStatus::Above);
    CHECK(staffell_2012_ground_cop(60.1).lift == RangeStatus::Above);
}
