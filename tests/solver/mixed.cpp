// Houses that keep their mixers: loops behind one are sized at what it holds, and rooms get their
// heat there.
#include "solver/questions/mixed.hpp"

#include "networks/network.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/balance.hpp"
#include "solver/questions/commission.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <string>

using namespace headroom;
using Catch::WithinRel;

namespace {

// A boiler at 60 degC, a header, a floor behind a mixer that holds 40 degC, and a radiator.
std::string mixed_house(const std::string &floors = "", const std::string &manifold = "") {
    return R"(
house: mixed
design_day: {outdoor: -3 degC}
water: plain
rooms:
  a: {indoor: 20 degC, loss: 700 W}
  b: {indoor: 20 degC, loss: 450 W}
  c: {indoor: 18 degC, loss: 800 W}
)" + floors +
           R"(
source:
  kind: boiler
  flow_temperature: 60 degC
  drop: 15 K
  circulator: {states: gross, model: generic 6 m, mode: fixed_speed}
  inner: [{name: exchanger, loss: 9 kPa, at_flow: 1 m3/h}]
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 4 m}
  - run: floor feed
    from: header
    to: manifold
    pipe: copper 22
    length: 5 m
    mixer: {kv: 4 m3/h, set: 40 degC}
    pump: {model: generic 6 m, mode: constant_pressure, setting: 2.5 m}
  - run: riser
    from: header
    to: landing
    pipe: copper 15
    length: 6 m
    pump: {model: generic 6 m, mode: constant_pressure, setting: 2 m}
header: {bore: 80 mm, height: 0.6 m}
manifolds:
  manifold:
    drop: 6 K
    valve_kv: 1.1 m3/h
)" + manifold +
           R"(
    loops:
      - {room: a, pipe: pex 16x2, length: 90 m, tails: 6 m}
      - {room: b, pipe: pex 16x2, length: 60 m, tails: 4 m}
radiators:
  - {radiator: c, room: c, from: landing, output: 1500 W, rated_at: 75/65/20, pipe: copper 15, length: 3 m}
)";
}

const std::string screed = R"(
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 80 mm, below: 10 degC}
)";

} // namespace

TEST_CASE("the last mixer on the way is the one that an emitter stands behind") {
    const networks::House house = tests::house_of(mixed_house());
    const auto held_c = solver::temperatures_held_c(house);
    REQUIRE(held_c.size() == 3);
    CHECK(held_c[0] == 40.0);
    CHECK(held_c[1] == 40.0);
    CHECK_FALSE(held_c[2].has_value());
}

TEST_CASE("with its mixer kept a described loop is sized at the water that the mixer sends") {
    const networks::House house =
        tests::house_of(mixed_house(screed, "    floor: screed\n    spacing: 150 mm"));
    const solver::Sizing alone = solver::size(house);
    const solver::Sizing kept = solver::size_as_found(house);
    for (const std::size_t loop : {0U, 1U}) {
        CHECK(alone.emitters[loop].inlet_c == 60.0);
        CHECK(kept.emitters[loop].inlet_c == 40.0);
        CHECK(kept.emitters[loop].flow_kg_s > 3.0 * alone.emitters[loop].flow_kg_s);
        const networks::Emitter &emitter = kept.house.emitters[loop];
        CHECK_THAT(solver::emitter_heat(emitter.emission, kept.house.fluid, 40.0, emitter.indoor_c,
                                        kept.emitters[loop].flow_kg_s)
                       .to_room_w,
                   WithinRel(emitter.room_heat_w, 1e-8));
    }
    CHECK(kept.emitters[2].flow_kg_s == alone.emitters[2].flow_kg_s);
}

TEST_CASE("a loop that is not described gives its room's heat at the water that its mixer sends") {
    // With every valve ideal the flows are the design flows, so each room gets its loss.
    networks::House house = solver::size_as_found(tests::house_of(mixed_house())).house;
    for (networks::Run &run : house.runs)
        if (run.pump)
            run.pump->setting_pa = 40e3;
    const solver::FlowsAnswer answer = solver::flows(solver::with_ideal_balancing(house));
    REQUIRE(answer.outcome.converged());
    REQUIRE(answer.emitters.size() == 3);
    // Heat capacities at two mean temperatures differ by less than 0.2 %.
    CHECK_THAT(answer.emitters[0].heat_w, WithinRel(700.0, 3e-3));
    CHECK_THAT(answer.emitters[1].heat_w, WithinRel(450.0, 3e-3));
}

