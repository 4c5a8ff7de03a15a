#include "models/floor_conduction.hpp"

#include "models/floor_grid.hpp"

#include "tests/support/floor_sections.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr std::size_t below = wall_shapes;

double water(const FloorResponse &response, std::size_t port) {
    return response.wall[0][port];
}

} // namespace

TEST_CASE("A floor section gives up and down what leaves the water") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        REQUIRE(response);
        for (std::size_t port = 0; port <= below; ++port) {
            INFO("cells " << response->cells << ", cause " << port);
            CHECK_THAT(response->up[port] + response->down[port] - water(*response, port),
                       WithinAbs(0.0, 1e-10 * response->up[0]));
        }
    }
}

TEST_CASE("Heat between any two sides of a section is the same either way") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        REQUIRE(response);
        const double rounding = 1e-10 * response->wall[wall_shapes - 1][wall_shapes - 1];
        REQUIRE(rounding > 0.0);
        for (std::size_t m = 0; m < wall_shapes; ++m) {
            for (std::size_t n = 0; n < m; ++n)
                CHECK_THAT(response->wall[m][n], WithinAbs(response->wall[n][m], rounding));
            CHECK_THAT(response->down[m], WithinAbs(-response->wall[m][below], rounding));
        }
    }
}

TEST_CASE("A section as warm below as in the water still gives no more than its surface takes") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        REQUIRE(response);
        CHECK(response->up[below] >= 0.0);
        CHECK(response->down[below] <= 0.0);
        CHECK(response->up[0] + response->up[below] <
              1.0 / (section.covering_resistance_m2k_w + 1.0 / section.surface_coefficient_w_m2_k));
    }
}

TEST_CASE("A section that is its own mirror image sends half its heat each way") {
    FloorSection section = screed_section(0.15, 0.016, 0.002, 0.04, 0.1, 1.2, 0.04);
    section.slab_resistance_m2k_w = 0.1;
    section.lower_surface_resistance_m2k_w = 1.0 / section.surface_coefficient_w_m2_k;
    const auto response = floor_response(section);
    REQUIRE(response);
    CHECK_THAT(response->up[0], WithinRel(response->down[0], 1e-10));
    CHECK_THAT(response->up[2], WithinRel(response->down[2], 1e-9));
    CHECK_THAT(response->up[1], WithinRel(-response->down[1], 1e-9));
}

TEST_CASE("Where nothing is let through below no heat goes down") {
    const auto response = floor_response(screed_section(0.15, 0.016, 0.002, 0.045, 0.05));
    REQUIRE(response);
    CHECK(response->down[0] == 0.0);
    CHECK(response->up[below] == 0.0);
}

TEST_CASE("The floor is warmest over the pipe and its mean is the heat over the coefficient") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto response = floor_response(section);
        REQUIRE(response);
        const double mean = response->up[0] / section.surface_coefficient_w_m2_k;
        CHECK(response->over_pipe[0] > mean);
        CHECK(response->between_pipes[0] < mean);
        CHECK(response->between_pipes[0] > 0.0);
    }
}

TEST_CASE("More cover, covering, spacing or insulating wall gives less heat") {
    const double usual = floor_response(insulated_section())->up[0];
    CHECK(floor_response(insulated_section(0.15, 0.016, 0.002, 0.065))->up[0] < usual);
    CHECK(floor_response(insulated_section(0.15, 0.016, 0.002, 0.045, 0.10))->up[0] < usual);
    CHECK(floor_response(insulated_section(0.20))->up[0] < usual);
    FloorSection thick_wall = insulated_section();
    thick_wall.pipe.wall_conductivity_w_m_k = 0.22;
    CHECK(floor_response(thick_wall)->up[0] < usual);
    FloorSection sheathed = insulated_section();
    sheathed.pipe = {0.012, 0.002, 0.35, 0.016, 0.05};
    CHECK(floor_response(sheathed)->up[0] < usual);
}

