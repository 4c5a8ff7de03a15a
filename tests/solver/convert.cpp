// A conversion against the questions it is made of and figures by hand.
#include "solver/questions/convert.hpp"

#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom;
using namespace headroom::solver;

namespace {

SearchLimits no_search() {
    SearchLimits limits;
    limits.most_judged = 0;
    return limits;
}

ConvertAnswer mill_house(const std::string &proposal, const SearchLimits &limits) {
    const networks::House base = tests::example_house("conversion.yaml");
    const Conversion conversion = converted_house(base, proposal);
    REQUIRE(conversion.house);
    return convert(base, *conversion.house, limits);
}

} // namespace

TEST_CASE("the first proposal with a heat pump is what a house is converted to") {
    const networks::House base = tests::example_house("conversion.yaml");
    const Conversion conversion = converted_house(base, "");
    REQUIRE(conversion.house);
    CHECK(conversion.house->name == "Mill House, heat pump");
    CHECK_FALSE(converted_house(tests::example_house("header-three-pumps.yaml"), "").house);
}

TEST_CASE("a conversion names the header, pumps and mixers it takes out") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    CHECK(answer.taken_out == std::vector<std::string>{"the header", "the pump of run `floor feed`",
                                                       "the mixer of run `floor feed`",
                                                       "the pump of run `riser`"});
}

TEST_CASE(
    "a conversion that lacks least flow is feasible only after changes, with larger radiators "
    "as it is") {
    CHECK(mill_house("heat pump", {}).feasible == Feasible::AfterChanges);
    const ConvertAnswer larger = mill_house("heat pump, larger radiators", no_search());
    CHECK(larger.feasible == Feasible::Yes);
    CHECK(larger.reasons.empty());
}

TEST_CASE("without a search for changes a failing conversion is not feasible") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    CHECK(answer.feasible == Feasible::No);
    CHECK_FALSE(answer.reasons.empty());
}

TEST_CASE("a run's velocity is its flow over its bore's area") {
    // Copper 22x0.9: bore 20.2 mm, area 3.2047e-4 m2; 1 l/min is 1.6667e-5 m3/s.
    const ConvertAnswer answer = mill_house("heat pump, larger radiators", no_search());
    REQUIRE(answer.runs.size() == 3);
    for (const ConvertRun &run : answer.runs) {
        CHECK(run.velocity_m_s == Approx(run.flow_l_min * 1.66667e-5 / 3.2047e-4).epsilon(1e-4));
        CHECK(run.within);
    }
    // What the primaries carry is what the two circuits take.
    CHECK(answer.runs[0].flow_l_min ==
          Approx(answer.runs[1].flow_l_min + answer.runs[2].flow_l_min).epsilon(0.005));
}

TEST_CASE("a run of no length loses nothing for each metre and is within any limit of that") {
    networks::House base = tests::example_house("conversion.yaml");
    networks::House house = *converted_house(base, "heat pump, larger radiators").house;
    for (networks::House *each : {&base, &house}) {
        each->runs[0].flow.length_m = 0.0;
        each->runs[0].back.length_m = 0.0;
    }
    const ConvertAnswer answer = convert(base, house, no_search());
    REQUIRE(answer.runs.size() == 3);
    CHECK(answer.runs[0].loss_pa_m == 0.0);
    CHECK(answer.runs[0].within);
}

TEST_CASE("a run beyond the stated limits is renewed in the narrowest pipe that keeps them") {
    networks::House base = tests::example_house("conversion.yaml");
    networks::House house = *converted_house(base, "heat pump, larger radiators").house;
    house.pipe_limits.velocity_m_s = 0.2;
    house.pipe_limits.loss_pa_m = 300.0;
    const ConvertAnswer answer = convert(base, house, no_search());
    CHECK(answer.driven.verdict == Verdict::Yes);
    CHECK(answer.feasible == Feasible::AfterChanges);
    REQUIRE(answer.wider_runs);
    CHECK(answer.enough_with_wider_runs);
    // 0.2 m/s: a flow of V l/min wants a bore of sqrt(4 V/6e4/(0.2 pi)); copper after EN 1057:
    // 28x0.9 has 26.2 mm, 35x1.2 32.6 mm (or 35x1 33 mm), 42x1.2 39.6 mm.
    for (const ConvertRun &run : answer.runs) {
        const double bore_m = std::sqrt(4.0 * run.flow_l_min / 6e4 / (0.2 * 3.14159265));
        const std::string words = "run `" + run.name + "` in ";
        const auto change =
            std::find_if(answer.wider_runs->changes.begin(), answer.wider_runs->changes.end(),
                         [&](const std::string &c) { return c.find(words) == 0; });
        INFO(run.name << ", " << run.flow_l_min << " l/min wants " << bore_m * 1e3 << " mm");
        REQUIRE((change != answer.wider_runs->changes.end()) == (bore_m > 0.0202));
        if (change == answer.wider_runs->changes.end())
            continue;
        const auto index = static_cast<std::size_t>(
            std::find_if(house.runs.begin(), house.runs.end(),
                         [&](const networks::Run &r) { return r.name == run.name; }) -
            house.runs.begin());
        networks::PipeChoice pipe = house.runs[index].pipe;
        while (pipe.bore_m < bore_m)
            pipe = *networks::next_larger(house.catalogue, pipe);
        CHECK(*change == words + pipe.name);
    }
}

TEST_CASE("limits that no pipe of the catalogue keeps make a conversion not feasible") {
    networks::House base = tests::example_house("conversion.yaml");
    networks::House house = *converted_house(base, "heat pump, larger radiators").house;
    house.pipe_limits.velocity_m_s = 0.001;
    const ConvertAnswer answer = convert(base, house, {});
    REQUIRE(answer.wider_runs);
    CHECK(answer.wider_runs->changes.empty());
    CHECK(answer.feasible == Feasible::No);
}

