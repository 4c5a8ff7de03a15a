// Isothermal cylinders under an isothermal plane: Incropera et al., table 4.1 case 2, and Cengel
// and Ghajar, table 3-7, row of cylinders. The wall conducts as the ground does, so that the bore
// is the cylinder, and surface and covering resist nothing.
#include "models/floor_conduction.hpp"
#include "models/units.hpp"

#include "tests/support/floor_sections.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

/// Heat per metre of cylinder, per K and per conductivity.
double shape_factor(double spacing, double bore, double depth) {
    const double wall = 0.002;
    const double diameter = bore + 2.0 * wall;
    FloorSection section =
        screed_section(spacing, diameter, wall, depth - 0.5 * diameter, 0.0, 1.2, 4.0);
    section.pipe.wall_conductivity_w_m_k = 1.2;
    section.surface_coefficient_w_m2_k = 1e12;
    const auto response = floor_response(section);
    return response->up[0] * spacing / 1.2;
}

} // namespace

TEST_CASE("A cylinder under an isothermal plane has the shape factor 2 pi / arcosh(z/r)") {
    for (const double bore : {0.0074, 0.012, 0.016})
        for (const double depth : {0.015, 0.03, 0.053}) {
            INFO("bore " << bore << ", depth " << depth);
            // A neighbour 6 m away adds or takes less than 0.02 %.
            CHECK_THAT(shape_factor(6.0, bore, depth),
                       agrees_with(2.0 * pi / std::acosh(2.0 * depth / bore), 1e-3,
                                   "Incropera et al. 2007, table 4.1 case 2"));
        }
}

TEST_CASE("Cylinders in a row have the shape factor 2 pi / ln(2 w/(pi D) sinh(2 pi z/w))") {
    // The formula takes the cylinders for thin; 4 mm at 150 mm leaves it right within 0.05 %.
    const double bore = 0.004;
    for (const double spacing : {0.15, 0.30})
        for (const double depth : {0.06, 0.10}) {
            INFO("spacing " << spacing << ", depth " << depth);
            const double row =
                std::log(2.0 * spacing / (pi * bore) * std::sinh(2.0 * pi * depth / spacing));
            CHECK_THAT(shape_factor(spacing, bore, depth),
                       agrees_with(2.0 * pi / row, 1e-3, "Cengel and Ghajar 2011, table 3-7"));
        }
}
