#include "solver/questions/size.hpp"

#include "networks/network.hpp"
#include "solver/heat/emission.hpp"
#include "solver/questions/balance.hpp"
#include "solver/questions/drill.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/season.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>
#include <string>
#include <utility>

using namespace headroom;

namespace {

// Two rooms with described floors and one with a radiator, on one circulator.
std::string described(const std::string &flow_temperature = "",
                      const std::string &outdoor = "-3 degC") {
    return R"(
house: described
water: plain
design_day: {outdoor: )" +
           outdoor + R"(}
rooms:
  a: {indoor: 20 degC, loss: 600 W}
  b: {indoor: 20 degC, loss: 350 W}
  c: {indoor: 18 degC, loss: 500 W}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.05 m2 K/W, insulation: 80 mm, below: 10 degC}
source:
  kind: heat_pump
  drop: 5 K
)" + flow_temperature +
           R"(
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 5 m}
manifolds:
  manifold:
    floor: screed
    spacing: 150 mm
    flow_limit: 60 degC
    loops:
      - {room: a, pipe: pex 16x2, length: 80 m, tails: 6 m}
      - {room: b, pipe: pex 16x2, length: 70 m, tails: 4 m}
radiators:
  - {radiator: c, room: c, from: manifold, output: 1600 W, rated_at: 75/65/20}
)";
}

} // namespace

TEST_CASE("without a stated flow temperature the neediest emitter sets it at its design drop") {
    const solver::Sizing sizing = solver::size(tests::house_of(described()));
    REQUIRE(sizing.temperature_computed);
    REQUIRE(sizing.emitters.size() == 3);
    double highest = 0.0;
    for (const solver::SizedEmitter &row : sizing.emitters)
        highest = std::max(highest, row.own_flow_c);
    CHECK(sizing.house.source->flow_temperature_c == highest);
    for (const solver::SizedEmitter &row : sizing.emitters)
        if (sizing.house.emitters[row.emitter].name == sizing.set_by)
            CHECK(row.drop_k == Approx(5.0).epsilon(1e-4)); // heat capacities at two means
        else
            CHECK(row.drop_k > 5.0);
}

TEST_CASE("every emitter gives its room's heat at the house's flow temperature") {
    const solver::Sizing sizing = solver::size(tests::house_of(described()));
    for (const solver::SizedEmitter &row : sizing.emitters) {
        const networks::Emitter &emitter = sizing.house.emitters[row.emitter];
        CHECK(row.reaches);
        CHECK(solver::emitter_heat(emitter.emission, sizing.house.fluid,
                                   sizing.house.source->flow_temperature_c, emitter.indoor_c,
                                   row.flow_kg_s)
                  .to_room_w == Approx(emitter.room_heat_w).epsilon(1e-8));
    }
}

TEST_CASE("the network's design flow is the flow that was sized") {
    const solver::Sizing sizing = solver::size(tests::house_of(described()));
    for (const solver::SizedEmitter &row : sizing.emitters)
        CHECK(networks::design_flow_kg_s(sizing.house, sizing.house.emitters[row.emitter]) ==
              Approx(row.flow_kg_s).epsilon(1e-9));
}

TEST_CASE("warmer water than needed means less flow") {
    const solver::Sizing needed = solver::size(tests::house_of(described()));
    const solver::Sizing warmer =
        solver::size(tests::house_of(described("  flow_temperature: 50 degC")));
    CHECK_FALSE(warmer.temperature_computed);
    for (std::size_t i = 0; i < needed.emitters.size(); ++i)
        CHECK(warmer.emitters[i].flow_kg_s < needed.emitters[i].flow_kg_s);
}