namespace {

std::string fixed_house(const std::string &position) {
    std::string text = mixed_house();
    const std::string held = "set: 40 degC";
    return text.replace(text.find(held), held.size(), "position: " + position);
}

} // namespace

TEST_CASE(
    "behind a mixer at a fixed position loops are sized at what it mixes of flow and return") {
    const networks::House house = tests::house_of(fixed_house("20 %"));
    const solver::Sizing kept = solver::size_as_found(house);
    REQUIRE(kept.fixed_mixers.size() == 1);
    const solver::FixedMixer &mixer = kept.fixed_mixers[0];
    CHECK(mixer.drop_k == Approx(6.0));
    CHECK(mixer.hot_c == Approx(60.0).margin(1e-6));
    // Heat of the hot water over the boiler's return equals that of all the water over its drop.
    const double back_c = mixer.mixed_c - 6.0;
    CHECK(mixer.hot_share * (60.0 - back_c) == Approx(6.0));
    CHECK(mixer.mixed_c > 26.0);
    CHECK(mixer.mixed_c < 58.0);
    for (const std::size_t loop : {0U, 1U})
        CHECK(kept.house.emitters[loop].inlet_c == Approx(mixer.mixed_c));
    CHECK_FALSE(kept.house.emitters[2].inlet_c.has_value());
}

TEST_CASE("a loop that is not described gives its room's heat at what a fixed mixer mixes") {
    networks::House house = solver::size_as_found(tests::house_of(fixed_house("20 %"))).house;
    for (networks::Run &run : house.runs)
        if (run.pump)
            run.pump->setting_pa = 40e3;
    const solver::FlowsAnswer answer = solver::flows(solver::with_ideal_balancing(house));
    REQUIRE(answer.outcome.converged());
    // The share of hot water with every valve throttled is that of the house as found within some
    // percent: pipes and ports lose nearly, but not quite, as the square of the flow.
    CHECK_THAT(answer.emitters[0].heat_w, WithinRel(700.0, 0.03));
    CHECK_THAT(answer.emitters[1].heat_w, WithinRel(450.0, 0.03));
    REQUIRE(answer.assumed.size() == 2); // and at which end it stands
    CHECK_THAT(answer.assumed[0], Catch::Contains("mixer of run `floor feed`"));
}

TEST_CASE("a mixer open to its hot port mixes nothing in") {
    const solver::Sizing kept = solver::size_as_found(tests::house_of(fixed_house("100 %")));
    REQUIRE(kept.fixed_mixers.size() == 1);
    CHECK(kept.fixed_mixers[0].mixed_c == Approx(60.0).margin(1e-6));
    CHECK(solver::size_as_found(tests::house_of(fixed_house("0 %"))).fixed_mixers.empty());
}

TEST_CASE(
    "the balanced flows of a floor behind a mixer are its heat over its drop, not the source's") {
    const networks::House house = tests::house_of(mixed_house());
    const solver::BalanceAnswer answer = solver::balance(house, solver::BalanceScope::AsDrawn);
    REQUIRE(answer.outcome.converged());
    // 700 W over 6 K, 4179 J/(kg K) and 993 kg/m3 at 37 degC [IAPWS, from memory].
    CHECK_THAT(answer.valves[0].design_m3_s, WithinRel(700.0 / (6.0 * 4179.0 * 993.0), 2e-3));
}

