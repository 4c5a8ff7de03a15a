// BS 6700:2006, Table D.4: losses of copper tube at 10 degC, read off the standard's nomogram. The
// chart lies above smooth tube and near a roughness of 0.05 mm, so that the bands differ.
#include "models/fluid.hpp"
#include "models/pipe.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    double flow_l_s;
    int nominal_size;
    double bore_m; ///< EN 1057: 15 x 0.7, 22 x 0.9, 28 x 0.9
    double printed_kpa_per_m;
};

const std::vector<Row> table_d4{{0.90, 28, 0.0262, 1.4}, {0.60, 22, 0.0202, 2.5},
                                {0.30, 15, 0.0136, 5.0}, {0.20, 15, 0.0136, 2.3},
                                {0.10, 15, 0.0136, 0.6}, {0.32, 22, 0.0202, 0.8},
                                {0.15, 15, 0.0136, 1.3}};

double loss_kpa_per_m(const Row &row, double roughness_m) {
    const FluidState water = fluid_state(Fluid{}, 10.0);
    double inverse_root = 0.0;
    return pipe_loss(make_pipe({1.0, row.bore_m, roughness_m}), water,
                     row.flow_l_s * 1e-3 * water.density_kg_m3, inverse_root)
               .pressure_pa /
           1e3;
}

} // namespace

TEST_CASE("Aged copper of 0.05 mm roughness loses what BS 6700 Table D.4 shows") {
    for (const Row &row : table_d4) {
        INFO("BS 6700:2006 Table D.4, " << row.flow_l_s << " l/s in size " << row.nominal_size);
        CHECK_THAT(loss_kpa_per_m(row, 50e-6),
                   agrees_with(row.printed_kpa_per_m, 0.12, "BS 6700:2006 Table D.4"));
    }
}

TEST_CASE("New copper loses up to a fifth less than BS 6700 Table D.4 shows, and hardly more") {
    for (const Row &row : table_d4) {
        INFO("BS 6700:2006 Table D.4, " << row.flow_l_s << " l/s in size " << row.nominal_size);
        const double ratio = loss_kpa_per_m(row, 1.5e-6) / row.printed_kpa_per_m;
        CHECK(ratio >= 0.80);
        CHECK(ratio <= 1.05);
    }
}
