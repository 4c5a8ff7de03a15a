#include "models/floor_en1264.hpp"

#include "tests/support/floor_sections.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

double k_h(double spacing, double diameter, double wall, double cover, double covering,
           double screed = 1.2) {
    return en1264_characteristic(screed_section(spacing, diameter, wall, cover, covering, screed))
        .value()
        .characteristic_w_m2_k;
}

} // namespace

TEST_CASE("Each bound of the standard's factors is named and nothing is given beyond it") {
    const auto range = [](auto change) {
        FloorSection section = insulated_section();
        change(section);
        const En1264Range result = en1264_range(section);
        CHECK(en1264_characteristic(section).has_value() == (result == En1264Range::Covered));
        if (result != En1264Range::Covered)
            CHECK_FALSE(en1264_limit(section, 9.0));
        return result;
    };
    CHECK(range([](auto &) {}) == En1264Range::Covered);
    CHECK(range([](auto &s) { s.spacing_m = 0.0499; }) == En1264Range::Spacing);
    CHECK(range([](auto &s) { s.spacing_m = 0.6; }) == En1264Range::Covered);
    CHECK(range([](auto &s) { s.pipe.outside_diameter_m = 0.0079; }) == En1264Range::Diameter);
    CHECK(range([](auto &s) { s.pipe.outside_diameter_m = 0.0301; }) == En1264Range::Diameter);
    CHECK(range([](auto &s) { s.cover_m = 0.0099; }) == En1264Range::Cover);
    CHECK(range([](auto &s) { s.covering_resistance_m2k_w = 0.151; }) ==
          En1264Range::CoveringResistance);
    CHECK(range([](auto &s) { s.surface_coefficient_w_m2_k = 9.0; }) ==
          En1264Range::SurfaceCoefficient);
    CHECK(range([](auto &s) {
              s.spacing_m = 0.4;
              s.cover_m = 0.19;
          }) == En1264Range::WideAndThick);
    CHECK(range([](auto &s) { s.pipe.wall_m = 0.009; }) == En1264Range::Impossible);
}

TEST_CASE("A dry board is outside, for want of its plate factor") {
    for (const double width : {0.0, 0.12}) {
        CHECK(en1264_range(dry_section(width)) == En1264Range::DryBoard);
        CHECK_FALSE(en1264_characteristic(dry_section(width)));
        CHECK_FALSE(en1264_limit(dry_section(width), 9.0));
    }
}

TEST_CASE("The characteristic is continuous where its rules change") {
    const double just = 1e-9;
    CHECK_THAT(k_h(0.375 + just, 0.016, 0.002, 0.045, 0.05),
               WithinRel(k_h(0.375, 0.016, 0.002, 0.045, 0.05), 1e-7));
    CHECK_THAT(k_h(0.15, 0.016, 0.002, 0.100 + just, 0.05),
               WithinRel(k_h(0.15, 0.016, 0.002, 0.100, 0.05), 1e-7));
    CHECK_THAT(k_h(0.30, 0.016, 0.002, 0.150 + just, 0.05),
               WithinRel(k_h(0.30, 0.016, 0.002, 0.150, 0.05), 1e-7));
    for (const double spacing : {0.075, 0.10, 0.15, 0.20, 0.225, 0.30})
        CHECK_THAT(k_h(spacing + just, 0.016, 0.002, 0.045, 0.05),
                   WithinRel(k_h(spacing - just, 0.016, 0.002, 0.045, 0.05), 1e-6));
}

TEST_CASE("The characteristic falls with spacing, cover and covering") {
    double before = 1e9;
    for (double spacing = 0.05; spacing < 0.6; spacing += 0.005) {
        const double here = k_h(spacing, 0.016, 0.002, 0.045, 0.05);
        INFO("spacing " << spacing);
        CHECK(here < before);
        before = here;
    }
    before = 1e9;
    for (double cover = 0.010; cover < 0.3; cover += 0.005) {
        const double here = k_h(0.15, 0.016, 0.002, cover, 0.05);
        INFO("cover " << cover);
        CHECK(here < before);
        before = here;
    }
    before = 1e9;
    for (int step = 0; step <= 15; ++step) {
        const double here = k_h(0.15, 0.016, 0.002, 0.045, 0.01 * step);
        INFO("covering " << 0.01 * step);
        CHECK(here < before);
        before = here;
    }
}

TEST_CASE("The reference wall leaves B at 6.7 whatever the pipe") {
    for (const double diameter : {0.008, 0.012, 0.020, 0.030})
        CHECK_THAT(en1264_characteristic(screed_section(0.15, diameter, 0.002, 0.045, 0.05))
                       ->system_w_m2_k,
                   WithinRel(6.7, 1e-14));
}