TEST_CASE("A diffuser plate helps, and the more the wider, thicker and better it conducts") {
    const auto heat = [](double thickness, double conductivity, double width) {
        FloorSection section = dry_section(0.0);
        if (width > 0.0)
            section.board->plate = DiffuserPlate{thickness, conductivity, width};
        return floor_response(section)->up[0];
    };
    const double bare = heat(0.0, 0.0, 0.0);
    const double usual = heat(0.0005, 200.0, 0.12);
    CHECK(usual > 2.0 * bare);
    CHECK(heat(0.0005, 200.0, 0.08) < usual);
    CHECK(heat(0.0005, 200.0, 0.15) > usual);
    CHECK(heat(0.0003, 200.0, 0.12) < usual);
    CHECK(heat(0.0005, 60.0, 0.12) < usual);
}

TEST_CASE("A perfect plate takes what half the pipe's wall lets through") {
    // Board and groove filling let nothing through, plate and layer anything. The lower half of the
    // wall is half a ring; beyond each of its two edges the wall's bare half adds a strip as wide
    // as 2 ln(2)/pi of the wall, the known edge effect of a plate whose other side ends.
    FloorSection section = dry_section(0.15);
    section.covering_resistance_m2k_w = 0.0;
    section.layer_conductivity_w_m_k = 1e6;
    section.surface_coefficient_w_m2_k = 1e6;
    section.board->conductivity_w_m_k = 1e-6;
    section.board->groove_filling_conductivity_w_m_k = 1e-6;
    section.board->plate->conductivity_w_m_k = 1e6;
    const double pi = 3.14159265358979;
    const double expected =
        0.35 * (pi / std::log(16.0 / 12.0) + 2.0 * 2.0 * std::log(2.0) / pi) / section.spacing_m;
    CHECK_THAT(floor_response(section)->up[0], WithinRel(expected, 0.01));
}

TEST_CASE("Of a thin plate only thickness times conductivity counts") {
    FloorSection section = dry_section(0.12);
    section.board->plate = DiffuserPlate{0.0004, 200.0, 0.12};
    const double thick = floor_response(section)->up[0];
    section.board->plate = DiffuserPlate{0.0002, 400.0, 0.12};
    // The slit over the crown, of the plate's thickness, closes by half.
    CHECK_THAT(floor_response(section)->up[0], WithinRel(thick, 0.02));
}

TEST_CASE("A sheath of the pipe's own material is a thicker wall") {
    FloorSection sheathed = insulated_section();
    sheathed.pipe = {0.014, 0.001, 0.35, 0.016, 0.35};
    CHECK_THAT(floor_response(sheathed)->up[0],
               WithinRel(floor_response(insulated_section())->up[0], 5e-4));
}

TEST_CASE("Insulation as a layer or as a resistance lets nearly the same heat down") {
    FloorSection lumped = insulated_section();
    lumped.slab_resistance_m2k_w += lumped.insulation_resistance_m2k_w();
    lumped.insulation_thickness_m = 0.0;
    const auto layer = floor_response(insulated_section());
    const auto resistance = floor_response(lumped);
    CHECK_THAT(resistance->up[0], WithinRel(layer->up[0], 0.005));
    CHECK_THAT(resistance->down[0], WithinRel(layer->down[0], 0.02));
}

TEST_CASE("The conduction grid converges with an order near two") {
    struct Case {
        FloorSection section;
        const char *name;
    };
    for (const Case &item :
         {Case{insulated_section(), "on insulation"}, Case{dry_section(0.0), "board"},
          Case{screed_section(0.15, 0.016, 0.002, 0.045, 0.0, 1.2, 0.01), "gap"},
          Case{dry_section(0.12), "plate"}}) {
        const double h = floor_response_on_grid(item.section, 0)->up[0];
        const double half = floor_response_on_grid(item.section, 1)->up[0];
        const double quarter = floor_response_on_grid(item.section, 2)->up[0];
        const double order = std::log2((half - h) / (quarter - half));
        INFO(item.name << ": " << h << ", " << half << ", " << quarter << ", order " << order);
        CHECK(order > 1.7);
        CHECK(order < 2.5);
    }
}