TEST_CASE("a heat pump's open volume is wanted by its output where the file does not say") {
    // 15 l for each kW (common practice): the pump gives 5.5 kW at these temperatures.
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    REQUIRE(answer.wanted_volume.low_m3);
    CHECK(answer.least_flow_l_min.value() == Approx(6.0)); // of the file, as is
    REQUIRE(answer.converted.heat);
    CHECK(*answer.wanted_volume.low_m3 ==
          Approx(15e-6 * answer.converted.heat->greatest_w).epsilon(1e-3));
}

TEST_CASE("header, pumps and mixers that a file keeps are shown beside the verdict") {
    networks::House base = tests::example_house("conversion.yaml");
    networks::House kept = base;
    kept.source = converted_house(base, "heat pump").house->source;
    const ConvertAnswer answer = convert(base, kept, no_search());
    REQUIRE(answer.driven.beside.size() == 2);
    CHECK(answer.driven.beside[1].what.find("header kept") != std::string::npos);
    CHECK(mill_house("heat pump", no_search()).driven.beside.empty());
}

TEST_CASE("every emitter takes the one flow temperature, set by the most demanding") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    double warmest_c = 0.0;
    for (const HeatRow &row : answer.driven.heat)
        warmest_c = std::max(warmest_c, row.own_flow_c);
    CHECK(answer.converted.flow_temperature_c == Approx(warmest_c));
}

TEST_CASE("a heat pump's season takes less energy than the boiler it replaces") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    REQUIRE(answer.found.gas_kwh);
    REQUIRE(answer.converted.electricity_kwh);
    CHECK(*answer.converted.electricity_kwh < *answer.found.gas_kwh);
    CHECK(*answer.converted.gas_kwh == 0.0);
}

namespace {

// Three old radiators on microbore, each too small for water at 50 degC.
const std::string small_radiators = R"(
house: old radiators
design_day: {outdoor: -3 degC}
rooms:
  a: {indoor: 21 degC, loss: 900 W}
  b: {indoor: 18 degC, loss: 700 W}
  c: {indoor: 18 degC, loss: 500 W}
source:
  kind: boiler
  flow_temperature: 70 degC
  drop: 11 K
  circulator: {states: gross, model: generic 6 m, mode: fixed_speed}
  inner: [{name: exchanger, loss: 9 kPa, at_flow: 1 m3/h}]
pipework:
  - {run: main, from: source, to: block, pipe: copper 22, length: 8 m, existing: yes}
radiators:
  - {radiator: a, room: a, from: block, pipe: copper 10x0.7, length: 7 m, existing: yes, output: 1500 W, rated_at: 75/65/20}
  - {radiator: b, room: b, from: block, pipe: copper 8, length: 5 m, existing: yes, output: 1100 W, rated_at: 75/65/20}
  - {radiator: c, room: c, from: block, pipe: copper 8, length: 6 m, existing: yes, output: 800 W, rated_at: 75/65/20}
proposals:
  heat pump:
    source:
      replace: yes
      kind: heat_pump
      flow_temperature: 50 degC
      drop: 5 K
      performance: [[-7 degC, 35 degC, 4.4 kW, 2.8], [-7 degC, 55 degC, 4 kW, 2], [7 degC, 35 degC, 5 kW, 4.4], [7 degC, 55 degC, 4.7 kW, 2.9]]
      circulator: {states: external, curve: [[0 m3/h, 75 kPa], [1 m3/h, 62 kPa], [2 m3/h, 22 kPa]]}
)";

} // namespace

TEST_CASE("radiators too small for the water say by how much, and larger ones make it a yes") {
    const networks::House house = tests::house_of(small_radiators);
    const ConvertAnswer answer = convert(house, *house.proposals[0].house, {});
    REQUIRE(answer.driven.heat.size() == 3);
    for (const solver::HeatRow &row : answer.driven.heat) {
        CHECK_FALSE(row.reaches);
        REQUIRE(row.rated_needed_w);
        // Its water falls by the design drop, less what it does not give.
        CHECK(row.drop_k == Approx(5.0 * (row.room_w - row.short_w) / row.room_w).epsilon(0.013));
    }
    // The pipes carry the flows, so nothing but heat speaks against it.
    CHECK(answer.driven.headroom_pa > 0.0);
    REQUIRE(answer.driven.changes);
    const auto &sets = answer.driven.changes->sets;
    CHECK(std::any_of(sets.begin(), sets.end(), [](const ChangeSet &set) {
        return set.changes.size() == 1 && set.changes[0].starts_with("3 larger radiators");
    }));
}

TEST_CASE("what a house with larger radiators still lacks is sought with them in") {
    std::string text = small_radiators;
    const std::string with = "      drop: 5 K\n      performance";
    const std::size_t at = text.find(with);
    REQUIRE(at != std::string::npos);
    // With radiators that fit, each takes little flow: less than this source needs.
    text.replace(at, with.size(), "      drop: 5 K\n      least_flow: 12 l/min\n      performance");
    const networks::House house = tests::house_of(text);
    const ConvertAnswer answer = convert(house, *house.proposals[0].house, {});
    REQUIRE(answer.driven.changes);
    const auto &sets = answer.driven.changes->sets;
    REQUIRE_FALSE(sets.empty());
    CHECK(sets[0].changes[0].starts_with("3 larger radiators"));
    CHECK(sets[0].changes.size() >= 2);
}