TEST_CASE(
    "no emitter is left a larger drop than the source's greatest, nor more flow than for it") {
    const solver::Sizing least =
        solver::size(tests::house_of(described("  flow_temperature: 50 degC")));
    const solver::Sizing more = solver::size(
        tests::house_of(described("  flow_temperature: 50 degC\n  greatest_drop: 7 K")));
    for (std::size_t i = 0; i < least.emitters.size(); ++i) {
        const solver::SizedEmitter &given = least.emitters[i], &taken = more.emitters[i];
        REQUIRE(given.drop_k > 7.0); // each would do with less flow
        CHECK(taken.drop_k == 7.0);
        CHECK(taken.water_w == Approx(given.water_w).epsilon(1e-9)); // that its room asks for
        const double c =
            models::fluid_state(more.house.fluid, taken.inlet_c - 3.5).heat_capacity_j_kg_k;
        CHECK(taken.flow_kg_s == Approx(taken.water_w / (c * 7.0)).epsilon(1e-9));
        CHECK(networks::design_flow_kg_s(more.house, more.house.emitters[taken.emitter]) ==
              Approx(taken.flow_kg_s).epsilon(1e-9));
        // More flow of the same water gives more heat, and warms a floor more.
        CHECK(given.gives_w == Approx(given.room_w).epsilon(1e-6));
        CHECK(taken.gives_w > given.gives_w);
        CHECK(taken.surface_c >= given.surface_c);
    }
}

TEST_CASE("the load with a greatest drop is still what the rooms ask for") {
    const double least =
        solver::drive(tests::house_of(described("  flow_temperature: 50 degC"))).load_w;
    const solver::DriveAnswer more = solver::drive(
        tests::house_of(described("  flow_temperature: 50 degC\n  greatest_drop: 7 K")));
    CHECK(more.load_w ==
          Approx(least).epsilon(2e-3)); // the floors' downward share differs a little
    CHECK(std::any_of(more.remarks.begin(), more.remarks.end(), [](const std::string &remark) {
        return remark.starts_with("a greatest drop of 7 K gives loops and radiators more flow");
    }));
}

TEST_CASE("a greatest drop below the design drop lets the water be cooler") {
    const double own = solver::size(tests::house_of(described())).needed_c;
    const solver::Sizing less = solver::size(tests::house_of(described("  greatest_drop: 3 K")));
    // The neediest has its mean water as before: some half of the two kelvins lower.
    CHECK(less.needed_c == Approx(own - 1.0).margin(0.1));
    for (const solver::SizedEmitter &row : less.emitters)
        CHECK(row.drop_k <= 3.0 * (1.0 + 1e-9));
}

TEST_CASE("water too cold for a room is a no that names the room's emitter and its need") {
    const std::string text = described("  flow_temperature: 27 degC");
    const solver::Sizing sizing = solver::size(tests::house_of(text));
    CHECK(std::any_of(sizing.emitters.begin(), sizing.emitters.end(),
                      [](const solver::SizedEmitter &row) { return !row.reaches; }));
    const solver::DriveAnswer answer = solver::drive(tests::house_of(text));
    CHECK(answer.verdict == solver::Verdict::No);
    CHECK(std::any_of(answer.reasons.begin(), answer.reasons.end(), [](const std::string &reason) {
        return reason.find("cannot heat the rooms of 3") != std::string::npos;
    }));
}

TEST_CASE("water is sought no warmer than the source can send it, stated or as is usual") {
    const auto house = [](const std::string &limit) {
        std::string text = described(limit);
        const std::string rating = "output: 1600 W";
        text.replace(text.find(rating), rating.size(), "output: 200 W");
        return tests::house_of(text);
    };
    for (const auto &[limit, highest_c] :
         {std::pair{"", 60.0}, std::pair{"  highest_temperature: 52 degC", 52.0}}) {
        const solver::Sizing sizing = solver::size(house(limit));
        CHECK(sizing.temperature_computed);
        CHECK(sizing.needed_c > 100.0);
        CHECK(sizing.house.source->flow_temperature_c == highest_c);
        const solver::DriveAnswer answer = solver::drive(house(limit));
        CHECK(answer.verdict == solver::Verdict::No);
        CHECK_THAT(answer.sentence, Catch::Contains("cannot heat the room of `c`"));
        REQUIRE_FALSE(answer.remarks.empty());
        CHECK_THAT(answer.remarks.front(),
                   Catch::Contains(fmt::format("{:g} degC at most", highest_c)));
        CHECK(std::any_of(answer.assumed.begin(), answer.assumed.end(),
                          [](const solver::AssumptionRow &row) {
                              return row.what.find("highest flow temperature") == 0;
                          }) == (highest_c == 60.0));
    }
}