TEST_CASE("The extrapolated response is within 0.1 % of that of a grid four times as fine") {
    std::vector<FloorSection> sections = sections_of_every_kind();
    sections.push_back(dry_section(0.20, 0.20));
    sections.push_back(dry_section(0.10, 0.10, 0.010, 0.0013));
    sections.push_back(insulated_section(0.05));
    sections.push_back(insulated_section(0.45, 0.012));
    for (const FloorSection &section : sections) {
        const auto response = floor_response(section);
        const auto half = floor_response_on_grid(section, 1);
        const auto fine = floor_response_on_grid(section, 2);
        REQUIRE(response);
        CHECK(response->grid_correction <= 1.5e-3);
        const auto limit = [](double coarse, double finer) {
            return finer + (finer - coarse) / 3.0;
        };
        INFO("spacing " << section.spacing_m << ", cells " << response->cells);
        CHECK_THAT(response->up[0], WithinRel(limit(half->up[0], fine->up[0]), 1e-3));
        CHECK_THAT(response->down[0], WithinRel(limit(half->down[0], fine->down[0]), 1e-3));
        CHECK_THAT(response->over_pipe[0],
                   WithinRel(limit(half->over_pipe[0], fine->over_pipe[0]), 1e-3));
        CHECK_THAT(response->between_pipes[0],
                   WithinRel(limit(half->between_pipes[0], fine->between_pipes[0]), 1e-3));
    }
}

TEST_CASE("A section that cannot be built has no response") {
    FloorSection section = insulated_section();
    section.spacing_m = 0.01;
    CHECK_FALSE(floor_response(section));
    CHECK_FALSE(floor_response_on_grid(section, 0));
    CHECK_FALSE(floor_response(FloorSection{}));
}

// What a new section costs is its sparse factorisations, and those go by the unknowns. Some 13 000
// of them take a few hundredths of a second on an ordinary machine; the time itself is printed, not
// asserted.
TEST_CASE("A new floor section is worked out on few cells") {
    std::size_t most = 0;
    double longest_ms = 0.0;
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto before = std::chrono::steady_clock::now();
        const auto response = floor_response(section);
        const std::chrono::duration<double, std::milli> took =
            std::chrono::steady_clock::now() - before;
        REQUIRE(response);
        most = std::max(most, response->cells);
        longest_ms = std::max(longest_ms, took.count());
    }
    WARN("most cells " << most << ", longest " << longest_ms << " ms");
    CHECK(most <= 15000);
}

TEST_CASE("A field's heat through the top is what the response on its grid gives") {
    // The cells' own balance, so that only rounding is left.
    const double wall_k = 14.0, below_k = -9.0;
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto field = floor_field(section, wall_k, below_k);
        const auto response = floor_response_on_grid(section, 0);
        REQUIRE(field);
        REQUIRE(response);
        const FloorGrid grid = floor_grid(section, 0);
        const FloorMaterial material(section);
        REQUIRE(field->x_m.size() == grid.columns());
        REQUIRE(field->y_m.size() == grid.rows());
        const std::size_t last = grid.rows() - 1;
        const double over =
            section.covering_resistance_m2k_w + 1.0 / section.surface_coefficient_w_m2_k;
        double up = 0.0;
        for (std::size_t i = 0; i < grid.columns(); ++i) {
            const double to_top = 0.5 * grid.height(last) /
                                  material.surrounding(grid.centre_x(i), grid.centre_y(last));
            up += 2.0 / section.spacing_m * grid.width(i) * field->at(i, last) / (to_top + over);
        }
        const double expected = response->up[0] * wall_k + response->up[below] * below_k;
        CHECK_THAT(up, WithinRel(expected, 1e-9));
    }
}

TEST_CASE("A field lies between its wall and its space below, and a faulty section has none") {
    for (const FloorSection &section : sections_of_every_kind()) {
        const auto field = floor_field(section, 10.0, -5.0);
        REQUIRE(field);
        const auto [low, high] =
            std::minmax_element(field->above_room_k.begin(), field->above_room_k.end());
        CHECK(*low > -5.0);
        CHECK(*high <= 10.0 + 1e-9);
    }
    CHECK_FALSE(floor_field({}, 10.0, -5.0));
}