TEST_CASE("pump says what each pump of a header house has to do, and what the header then passes") {
    const networks::House house = tests::house_of(mixed_house());
    const solver::PumpAnswer answer = solver::pumps(house);
    const solver::BalanceAnswer balanced = solver::balance(house, solver::BalanceScope::AsDrawn);
    REQUIRE(answer.needs.size() == balanced.pumps.size());
    for (std::size_t i = 0; i < answer.needs.size(); ++i) {
        CHECK(answer.needs[i].name == balanced.pumps[i].name);
        CHECK(answer.needs[i].flow_m3_s == balanced.pumps[i].flow_m3_s);
        CHECK(answer.needs[i].setting == balanced.pumps[i].setting);
        CHECK(answer.needs[i].needed_pa.has_value() == (balanced.pumps[i].emitters > 0));
    }
    REQUIRE(answer.header_set.has_value());
    REQUIRE(answer.header.has_value());
    CHECK(answer.header_set->secondary_m3_s < answer.header->secondary_m3_s);
    // What the header's other side draws is the heat over its drop, by the circuits as set.
    const solver::HeaderFlows &header = *answer.header_set;
    const double heat_w = header.secondary_m3_s * 983.0 * 4185.0 *
                          (header.secondary_flow_c - header.secondary_return_c);
    CHECK_THAT(heat_w, WithinRel(700.0 + 450.0 + 800.0, 1e-2));
}

TEST_CASE("a screed is warmed up with the water that its mixer sends") {
    const solver::CommissionAnswer answer = solver::commission(tests::house_of(mixed_house()));
    for (const solver::ScreedStep &step : answer.screed)
        CHECK(step.water_c <= 40.0);
}

TEST_CASE("valves are set with the circulator turned down, the most throttled first") {
    // The order that `balance` works out: the surplus of the others rises as one is throttled.
    const solver::CommissionAnswer answer =
        solver::commission(tests::example_house("direct-16mm.yaml"));
    const auto step = [&](const std::string &words) {
        for (std::size_t i = 0; i < answer.order.size(); ++i)
            if (answer.order[i].find(words) != std::string::npos)
                return i;
        return answer.order.size();
    };
    CHECK(step("turn the circulator down") < step("throttled most"));
    CHECK(step("throttled most") < answer.order.size());
    CHECK(step("throttled most to the index") < answer.order.size());
}

TEST_CASE("a mixer whose end the file does not state is assumed at the run's `to` end, by name") {
    std::string text = tests::example_text("header-three-pumps.yaml");
    const std::string stated = "mixer: {kv: 4 m3/h, position: 45 %";
    text.replace(text.find(stated), stated.size(), stated + ", end: from");
    const auto words = solver::assumed_mixer_ends(tests::house_of(text));
    REQUIRE(words.size() == 1);
    CHECK_THAT(words[0], Catch::Contains("mixer and pump of `back floor feed`: at the `to` end"));
    text.replace(text.rfind(stated), stated.size(), stated + ", end: to");
    CHECK(solver::assumed_mixer_ends(tests::house_of(text)).empty());
    const solver::PumpAnswer pumps = solver::pumps(tests::example_house("header-three-pumps.yaml"));
    CHECK_THAT(pumps.assumed.back(), Catch::Contains("`front floor feed`, `back floor feed`"));
}

TEST_CASE("a mixer without a running pump between it and its emitters is known") {
    const auto house = tests::example_house("header-three-pumps.yaml");
    CHECK(solver::mixers_without_pump(house).empty());
    networks::House stopped = house;
    stopped.runs[2].pump->mode = networks::PumpMode::Stopped;
    CHECK(solver::mixers_without_pump(stopped) == std::vector<std::size_t>{2});
}

TEST_CASE("a mixer of little authority over its run's pipes is warned of where pumps are told") {
    // At a twelfth of its Kv a mixer loses 150 times as much: from a few per cent to most.
    const auto warnings = [](const std::string &kv) {
        std::string text = tests::example_text("header-protected.yaml");
        for (std::size_t at = text.find("mixer: {kv: "); at != std::string::npos;
             at = text.find("mixer: {kv: ", at + 1))
            text.replace(at + 12, text.find(' ', at + 12) - at - 12, kv);
        int count = 0;
        for (const std::string &remark : solver::pumps(tests::house_of(text)).remarks)
            count +=
                remark.find("below the 30 % from which a mixer steers well") != std::string::npos
                    ? 1
                    : 0;
        return count;
    };
    CHECK(warnings("10") > 0);
    CHECK(warnings("0.8") == 0);
}
