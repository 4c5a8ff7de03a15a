// Radiators, fan convectors and towel rails as the file describes them, and floors by what stands
// on them.
#include "models/radiator.hpp"
#include "networks/network.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace headroom;
using networks::Emitter;

namespace {

networks::House with_radiator(const std::string &keys) {
    return tests::house_of(R"(
house: one radiator
water: plain
source:
  kind: heat_pump
  flow_temperature: 45 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework: [{run: feed, from: source, to: hall, pipe: copper 22, length: 5 m}]
radiators: [{radiator: one, heat: 500 W, from: hall, output: 2000 W, rated_at: 75/65/20, )" +
                           keys + "}]\n");
}

const models::Radiator &rating(const networks::House &house) {
    return std::get<models::Radiator>(house.emitters.front().emission);
}

double output_w(const std::string &keys, double excess_k) {
    return models::radiator_output_at_excess_w(rating(with_radiator(keys)), excess_k);
}

} // namespace

TEST_CASE(
    "a radiator's output at the excess of its rating is the rated output times its connection") {
    CHECK(output_w("connection: same_end", 50.0) == Approx(2000.0).epsilon(1e-12));
    CHECK(output_w("connection: 90 %", 50.0) == Approx(1800.0).epsilon(1e-12));
    CHECK(output_w("connection: bottom_ends", 50.0) < 2000.0);
}

TEST_CASE("the connection's share is kept at every flow and temperature") {
    const models::Radiator full = rating(with_radiator("connection: same_end"));
    const models::Radiator less = rating(with_radiator("connection: 80 %"));
    // At 0.8 of the flow the water of the lesser one falls by the same: plug flow, EN 442-2's law.
    for (const double flow : {0.005, 0.02, 0.1})
        CHECK(models::radiator_state(less, 45.0, 20.0, 0.8 * flow, 4180.0).output_w ==
              Approx(0.8 * models::radiator_state(full, 45.0, 20.0, flow, 4180.0).output_w)
                  .epsilon(1e-12));
}

// EN 442-2: output goes with excess^n. Exponents where none is given: common practice, no source.
TEST_CASE("a kind of radiator has its usual exponent, and says that it was assumed") {
    const networks::House panel = with_radiator("kind: radiator");
    const networks::House fan = with_radiator("kind: fan_convector");
    const networks::House rail = with_radiator("kind: towel_rail");
    CHECK(rating(panel).exponent == 1.3);
    CHECK(rating(fan).exponent == 1.0);
    CHECK(rating(rail).exponent == 1.2);
    for (const networks::House *house : {&panel, &fan, &rail})
        CHECK(house->emitters.front().exponent_assumed);
    CHECK_FALSE(with_radiator("exponent: 1.25").emitters.front().exponent_assumed);
    CHECK(networks::emitter_word(fan.emitters.front()) == "fan convector");
    CHECK(networks::emitter_word(rail.emitters.front()) == "towel rail");
}

TEST_CASE("in warm water a fan convector keeps more of its rated output than a panel") {
    // 22.5 K of 50 K: 0.450 of it, and 0.354 of a panel's.
    CHECK(output_w("kind: fan_convector", 22.5) == Approx(900.0).epsilon(1e-12));
    CHECK(output_w("kind: radiator", 22.5) == Approx(708.3).margin(0.1));
}

TEST_CASE("with its fan standing a fan convector gives the share that its maker states") {
    CHECK(output_w("kind: fan_convector, fan: stopped, stopped_share: 15 %", 50.0) ==
          Approx(300.0).epsilon(1e-12));
    CHECK(output_w("kind: fan_convector, fan: running, stopped_share: 15 %", 50.0) ==
          Approx(2000.0).epsilon(1e-12));
}

namespace {

std::optional<double> surface_limit(const std::string &manifold, const std::string &loop) {
    return tests::house_of(R"(
house: one loop
water: plain
source:
  kind: heat_pump
  flow_temperature: 40 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework: [{run: feed, from: source, to: manifold, pipe: copper 22, length: 5 m}]
manifolds:
  manifold:
)" + manifold + R"(
    loops: [{loop: one, heat: 500 W, pipe: pex 16x2, length: 70 m)" +
                           loop + "}]\n")
        .emitters.front()
        .surface_limit_c;
}

} // namespace

TEST_CASE("a floor's surface limit follows from who stands on it, unless one is stated") {
    // EN 1264-2: 29 degC where people stay, 33 in bathrooms, 35 along the edge.
    CHECK(surface_limit("", ", surface: occupied") == 29.0);
    CHECK(surface_limit("", ", surface: bathroom") == 33.0);
    CHECK(surface_limit("", ", surface: edge") == 35.0);
    CHECK(surface_limit("    surface: edge", "") == 35.0);
    CHECK(surface_limit("    surface: edge", ", surface: occupied") == 29.0);
    CHECK(surface_limit("", ", surface: edge, surface_limit: 27 degC") == 27.0);
    CHECK(surface_limit("    surface_limit: 28 degC", ", surface: edge") == 35.0);
    CHECK_FALSE(surface_limit("", "").has_value());
}

TEST_CASE("radiators of one room share its loss by their output") {
    // EN 442 with n = 1.3 and the arithmetic excess: ratings at 50 K and at 30 K of it. With the
    // water 30 K above the room 1700 (30/50)^1.3 = 875.1 W and 1300 W.
    const networks::House house = tests::house_of(
        "house: two\nrooms: {a: {indoor: 20 degC, loss: 1500 W}}\n"
        "source: {kind: boiler, flow_temperature: 70 degC, drop: 10 K, circulator: {states: "
        "external, curve: [[0 m3/h, 6 m], [2 m3/h, 1 m]]}}\n"
        "pipework: [{run: main, from: source, to: hall, pipe: copper 22, length: 5 m}]\n"
        "radiators:\n"
        "  - {radiator: one, room: a, from: hall, output: 1700 W, rated_at: 75/65/20}\n"
        "  - {radiator: two, room: a, from: hall, output: 1300 W, rated_at: 55/45/20}\n");
    REQUIRE(house.emitters.size() == 2);
    const double one = 1700.0 * std::pow(30.0 / 50.0, 1.3);
    const double two = 1300.0;
    CHECK(house.emitters[0].room_heat_w == Approx(1500.0 * one / (one + two)).epsilon(1e-9));
    CHECK(house.emitters[1].room_heat_w == Approx(1500.0 * two / (one + two)).epsilon(1e-9));
}

TEST_CASE("radiators of one room share its loss by what their connections leave of their outputs") {
    const networks::House house = tests::house_of(R"(
house: shared
water: plain
rooms: {study: {indoor: 20 degC, loss: 600 W}}
source:
  kind: heat_pump
  flow_temperature: 45 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework: [{run: feed, from: source, to: hall, pipe: copper 22, length: 5 m}]
radiators:
  - {radiator: one, room: study, from: hall, output: 3000 W, rated_at: 75/65/20, connection: 50 %}
  - {radiator: two, room: study, from: hall, output: 3000 W, rated_at: 75/65/20}
)");
    CHECK(house.emitters[0].room_heat_w == Approx(200.0).epsilon(1e-12));
    CHECK(house.emitters[1].room_heat_w == Approx(400.0).epsilon(1e-12));
}
