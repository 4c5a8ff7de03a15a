// The heat that water and screed take up between a source's off and on, worked out by hand.
#include "solver/questions/cycle_store.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using networks::Emitter;
using networks::House;

namespace {

Emitter emitter(Emitter::Kind kind, double bore_m, double length_m) {
    Emitter out;
    out.kind = kind;
    out.pipe.bore_m = bore_m;
    out.length_m = length_m;
    return out;
}

Emitter floor_loop(double area_m2, double cover_m, bool dry) {
    Emitter out = emitter(Emitter::Kind::FloorLoop, 0.0, 0.0);
    networks::FloorPart part;
    part.area_m2 = area_m2;
    part.section.cover_m = cover_m;
    part.section.pipe.outside_diameter_m = 0.016;
    if (dry)
        part.section.board = models::GrooveBoard{0.03, 0.035, 0.026, {}};
    out.emission = part;
    return out;
}

} // namespace

TEST_CASE("The water that cycles is what the house holds and what is added to it") {
    House house;
    house.cycle_store.water_swing_k = 6.0;
    // Water at 40 degC: 992.2 kg/m3 and 4179 J/(kg K) in IAPWS-95 tables, from memory; they are
    // rounded to 0.05 %.
    const double j_m3 = 992.2 * 4179.0 * 6.0;
    CHECK(solver::stored_heat(house, 0.014, 40.0).water_j == Approx(0.014 * j_m3).epsilon(1e-3));
    house.fill = networks::Fill{};
    house.fill->other_m3 = 0.02; // the source's, as `fill` has it
    CHECK(solver::stored_heat(house, 0.014, 40.0).water_j == Approx(0.034 * j_m3).epsilon(1e-3));
    house.cycle_store.added_water_m3 = 0.05; // said for this very purpose
    CHECK(solver::stored_heat(house, 0.014, 40.0).water_j == Approx(0.064 * j_m3).epsilon(1e-3));
}

TEST_CASE("Screed stores over its pipe and the pipe's own height, a dry floor over it alone") {
    House house;
    house.emitters = {floor_loop(20.0, 0.045, false), floor_loop(12.0, 0.025, true)};
    house.cycle_store.floor_swing_k = 0.5;
    const solver::StoredHeat stored = solver::stored_heat(house, 0.0, 35.0);
    CHECK(stored.screed_m3 == Approx(20.0 * (0.045 + 0.016) + 12.0 * 0.025).epsilon(1e-12));
    // 2.0 MJ/(m3 K), common practice, no source.
    CHECK(stored.floor_j == Approx(stored.screed_m3 * 2.0e6 * 0.5).epsilon(1e-12));
    CHECK(stored.water_j == 0.0);
}