TEST_CASE("At the limit the characteristic and the limit curve give the same heat") {
    for (const double spacing : {0.05, 0.10, 0.17, 0.25, 0.35})
        for (const double cover : {0.03, 0.045, 0.09, 0.15})
            for (const double excess : {9.0, 13.0, 15.0}) {
                const FloorSection section = screed_section(spacing, 0.016, 0.002, cover, 0.05);
                const auto limit = en1264_limit(section, excess);
                REQUIRE(limit);
                const double phi = std::pow(excess / 9.0, 1.1);
                INFO("spacing " << spacing << ", cover " << cover << ", excess " << excess);
                CHECK_THAT(limit->heat_w_m2,
                           WithinRel(phi * limit->b_factor *
                                         std::pow(limit->excess_k / phi, limit->exponent),
                                     1e-12));
            }
}

TEST_CASE("The limit curve gives nothing where its tables end") {
    CHECK_FALSE(en1264_limit(screed_section(0.15, 0.016, 0.002, 0.011, 0.05, 1.2), 9.0));
    CHECK_FALSE(en1264_limit(screed_section(0.375, 0.016, 0.002, 0.050, 0.05, 0.5), 9.0));
    CHECK_FALSE(en1264_limit(screed_section(0.45, 0.016, 0.002, 0.080, 0.05), 9.0));
    CHECK_FALSE(en1264_limit(screed_section(0.15, 0.016, 0.002, 0.045, 0.05), 0.0));
    CHECK(en1264_limit(screed_section(0.45, 0.016, 0.002, 0.045, 0.05), 9.0));
}

TEST_CASE("A wide spacing keeps its limit temperature and thins its heat") {
    const auto at = [](double spacing) {
        return en1264_limit(screed_section(spacing, 0.016, 0.002, 0.045, 0.05), 9.0).value();
    };
    CHECK_THAT(at(0.5).excess_k, WithinRel(at(0.375).excess_k, 1e-12));
    CHECK_THAT(at(0.5).heat_w_m2, WithinRel(0.75 * at(0.375).heat_w_m2, 1e-12));
}

TEST_CASE("The excess of a heat undoes the base curve, 8.92 excess^1.1") {
    for (const double excess : {0.1, 1.0, 9.0, 15.0, 40.0})
        CHECK_THAT(base_curve_excess_k(8.92 * std::pow(excess, 1.1)), WithinRel(excess, 1e-13));
}

TEST_CASE("Heat lost downward closes the balance of the two resistances") {
    const FloorSection section = insulated_section();
    const DownwardLoss loss = downward_loss(section, 60.0, 20.0, 8.0).value();
    // One temperature in the layer: q R_o above the room and q_u R_u above the space below.
    CHECK_THAT(20.0 + 60.0 * loss.upper_resistance_m2k_w,
               WithinRel(8.0 + loss.heat_down_w_m2 * loss.lower_resistance_m2k_w, 1e-12));
    CHECK_THAT(loss.water_share, WithinRel((60.0 + loss.heat_down_w_m2) / 60.0, 1e-12));
    CHECK_FALSE(downward_loss(section, 0.0, 20.0, 8.0));
    CHECK(downward_loss(section, 0.5, 20.0, 20.0)); // however little, there is a way down
    CHECK(downward_loss(screed_section(0.15, 0.016, 0.002, 0.045, 0.0), 60.0, 20.0, 8.0)
              ->heat_down_w_m2 == 0.0);
}

TEST_CASE("The supply's excess has its quadratic term once the drop is more than half the excess") {
    // EN 1264-3: dV = dH + s/2, and with s/dH above one half dH + s/2 + s^2/(12 dH).
    CHECK(supply_excess_k(10.0, 5.0) == 12.5);
    CHECK_THAT(supply_excess_k(10.0, 8.0), WithinRel(14.0 + 64.0 / 120.0, 1e-12));
}

TEST_CASE("The most loaded room's own drop comes back from its supply") {
    // EN 1264-3 (from memory) gives another room on the same supply, whose heat asks for the excess
    // dH, the drop 3 dH (sqrt(1 + 4 (dV - dH)/(3 dH)) - 1): the inverse of the formula above.
    const auto other_room_drop_k = [](double supply_k, double excess_k) {
        const double ratio = 4.0 * (supply_k - excess_k) / (3.0 * excess_k);
        return 3.0 * excess_k * (std::sqrt(1.0 + ratio) - 1.0);
    };
    CHECK_THAT(other_room_drop_k(supply_excess_k(10.0, 8.0), 10.0), WithinRel(8.0, 1e-12));
    CHECK_THAT(other_room_drop_k(supply_excess_k(0.8, 0.6), 0.8), WithinRel(0.6, 1e-12));
}
