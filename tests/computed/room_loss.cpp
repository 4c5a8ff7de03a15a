// A worked problem without a printed answer (12 x 8 m house, eaves 4 m, ridge 7 m, rafters 5 m),
// worked here by hand.
#include "models/room_loss.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;

TEST_CASE("a gabled house loses what its elements add up to") {
    const double windows = 2.0 * 1.8 * 0.6;
    const double walls = 2.0 * (12.0 + 8.0) * 4.0 + 8.0 * 3.0 - windows;
    CHECK(element_loss_w({12.0 * 8.0, 0.3}, 18.0, 2.0) == Approx(460.8).epsilon(1e-6));
    CHECK(element_loss_w({walls, 0.4}, 18.0, 2.0) == Approx(1163.776).epsilon(1e-6));
    CHECK(element_loss_w({windows, 2.8}, 18.0, 2.0) == Approx(96.768).epsilon(1e-6));
    CHECK(element_loss_w({2.0 * 12.0 * 5.0, 0.5}, 18.0, 2.0) == Approx(960.0).epsilon(1e-6));
    // 1200 J/(m3 K) is a third of a Wh.
    CHECK(air_loss_w(3.0, 12.0 * 8.0 * 5.5, 18.0, 2.0, air_heat_british) ==
          Approx(8448.0).epsilon(1e-6));
}
