#include "models/room_loss.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;

TEST_CASE("an element to an unheated space loses its temperature factor's share") {
    CHECK(element_loss_w({10.0, 0.5, 0.4}, 20.0, -5.0) == Approx(10.0 * 0.5 * 0.4 * 25.0));
}

TEST_CASE("a known temperature beyond an element replaces the factor") {
    CHECK(element_loss_w({10.0, 0.5, 1.0, 16.0}, 20.0, -5.0) == Approx(10.0 * 0.5 * 4.0));
}

TEST_CASE("a warmer neighbour gives heat") {
    CHECK(element_loss_w({10.0, 0.5, 1.0, 22.0}, 20.0, -5.0) < 0.0);
}

TEST_CASE("thermal bridges add to the U-value") {
    CHECK(element_loss_w({10.0, 0.5, 1.0, {}, 0.1}, 20.0, 0.0) == Approx(10.0 * 0.6 * 20.0));
}

TEST_CASE("the British air figure is two per cent below the standard's") {
    CHECK(air_loss_w(1.0, 100.0, 20.0, 0.0, air_heat_british) / air_loss_w(1.0, 100.0, 20.0, 0.0) ==
          Approx(1.0 / 1.02).epsilon(1e-3));
}

TEST_CASE("a tightness of 10 at 50 Pa on a sheltered site is half an air change") {
    CHECK(infiltration_changes_per_h(10.0, 0.05) == Approx(0.5));
}
