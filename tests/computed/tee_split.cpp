// Crane's tee coefficients by python3-fluids 1.0.22 (K_run_converging_Crane,
// K_branch_converging_Crane, K_run_diverging_Crane, K_branch_diverging_Crane, at 90 degrees),
// referred to the velocity of the combined leg.
#include "models/tee.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double bore_ratio, share, converging_run, converging_branch, diverging_run, diverging_branch;
};

const std::vector<Row> rows{{1.0, 0.2, 0.270000, -0.172800, -0.048000, 1.024144},
                            {1.0, 0.5, 0.525000, 0.412500, 0.000000, 1.155625},
                            {1.0, 0.8, 0.600000, 0.858000, 0.115200, 1.420864},
                            {0.9, 0.2, 0.270000, -0.157704, -0.048000, 1.030509},
                            {0.9, 0.5, 0.525000, 0.484572, 0.000000, 1.197885},
                            {0.9, 0.8, 0.600000, 1.042504, 0.115200, 1.540825},
                            {0.7, 0.2, 0.270000, -0.081650, -0.048000, 1.049979},
                            {0.7, 0.5, 0.525000, 0.847678, 0.000000, 1.312370},
                            {0.7, 0.8, 0.600000, 1.972056, 0.115200, 1.799667},
                            {0.65, 0.2, 0.270000, -0.040261, -0.048000, 1.224082},
                            {0.65, 0.5, 0.525000, 1.045281, 0.000000, 2.400511},
                            {0.65, 0.8, 0.600000, 2.477920, 0.115200, 4.585309},
                            {0.6, 0.2, 0.270000, 0.020622, 0.016000, 1.308642},
                            {0.6, 0.5, 0.525000, 1.335957, 0.100000, 2.929012},
                            {0.6, 0.8, 0.600000, 3.222049, 0.256000, 5.938272},
                            {0.5, 0.2, 0.270000, 0.360000, 0.016000, 1.640000},
                            {0.5, 0.5, 0.525000, 4.500000, 0.100000, 5.000000},
                            {0.5, 0.8, 0.600000, 11.160000, 0.256000, 11.240000}};

const std::string tool = "python3-fluids 1.0.22, Crane tee";

} // namespace

TEST_CASE("Tees with equal and reduced branches have Crane's coefficients") {
    for (const Row &row : rows) {
        INFO("bore ratio " << row.bore_ratio << ", branch share " << row.share);
        CHECK_THAT(converging_tee_run(row.share),
                   agrees_with(row.converging_run, 1e-6, tool, 5e-7));
        CHECK_THAT(converging_tee_branch(row.share, row.bore_ratio),
                   agrees_with(row.converging_branch, 1e-6, tool, 5e-7));
        CHECK_THAT(diverging_tee_run(row.share, row.bore_ratio),
                   agrees_with(row.diverging_run, 1e-6, tool, 5e-7));
        CHECK_THAT(diverging_tee_branch(row.share, row.bore_ratio),
                   agrees_with(row.diverging_branch, 1e-6, tool, 5e-7));
    }
}
