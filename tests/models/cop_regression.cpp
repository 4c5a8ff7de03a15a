#include "models/cop_regression.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;

namespace {

struct Fit {
    RegressionCop (*cop)(double);
    double least_k, greatest_k;
};

const std::vector<Fit> fits{{staffell_2012_air_cop, 15.0, 60.0},
                            {staffell_2012_ground_cop, 20.0, 60.0},
                            {ruhnau_2019_air_cop, 15.0, 60.0},
                            {ruhnau_2019_ground_cop, 15.0, 60.0}};

} // namespace

TEST_CASE("Every COP regression falls with the lift over its range and stays above one") {
    for (const Fit &fit : fits) {
        double before = 100.0;
        for (double lift = fit.least_k; lift <= fit.greatest_k; lift += 0.5) {
            const RegressionCop at = fit.cop(lift);
            INFO("lift " << lift);
            CHECK(at.lift == RangeStatus::Inside);
            CHECK(at.cop < before);
            CHECK(at.cop > 1.0);
            before = at.cop;
        }
    }
}

TEST_CASE("A COP regression is held at the ends of its range and says so") {
    for (const Fit &fit : fits) {
        CHECK(fit.cop(fit.least_k - 5.0).cop == fit.cop(fit.least_k).cop);
        CHECK(fit.cop(fit.least_k - 5.0).lift == RangeStatus::Below);
        CHECK(fit.cop(fit.greatest_k + 30.0).cop == fit.cop(fit.greatest_k).cop);
        CHECK(fit.cop(fit.greatest_k + 30.0).lift == RangeStatus::Above);
    }
}