TEST_CASE("a floor over its surface limit is a no") {
    std::string text = described();
    text.replace(text.find("loss: 600 W"), 11, "loss: 1500 W");
    const solver::DriveAnswer answer = solver::drive(tests::house_of(text));
    CHECK(answer.verdict == solver::Verdict::No);
    CHECK(std::any_of(answer.reasons.begin(), answer.reasons.end(), [](const std::string &reason) {
        return reason.find("the floor over `a 1` would reach") != std::string::npos;
    }));
}

TEST_CASE("a floor over its limit needs more floor or another emitter; a bathroom may be warmer") {
    // Of `a 1`'s floor with a room loss and what its loop says of its surface.
    const auto reason = [](const std::string &loss, const std::string &surface) {
        std::string text = described();
        text.replace(text.find("loss: 600 W"), 11, "loss: " + loss);
        text.replace(text.find("room: a,"), 8, "room: a, " + surface);
        for (const std::string &words : solver::drive(tests::house_of(text)).reasons)
            if (words.find("the floor over `a 1` would reach") != std::string::npos)
                return words;
        return std::string("no such reason");
    };
    const std::string warm = reason("1250 W", "");
    CHECK_THAT(warm, Catch::Contains("a larger share of the room's floor, or another emitter"));
    CHECK_THAT(warm, !Catch::Contains("closer pipes")); // at the same length they are hotter
    CHECK_THAT(warm, Catch::Contains("its limit is 29 degC") &&
                         Catch::Contains("`surface: bathroom` on its loop states the limit of 33"));
    CHECK(reason("1250 W", "surface: bathroom,") == "no such reason");
    // Neither above a bathroom's limit, nor where the file states another limit, does that help.
    CHECK_THAT(reason("3000 W", ""), !Catch::Contains("bathroom"));
    CHECK_THAT(reason("1250 W", "surface_limit: 27 degC,"), !Catch::Contains("bathroom"));
}

TEST_CASE("rooms settle where output meets loss and give their self-regulation") {
    const networks::House house = tests::house_of(described("  flow_temperature: 45 degC"));
    const solver::FlowsAnswer answer = solver::flows(house);
    REQUIRE(answer.outcome.converged());
    REQUIRE(answer.rooms.size() == 3);
    for (const solver::RoomTemperatureRow &row : answer.rooms) {
        const auto room = std::find_if(house.rooms.begin(), house.rooms.end(),
                                       [&](const networks::Room &r) { return r.name == row.room; });
        // Loss grows with the difference to outside, -3 degC.
        CHECK(row.heat_w ==
              Approx(room->loss_w * (row.reached_c + 3.0) / (room->indoor_c + 3.0)).epsilon(1e-8));
        // Valves stand open at 45 degC, so rooms get more than they need.
        CHECK(row.reached_c > row.wanted_c);
        CHECK(row.falls_share_per_k > 0.0);
    }
}

TEST_CASE("water that is only just warm enough leaves rooms at their temperature") {
    // The design state itself: limiters at the design flow in a house at its needed temperature.
    networks::House house = solver::size(tests::house_of(described())).house;
    house.condition.rooms_float = true;
    for (networks::Emitter &emitter : house.emitters)
        emitter.balancing = {networks::Balancing::Kind::Limiter, 0.0};
    REQUIRE(networks::expand(house).rooms.size() == 3);
    const solver::FlowsAnswer answer = solver::flows(house);
    REQUIRE(answer.rooms.size() == 3);
    for (const solver::RoomTemperatureRow &row : answer.rooms)
        CHECK(row.reached_c == Approx(row.wanted_c).margin(0.02)); // heat capacities at two means
}

