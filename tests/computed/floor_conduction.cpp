// Heat of floor sections by an independent finite-volume calculation (half cell, graded grid down
// to 0.25 mm, line-integrated conductances, 10.8 W/(m2 K) above, nothing let through below), beside
// the characteristic of EN 1264-2.
#include "models/floor_conduction.hpp"
#include "models/floor_en1264.hpp"
#include "models/water_film.hpp"

#include "tests/support/floor_sections.hpp"
#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinRel;

namespace {

const std::string tool = "independent finite-volume calculation";

struct Row {
    double spacing, diameter, wall, cover, screed, covering;
    double standard, resting, raised; ///< W/(m2 K); the last with the pipe 10 mm above insulation

    FloorSection section(double gap = 0.0) const {
        return screed_section(spacing, diameter, wall, cover, covering, screed, gap);
    }
};

const std::vector<Row> rows{{.10, .010, .0013, .030, 1.2, 0, 7.2627, 6.1949, 6.5286},
                            {.10, .010, .0013, .045, 1.2, .05, 4.7713, 4.4707, 4.6396},
                            {.15, .010, .0013, .045, 1.2, .10, 3.3994, 3.2442, 3.4130},
                            {.15, .012, .0014, .045, 1.2, .05, 4.2079, 4.0055, 4.2190},
                            {.20, .012, .0014, .045, 1.2, .15, 2.6075, 2.5857, 2.7232},
                            {.10, .016, .002, .045, 1.2, 0, 6.4274, 6.0568, 6.2335},
                            {.15, .016, .002, .045, 1.2, 0, 5.5396, 5.1842, 5.4547},
                            {.15, .016, .002, .045, 1.2, .05, 4.1671, 4.1160, 4.2851},
                            {.20, .016, .002, .045, 1.2, .05, 3.6936, 3.6212, 3.8306},
                            {.30, .016, .002, .045, 1.2, 0, 3.6164, 3.2998, 3.6175},
                            {.30, .016, .002, .045, 1.2, .10, 2.4842, 2.4586, 2.6382},
                            {.15, .017, .002, .045, 1.0, .05, 4.0341, 3.9238, 4.0852},
                            {.30, .020, .002, .045, 1.2, .15, 2.2570, 2.3184, 2.4414}};

double conducted(const FloorSection &section, double film = 0.0) {
    return floor_conductances(*floor_response(section), film).per_water.up;
}

double standard(const FloorSection &section) {
    return en1264_characteristic(section)->characteristic_w_m2_k;
}

} // namespace

TEST_CASE("Conducted heat is that of an independent calculation, resting and raised") {
    for (const Row &row : rows) {
        INFO("spacing " << row.spacing << ", diameter " << row.diameter << ", covering "
                        << row.covering);
        CHECK_THAT(conducted(row.section()), agrees_with(row.resting, 0.003, tool));
        CHECK_THAT(conducted(row.section(0.010)), agrees_with(row.raised, 0.003, tool));
        CHECK_THAT(standard(row.section()), agrees_with(row.standard, 1e-5, tool, 0.00005));
    }
}

TEST_CASE("Standard and conduction agree within 10 %, for small bore within 15 %") {
    for (const Row &row : rows) {
        const double band = row.diameter < 0.012 ? 0.15 : 0.10;
        INFO("spacing " << row.spacing << ", diameter " << row.diameter << ", covering "
                        << row.covering);
        CHECK_THAT(standard(row.section()), WithinRel(conducted(row.section()), band));
    }
}

TEST_CASE("The standard ranks 10 x 1.3 above 16 x 2 where conduction ranks it below") {
    // Spacing 150 mm, covering 0.05 m2 K/W, cover 45 mm, pipe on the insulation.
    const FloorSection small = screed_section(.15, .010, .0013, .045, .05);
    const FloorSection usual = screed_section(.15, .016, .002, .045, .05);
    CHECK_THAT(standard(small), agrees_with(4.227, 1e-5, tool, 0.0005));
    CHECK_THAT(standard(usual), agrees_with(4.167, 1e-5, tool, 0.0005));
    CHECK_THAT(conducted(small), agrees_with(3.873, 0.003, tool));
    CHECK_THAT(conducted(usual), agrees_with(4.116, 0.003, tool));
    CHECK(standard(small) > standard(usual));
    CHECK(conducted(small) < conducted(usual));
    CHECK_THAT(conducted(screed_section(.15, .012, .002, .045, .05)),
               agrees_with(3.8396, 0.003, tool));
    CHECK_THAT(conducted(screed_section(.15, .020, .002, .045, .05)),
               agrees_with(4.3116, 0.003, tool));
}

TEST_CASE("A laminar film resists 0.140 m K/W, as much as the wall of 16 x 2") {
    const FluidState water = fluid_state(Fluid{}, 35.0);
    CHECK_THAT(water_film_resistance(water, 0.012, 0.010).value(),
               agrees_with(0.140, 1e-5, "1/(pi 3.66 0.62)", 0.0005));
    CHECK_THAT(std::log(16.0 / 12.0) / (2.0 * 3.14159265358979 * 0.35),
               agrees_with(0.131, 1e-5, "ln(16/12)/(2 pi 0.35)", 0.0005));
}

TEST_CASE("A film takes the share of heat that an independent calculation gives") {
    struct FilmRow {
        double spacing, diameter, wall, covering, film, change_percent;
    };
    const double turbulent = 1.0 / (3.14159265358979 * 0.012 * 2000.0); // 2000 W/(m2 K)
    for (const FilmRow &row :
         {FilmRow{.15, .016, .002, 0, .140, -10.9}, FilmRow{.15, .016, .002, .10, .140, -7.4},
          FilmRow{.10, .010, .0013, .05, .140, -6.6}, FilmRow{.10, .012, .0014, 0, .140, -8.6},
          FilmRow{.15, .016, .002, 0, turbulent, -1.2}}) {
        const FloorSection section =
            screed_section(row.spacing, row.diameter, row.wall, .045, row.covering);
        const double bare = conducted(section);
        INFO("spacing " << row.spacing << ", diameter " << row.diameter << ", covering "
                        << row.covering << ", change "
                        << 100.0 * (conducted(section, row.film) / bare - 1.0) << " %");
        CHECK_THAT(conducted(section, row.film),
                   agrees_with(bare * (1.0 + row.change_percent / 100.0), 0.003, tool));
    }
}
