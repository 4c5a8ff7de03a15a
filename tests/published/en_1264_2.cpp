// EN 1264-2 (ISO 11855-2 types A and C): table entries and stated limits as the characteristic and
// the limit curve use them.
#include "models/floor_en1264.hpp"

#include "tests/support/floor_sections.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

constexpr double exact = 1e-12;

En1264Characteristic factors(double spacing, double covering) {
    return en1264_characteristic(screed_section(spacing, 0.016, 0.002, 0.045, covering)).value();
}

} // namespace

TEST_CASE("The spacing factor is that of EN 1264-2 table A.1") {
    const std::string table = "EN 1264-2 table A.1, a_T";
    CHECK_THAT(factors(0.15, 0.00).a_spacing, agrees_with(1.230, exact, table));
    CHECK_THAT(factors(0.15, 0.05).a_spacing, agrees_with(1.188, exact, table));
    CHECK_THAT(factors(0.15, 0.10).a_spacing, agrees_with(1.156, exact, table));
    CHECK_THAT(factors(0.15, 0.15).a_spacing, agrees_with(1.134, exact, table));
}

TEST_CASE("The cover factor is that of EN 1264-2 table A.2") {
    const std::string table = "EN 1264-2 table A.2, a_U";
    CHECK_THAT(factors(0.05, 0.00).a_cover, agrees_with(1.069, exact, table));
    CHECK_THAT(factors(0.10, 0.15).a_cover, agrees_with(1.0335, exact, table));
    CHECK_THAT(factors(0.15, 0.05).a_cover, agrees_with(1.046, exact, table));
    CHECK_THAT(factors(0.225, 0.10).a_cover, agrees_with(1.0295, exact, table));
    CHECK_THAT(factors(0.375, 0.05).a_cover, agrees_with(1.0221, exact, table));
    CHECK_THAT(factors(0.375, 0.15).a_cover, agrees_with(1.015, exact, table));
}

TEST_CASE("The diameter factor is that of EN 1264-2 table A.3") {
    const std::string table = "EN 1264-2 table A.3, a_D";
    CHECK_THAT(factors(0.05, 0.05).a_diameter, agrees_with(1.013, exact, table));
    CHECK_THAT(factors(0.10, 0.00).a_diameter, agrees_with(1.029, exact, table));
    CHECK_THAT(factors(0.15, 0.10).a_diameter, agrees_with(1.029, exact, table));
    CHECK_THAT(factors(0.20, 0.15).a_diameter, agrees_with(1.030, exact, table));
    CHECK_THAT(factors(0.30, 0.10).a_diameter, agrees_with(1.044, exact, table));
    CHECK_THAT(factors(0.375, 0.15).a_diameter, agrees_with(1.042, exact, table));
}

TEST_CASE("The limit curve's factors are those of EN 1264-2 at its entries") {
    struct Row {
        double spacing, depth, b, n;
    };
    for (const Row &row : {Row{0.05, 0.01, 85, 0.008}, Row{0.10, 0.0375, 89.3, 0.033},
                           Row{0.15, 0.0792, 97.8, 0.006}, Row{0.20, 0.0375, 63.1, 0.123},
                           Row{0.225, 0.0542, 67.5, 0.110}, Row{0.30, 0.0208, 26.8, 0.253},
                           Row{0.375, 0.0625, 40, 0.230}}) {
        const FloorSection section =
            screed_section(row.spacing, 0.016, 0.002, 1.5 * row.depth, 0.05, 1.5);
        INFO("spacing " << row.spacing << ", s_u/lambda_E " << row.depth);
        CHECK_THAT(en1264_limit(section, 9.0)->b_factor,
                   agrees_with(row.b, 1e-9, "EN 1264-2 table of B_G, s_u/lambda_E <= 0.0792"));
        CHECK_THAT(en1264_limit(section, 9.0)->exponent,
                   agrees_with(row.n, 1e-9, "EN 1264-2 table of n_G, s_u/lambda_E <= 0.0792"));
    }
    struct DeepRow {
        double ratio, b, n;
    };
    for (const DeepRow &row : {DeepRow{0.20, 40, 0.23}, DeepRow{0.40, 84.4, 0.048},
                               DeepRow{0.65, 98.6, 0.005}, DeepRow{0.75, 100, 0.0}}) {
        const FloorSection section =
            screed_section(0.30, 0.016, 0.002, 0.30 * row.ratio, 0.05, 0.5);
        INFO("s_u/T " << row.ratio);
        CHECK_THAT(en1264_limit(section, 9.0)->b_factor,
                   agrees_with(row.b, 1e-9, "EN 1264-2 table of B_G, s_u/lambda_E > 0.0792"));
        CHECK_THAT(
            en1264_limit(section, 9.0)->exponent,
            agrees_with(row.n, 1e-9, "EN 1264-2 table of n_G, s_u/lambda_E > 0.0792", 1e-12));
    }
}

TEST_CASE("Surface limits and the heat they allow are those of EN 1264-2") {
    CHECK(surface_limit_c(FloorZone::Occupied) == 29.0);
    CHECK(surface_limit_c(FloorZone::Bathroom) == 33.0);
    CHECK(surface_limit_c(FloorZone::Perimeter) == 35.0);
    // The standard prints 100 and 175 W/m2 for 9 and 15 K over the room: half a watt is 0.041 K at
    // the first, whose slope is 12.2 W/(m2 K), and 0.039 K at the second.
    CHECK_THAT(base_curve_excess_k(100.0),
               agrees_with(9.0, 1e-12, "EN 1264-2, base curve, 9 K", 0.041));
    CHECK_THAT(base_curve_excess_k(175.0),
               agrees_with(15.0, 1e-12, "EN 1264-2, base curve, 15 K", 0.039));
}
