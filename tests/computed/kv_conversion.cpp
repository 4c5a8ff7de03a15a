// Loss coefficients of valves by python3-fluids 1.0.22 (Kv_to_K), which uses the rounded constant
// 1.6e9 of Crane and IEC 60534; the exact constant is 0.07 % less.
#include "models/local_loss.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A Kv in a bore has the loss coefficient of the usual conversion to 0.1 %") {
    struct Row {
        double bore_m, kv, zeta;
    };
    for (const Row &row : {Row{0.0136, 1.0, 54.7363}, Row{0.0202, 2.5, 42.6231},
                           Row{0.0120, 1.0, 33.1776}, Row{0.0080, 0.6, 18.2044}}) {
        INFO("bore " << row.bore_m << " m, Kv " << row.kv);
        CHECK_THAT(zeta_from_kv(row.kv, row.bore_m),
                   agrees_with(row.zeta, 0.001, "python3-fluids 1.0.22, Kv_to_K"));
    }
}

TEST_CASE("The constant between Kv and loss coefficient is pi^2/8 in its units") {
    // pi^2/8 x 1e5 Pa x (3600 s/h)^2 / (1000 kg/m3), with mpmath 1.2.1 at 30 digits.
    CHECK_THAT(zeta_from_kv(1.0, 1.0), agrees_with(1598875912.9764760, 1e-12, "mpmath 1.2.1"));
}
