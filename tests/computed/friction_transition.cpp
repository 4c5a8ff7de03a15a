// Churchill's 1977 law for all regimes in smooth pipe, by python3-fluids 1.0.22 (Churchill_1977).
// The project joins the laminar and the turbulent law in its own way: between 2300 and 4000 the
// physical uncertainty is about 30 % (common practice, no source).
#include "models/friction.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double reynolds, factor;
};

double middle_factor(double reynolds) {
    const FrictionCurve curve = friction_curve(0.0, 0.0, Transition::Middle);
    double inverse_root = 0.0;
    return 2.0 * hagen_number(curve, reynolds, inverse_root).value / (reynolds * reynolds);
}

} // namespace

TEST_CASE("The middle transition is within 30 % of Churchill's law") {
    const std::vector<Row> rows{{2300.0, 0.0308400984},
                                {2600.0, 0.0375193320},
                                {3000.0, 0.0429746563},
                                {3500.0, 0.0422623242},
                                {4000.0, 0.0405897330}};
    for (const Row &row : rows) {
        INFO("Re " << row.reynolds);
        CHECK_THAT(middle_factor(row.reynolds),
                   agrees_with(row.factor, 0.30, "python3-fluids 1.0.22, Churchill_1977"));
    }
}
