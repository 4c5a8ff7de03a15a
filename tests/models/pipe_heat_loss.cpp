#include "models/pipe_heat_loss.hpp"

#include "models/units.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using models::pipe_transmittance_w_m_k;
using models::PipeWall;

namespace {

constexpr PipeWall copper_22{0.0202, 0.0009, 393.0};

PipeWall insulated(PipeWall pipe, double thickness_m, double conductivity_w_m_k) {
    pipe.insulation_m = thickness_m;
    pipe.insulation_w_m_k = conductivity_w_m_k;
    return pipe;
}

} // namespace

// A teaching exercise of heat transfer: steel pipe 106/100 mm (17 W/(m K)) with 50 mm of foam
// (0.033 W/(m K)), water at 130 degC, air at -5 degC, 10 W/(m2 K) outside and 4500 inside; the
// printed answer is about 40.2 W/m. The outside coefficient here is another, so that it is taken
// out again.
TEST_CASE("a steel pipe in 50 mm of foam loses the 40.2 W/m of a printed exercise") {
    const PipeWall pipe = insulated({0.100, 0.003, 17.0}, 0.050, 0.033);
    const double surface_m = 0.206;
    const double ours = 1.0 / (models::pi * surface_m * models::insulated_surface_w_m2k);
    const double theirs = 1.0 / (models::pi * surface_m * 10.0) + 1.0 / (models::pi * 0.1 * 4500.0);
    const double resistance = 1.0 / pipe_transmittance_w_m_k(pipe) - ours + theirs;
    CHECK(135.0 / resistance == Approx(40.2).margin(0.05)); // as printed
}

TEST_CASE("a bare copper pipe loses what its surface gives to the air") {
    CHECK(pipe_transmittance_w_m_k(copper_22) ==
          Approx(models::pi * 0.022 * models::bare_surface_w_m2k).epsilon(1e-3)); // copper's wall
}

TEST_CASE("a plastic wall holds back more than copper of the same outside") {
    CHECK(pipe_transmittance_w_m_k({0.012, 0.002, 0.35}) <
          0.95 * pipe_transmittance_w_m_k({0.0136, 0.0012, 393.0}));
}

TEST_CASE("insulation cuts the loss of a copper pipe, the more the thicker it is") {
    double before = pipe_transmittance_w_m_k(copper_22);
    for (const double thickness : {0.009, 0.013, 0.019, 0.025, 0.040}) {
        const double now = pipe_transmittance_w_m_k(insulated(copper_22, thickness, 0.035));
        CHECK(now < before);
        before = now;
    }
    // ln(60/22)/(2 pi 0.035) + 1/(pi 0.060 8) = 4.5621 + 0.6631 m K/W, by hand; the wall is
    // nothing.
    CHECK(pipe_transmittance_w_m_k(insulated(copper_22, 0.019, 0.035)) ==
          Approx(1.0 / (4.5621 + 0.6631)).epsilon(2e-4));
}
