// Worked factors, limits, means and flows of EN 1264-2 and -3, computed once from the standard's
// formulae and tables by an independent script in double precision; not printed in the standard.
#include "models/floor_en1264.hpp"

#include "tests/support/floor_sections.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

const std::string script = "independent script after EN 1264-2 and -3";
constexpr double digits = 1e-5;

double k_h(const FloorSection &section) {
    return en1264_characteristic(section)->characteristic_w_m2_k;
}

} // namespace

TEST_CASE("Factors and characteristic are those of an independent calculation") {
    struct Row {
        double spacing, diameter, wall, covering, cover;
        double a_b, a_t, m_t, a_u, m_u, a_d, m_d, b, k, q_at_15;
    };
    for (const Row &row : {Row{.15, .016, .002, 0, .045, 1.05765, 1.230, -1, 1.057, 0, 1.040, -1,
                               6.7, 5.53961, 83.094},
                           Row{.15, .016, .002, .10, .045, .597988, 1.156, -1, 1.035, 0, 1.029, -1,
                               6.7, 3.36817, 50.523},
                           Row{.10, .016, .002, .05, .045, .764010, 1.188, -1.0 / 3, 1.050, 0,
                               1.025, -1, 6.7, 4.71532, 70.730},
                           Row{.20, .016, .002, .05, .045, .764010, 1.188, -5.0 / 3, 1.041, 0,
                               1.040, -1, 6.7, 3.69357, 55.404},
                           Row{.30, .017, .002, .10, .045, .597988, 1.156, -3, 1.024, 0, 1.044,
                               -.75, 6.7, 2.51113, 37.667},
                           Row{.20, .020, .002, .15, .045, .491240, 1.134, -5.0 / 3, 1.0275, 0,
                               1.030, 0, 6.7, 2.66899, 40.035},
                           Row{.10, .010, .0013, .05, .030, .764010, 1.188, -1.0 / 3, 1.050, 1.5,
                               1.025, -2.5, 7.06219, 5.15316, 77.297},
                           Row{.45, .020, .002, 0, .065, 1.05765, 1.230, -4, 1.030, -2, 1.056, 0,
                               6.7, 2.43187, 36.478}}) {
        const auto result = en1264_characteristic(
            screed_section(row.spacing, row.diameter, row.wall, row.cover, row.covering));
        REQUIRE(result);
        INFO("spacing " << row.spacing << ", diameter " << row.diameter << ", covering "
                        << row.covering);
        CHECK_THAT(result->a_covering, agrees_with(row.a_b, digits, script));
        CHECK_THAT(result->a_spacing, agrees_with(row.a_t, digits, script));
        CHECK_THAT(result->m_spacing, agrees_with(row.m_t, digits, script));
        CHECK_THAT(result->a_cover, agrees_with(row.a_u, digits, script));
        CHECK_THAT(result->m_cover, agrees_with(row.m_u, digits, script, 1e-12));
        CHECK_THAT(result->a_diameter, agrees_with(row.a_d, digits, script));
        CHECK_THAT(result->m_diameter, agrees_with(row.m_d, digits, script, 1e-12));
        CHECK_THAT(result->system_w_m2_k, agrees_with(row.b, digits, script));
        CHECK_THAT(result->characteristic_w_m2_k, agrees_with(row.k, digits, script));
        CHECK_THAT(15.0 * result->characteristic_w_m2_k, agrees_with(row.q_at_15, digits, script));
    }
}

TEST_CASE("Other walls and a sheath change B as an independent calculation has it") {
    struct Row {
        FloorPipe pipe;
        double b, k;
    };
    for (const Row &row :
         {Row{{.016, .0013, .35}, 6.939420, 4.316040}, Row{{.016, .002, .22}, 6.361864, 3.956823},
          Row{{.016, .002, .40}, 6.776187, 0.0}, Row{{.016, .001, 390.0}, 7.361904, 4.578807},
          Row{{.016, .002, .35, .020, .2}, 5.840764, 3.756232}}) {
        FloorSection section = screed_section(.15, .016, .002, .045, .05);
        section.pipe = row.pipe;
        INFO("wall " << row.pipe.wall_m << ", " << row.pipe.wall_conductivity_w_m_k);
        CHECK_THAT(en1264_characteristic(section)->system_w_m2_k,
                   agrees_with(row.b, digits, script));
        if (row.k > 0.0)
            CHECK_THAT(k_h(section), agrees_with(row.k, digits, script));
    }
}

TEST_CASE("Limits are those of an independent calculation") {
    struct Row {
        double spacing, covering, excess, b, n, theta, q;
    };
    for (const Row &row :
         {Row{.10, 0, 9, 89.3, .033, 15.1991, 97.690}, Row{.15, 0, 9, 76.3, .076, 17.0897, 94.670},
          Row{.15, .10, 9, 76.3, .076, 29.2814, 98.625},
          Row{.20, .05, 9, 63.1, .123, 25.4363, 93.951},
          Row{.30, .10, 9, 36.4, .245, 35.0146, 86.985},
          Row{.15, 0, 15, 76.3, .076, 29.9755, 166.053}}) {
        const auto limit =
            en1264_limit(screed_section(row.spacing, .016, .002, .045, row.covering), row.excess);
        REQUIRE(limit);
        INFO("spacing " << row.spacing << ", covering " << row.covering);
        CHECK_THAT(limit->b_factor, agrees_with(row.b, digits, script));
        CHECK_THAT(limit->exponent, agrees_with(row.n, digits, script));
        CHECK_THAT(limit->excess_k, agrees_with(row.theta, digits, script));
        CHECK_THAT(limit->heat_w_m2, agrees_with(row.q, digits, script));
    }
}

TEST_CASE("The base curve is that of an independent calculation") {
    CHECK_THAT(base_curve_excess_k(52.388), agrees_with(5.0, digits, script));
    CHECK_THAT(base_curve_excess_k(100.0073), agrees_with(9.0, digits, script));
    CHECK_THAT(base_curve_excess_k(175.4144), agrees_with(15.0, digits, script));
    CHECK_THAT(base_curve_excess_k(50.0), agrees_with(4.7924, digits, script));
}

TEST_CASE("Heat down and the flow it costs are those of an independent calculation") {
    struct Row {
        double lower, below, down, flow;
    };
    for (const Row &row : {Row{1.02, 20, 11.3970, .0591122}, Row{1.25, 10, 17.3000, .0647475}}) {
        FloorSection section = screed_section(.15, .016, .002, .045, .10);
        section.lower_surface_resistance_m2k_w = 0.17;
        section.slab_resistance_m2k_w = row.lower - 0.17;
        const auto loss = downward_loss(section, 50.523, 20.0, row.below);
        REQUIRE(loss);
        INFO("below " << row.below);
        CHECK_THAT(loss->upper_resistance_m2k_w, agrees_with(.230093, digits, script));
        CHECK_THAT(loss->heat_down_w_m2, agrees_with(row.down, digits, script));
        // In kg/s for 20 m2 at a drop of 5 K.
        CHECK_THAT(20.0 * 50.523 * loss->water_share / (5.0 * 4190.0),
                   agrees_with(row.flow, digits, script));
    }
    CHECK_THAT(supply_excess_k(10.0, 8.0), agrees_with(14.53333, digits, script));
}
