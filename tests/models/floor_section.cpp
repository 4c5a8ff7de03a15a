#include "models/floor_section.hpp"

#include "tests/support/floor_sections.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("The shared floor sections can be built") {
    for (const FloorSection &section : sections_of_every_kind())
        CHECK(floor_section_fault(section) == nullptr);
}

TEST_CASE("An impossible floor section is named as such") {
    const auto fault = [](auto change, FloorSection section) {
        change(section);
        const char *text = floor_section_fault(section);
        return std::string(text != nullptr ? text : "none");
    };
    const auto wet = insulated_section();
    const auto dry = dry_section(0.12);
    CHECK(fault([](auto &s) { s.pipe.wall_m = 0.008; }, wet) ==
          "the pipe's wall must leave a bore");
    CHECK(fault([](auto &s) { s.pipe.wall_conductivity_w_m_k = 0.0; }, wet) ==
          "the pipe wall needs a conductivity above zero");
    CHECK(fault([](auto &s) { s.pipe.sheath_diameter_m = 0.015; }, wet) ==
          "the sheath must be wider than the pipe and conduct");
    CHECK(fault([](auto &s) { s.spacing_m = 0.016; }, wet) ==
          "the spacing must exceed the pipe's diameter");
    CHECK(fault([](auto &s) { s.cover_m = std::nan(""); }, wet) ==
          "the layer over the pipe needs a thickness and a conductivity above zero");
    CHECK(fault([](auto &s) { s.gap_below_pipe_m = -0.001; }, wet) ==
          "covering, gap and insulation must not be negative");
    CHECK(fault([](auto &s) { s.slab_resistance_m2k_w = -0.1; }, wet) ==
          "resistances below the insulation must not be negative");
    CHECK(fault([](auto &s) { s.surface_coefficient_w_m2_k = 0.0; }, wet) ==
          "the surface coefficient must be above zero");
    CHECK(fault([](auto &s) { s.board->thickness_m = 0.015; }, dry) ==
          "the groove board must be at least as thick as the pipe and conduct");
    CHECK(fault([](auto &s) { s.board->plate->width_m = 0.16; }, dry) ==
          "the plate must be wider than the groove and no wider than the spacing");
    CHECK(fault([](auto &s) { s.slab_resistance_m2k_w = std::numeric_limits<double>::infinity(); },
                wet) == "none");
}

TEST_CASE("The pipe's axis lies half a diameter above what it rests on") {
    FloorSection section = insulated_section();
    CHECK(section.axis_height_m() == Approx(0.008));
    section.gap_below_pipe_m = 0.01;
    CHECK(section.axis_height_m() == Approx(0.018));
    section.pipe.sheath_diameter_m = 0.020;
    CHECK(section.axis_height_m() == Approx(0.020));
    CHECK(dry_section(0.0).axis_height_m() == Approx(0.022)); // crown flush with 30 mm of board
}