TEST_CASE("what an emitter gives at its design drop is over its need where the water is warmer") {
    const auto row_of = [](const solver::DriveAnswer &answer, const std::string &name) {
        return *std::find_if(answer.heat.begin(), answer.heat.end(),
                             [&](const solver::HeatRow &row) { return row.name == name; });
    };
    const solver::DriveAnswer needed = solver::drive(tests::house_of(described()));
    CHECK(row_of(needed, needed.temperature_set_by).gives_share == Approx(1.0).epsilon(1e-6));
    const solver::DriveAnswer warm =
        solver::drive(tests::house_of(described("  flow_temperature: 50 degC")));
    for (const solver::HeatRow &row : warm.heat) {
        INFO(row.name);
        CHECK(row.gives_share > row_of(needed, row.name).gives_share);
    }
    // EN 442-2 at flow 50, return 45, room 18 degC: an excess of 29.5 K of 50 K, arithmetic mean,
    // which at so small a drop is within 0.2 % of plug flow.
    CHECK(row_of(warm, "c").gives_share ==
          Approx(1600.0 / 500.0 * std::pow(29.5 / 50.0, 1.3)).epsilon(2e-3));
    REQUIRE(row_of(warm, "c").rated_share.has_value());
    CHECK(*row_of(warm, "c").rated_share == Approx(3.2).epsilon(1e-12));
    CHECK_FALSE(row_of(warm, "a 1").rated_share.has_value());
}

TEST_CASE("a radiator too small for the water is short at its design drop, not short of flow") {
    const solver::Sizing sizing =
        solver::size(tests::house_of(described("  flow_temperature: 36 degC")));
    const auto row = std::find_if(sizing.emitters.begin(), sizing.emitters.end(),
                                  [&](const solver::SizedEmitter &each) {
                                      return sizing.house.emitters[each.emitter].name == "c";
                                  });
    REQUIRE(row != sizing.emitters.end());
    CHECK_FALSE(row->reaches);
    // The flow is that of its heat at its drop of 5 K; a margin of 1 %, heat capacities within 0.2
    // %.
    CHECK(row->flow_kg_s == Approx(500.0 / (4180.0 * 5.0)).epsilon(0.013));
    CHECK(row->most_w < 500.0);
    CHECK(row->drop_k == Approx(5.0 * row->most_w / 500.0).epsilon(0.013));
}

TEST_CASE("a radiator too small is told with the rated output that would do") {
    const std::string text = described("  flow_temperature: 36 degC");
    const solver::DriveAnswer answer = solver::drive(tests::house_of(text));
    const auto row = std::find_if(answer.heat.begin(), answer.heat.end(),
                                  [](const solver::HeatRow &each) { return each.name == "c"; });
    REQUIRE(row != answer.heat.end());
    REQUIRE(row->rated_needed_w.has_value());
    std::string larger = text;
    const std::string rating = "output: 1600 W";
    larger.replace(larger.find(rating), rating.size(),
                   "output: " + std::to_string(*row->rated_needed_w) + " W");
    const solver::Sizing sizing = solver::size(tests::house_of(larger));
    CHECK(sizing.emitters[2].own_flow_c == Approx(36.0).margin(0.02)); // heat capacities
    CHECK(sizing.emitters[2].reaches);
}

TEST_CASE("inlets that do not settle are no answer, and whoever asks is told so") {
    std::string text = tests::example_text("warm-floor.yaml");
    const auto with = [&text](const std::string &from, const std::string &to) {
        REQUIRE(text.find(from) != std::string::npos);
        text.replace(text.find(from), from.size(), to);
    };
    // 400 m of bare pipe in the frost, and water hardly warmer than the rooms.
    with("  kind: heat_pump\n", "  kind: heat_pump\n  flow_temperature: 29.5 degC\n");
    with("    length: 9 m\n", "    length: 400 m\n");
    with("    surroundings: 8 degC\n", "    surroundings: -10 degC\n");
    with("    insulation: {thickness: 19 mm, conductivity: 0.035 W/(m K)}\n",
         "    insulation: bare\n");
    const networks::House house = tests::house_of(text);
    const solver::Sizing sizing = solver::size(house);
    REQUIRE_FALSE(sizing.settled);
    CHECK(solver::sizing_outcome(sizing).reason == solver::StopReason::Unsettled);
    for (const solver::Outcome &outcome :
         {solver::drive(house).outcome, solver::drill(house).outcome, solver::pumps(house).outcome,
          solver::balance(house, solver::BalanceScope::SingleCirculator).outcome,
          solver::balance(house, solver::BalanceScope::AsDrawn).outcome})
        CHECK(outcome.reason == solver::StopReason::Unsettled);
    const solver::SeasonAnswer year = solver::season(house);
    REQUIRE_FALSE(year.warnings.empty());
    CHECK_THAT(year.warnings.front(), Catch::Contains("still change"));
}
