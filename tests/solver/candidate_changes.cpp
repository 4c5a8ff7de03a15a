// Changes worth trying, what each costs and what each makes of the house: all by hand.
#include "solver/questions/changes.hpp"

#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinRel;

namespace {

// A described loop of 72 m on 10.8 m2 and 4 m of tails, a radiator behind a zone valve.
const std::string text = R"(house: to be changed
water: {glycol: propylene, share: 25 %, by: mass}
rooms:
  den: {indoor: 20 degC, loss: 700 W}
  bath: {indoor: 22 degC, loss: 300 W}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 90 mm, below: 10 degC}
source: {kind: heat_pump, flow_temperature: 40 degC, drop: 5 K, circulator: {states: gross, model: generic 6 m}, inner: [{name: exchanger, kv: 4 m3/h}]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 6 m, existing: yes, fittings: {elbow: 4, globe_valve: 2}}
  - {run: riser, from: manifold, to: landing, pipe: copper 15, length: 5 m, parts: [{part: zone_valve, kv: 3 m3/h, zone: up}]}
manifolds:
  manifold: {floor: screed, spacing: 150 mm, loops: [{room: den, zone: up, pipe: pex 20x2, length: 76 m, tails: 4 m}]}
radiators:
  - {radiator: bath, room: bath, from: landing, output: 1000 W, rated_at: 75/65/20}
prices:
  currency: GBP
  pipe_per_metre: {copper 22x0.9: 6, copper 28x0.9: 9, copper 35x1.2: 14, pex 20x2: 1.5, pex 22x2: 1.8}
  laying_per_metre: 2
  repiping_per_metre: 20
  fitting: 5
  valve: 30
  loop_port: 35
  circulator: 260
  bypass: 110
  radiator_per_kilowatt: 130
  radiator_swap: 100
  setting: 15
  warmer_per_kelvin: 120
  hour: 50
)";

struct Expected {
    const char *words, *target;
    double cost;
};

void check(const std::vector<Change> &changes, const std::vector<Expected> &expected) {
    REQUIRE(changes.size() == expected.size());
    for (std::size_t i = 0; i < changes.size(); ++i) {
        INFO("change " << i);
        CHECK(changes[i].words == expected[i].words);
        CHECK(changes[i].target == expected[i].target);
        CHECK_THAT(changes[i].cost, WithinRel(expected[i].cost, 1e-12));
    }
}

networks::House after(const ChangeKind &kind) {
    return changed(tests::house_of(text), kind);
}

std::string without(std::string from, const std::string &part) {
    const auto at = from.find(part);
    REQUIRE(at != std::string::npos);
    return from.erase(at, part.size());
}

} // namespace

TEST_CASE("for head every run, loop, radiator and setting is offered, each at its own price") {
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"den 1", "bath"};
    check(candidate_changes(tests::house_of(text), needs),
          {
              // 12 m at 20 for the work and 9 or 14 for the pipe, 12 fittings at 5
              {"run `feed` in copper 28x0.9", "run feed", 12 * 29.0 + 60.0},
              {"run `feed` in copper 35x1.2", "run feed", 12 * 34.0 + 60.0},
              {"full-bore valves in run `feed`", "valves feed", 4 * 30.0},
              {"run `riser` in copper 22x0.9", "run riser", 10 * 26.0},
              {"run `riser` in copper 28x0.9", "run riser", 10 * 29.0},
              {"loop `den 1` as two loops", "loop den 1", 35.0 + 76 * 3.5},
              {"loop `den 1` in pex 22x2", "loop den 1", 76 * 3.8},
              {"loop `den 1` at 200 mm", "loop den 1", 10.8 / 0.2 * 3.5},
              {"radiator `bath` of 1500 W rated output", "radiator bath", 100.0 + 1.5 * 130.0},
              {"loops of `manifold` in pex 22x2", "pipe manifold", 76 * 3.8},
              {"a design drop of 7 K", "drop", 15.0},
              {"a design drop of 10 K", "drop", 15.0},
              {"a flow temperature of 42.5 degC", "temperature", 15.0 + 2.5 * 120.0},
              {"a flow temperature of 45.0 degC", "temperature", 15.0 + 5.0 * 120.0},
              {"circulator `generic 8 m` in the source's place", "circulator", 260.0},
              {"circulator `generic 11 m` in the source's place", "circulator", 260.0},
              {"plain water in place of glycol, where frost allows", "liquid", 15.0 + 50.0},
          });
}

TEST_CASE("where the loops keep their pipe none is offered in another") {
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"den 1"};
    const auto all = candidate_changes(tests::house_of(text), needs);
    needs.loops_keep_pipe = true;
    const auto kept = candidate_changes(tests::house_of(text), needs);
    CHECK(kept.size() + 2 == all.size());
    CHECK(std::none_of(kept.begin(), kept.end(), [](const Change &change) {
        return change.words.find("pex 22x2") != std::string::npos;
    }));
}

TEST_CASE("where an emitter is not described neither drop, spacing nor temperature is offered") {
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"den 1", "bath"};
    const networks::House house =
        tests::house_of(without(text, ", output: 1000 W, rated_at: 75/65/20"));
    for (const Change &change : candidate_changes(house, needs)) {
        INFO(change.words);
        CHECK(change.target != "drop");
        CHECK(change.target != "temperature");
        CHECK(change.words.find(" mm") == std::string::npos);
    }
    needs = {};
    needs.cold_emitters = {"den 1"};
    needs.warmer_c = 44.2;
    check(candidate_changes(house, needs),
          {{"loop `den 1` at 100 mm", "loop den 1", 10.8 / 0.1 * 3.5}});
    needs = {};
    needs.head = true;
    needs.cooler_c = 38.0;
    CHECK(candidate_changes(house, needs).empty());
}

TEST_CASE("for heat closer loops, larger radiators and the water they need are offered") {
    ChangeNeeds needs;
    needs.cold_emitters = {"den 1", "bath"};
    needs.warmer_c = 44.2;
    const std::vector<Expected> warmer{
        {"loop `den 1` at 100 mm", "loop den 1", 10.8 / 0.1 * 3.5},
        {"radiator `bath` of 1500 W rated output", "radiator bath", 100.0 + 1.5 * 130.0},
        {"radiator `bath` of 2000 W rated output", "radiator bath", 100.0 + 2.0 * 130.0},
        {"radiator `bath` of 3000 W rated output", "radiator bath", 100.0 + 3.0 * 130.0},
        // 44.2 to the next half kelvin, and the step of 2.5 K below it
        {"a flow temperature of 44.5 degC", "temperature", 15.0 + 4.5 * 120.0},
        {"a flow temperature of 42.5 degC", "temperature", 15.0 + 2.5 * 120.0},
    };
    check(candidate_changes(tests::house_of(text), needs), warmer);
    needs.warmer_c = 46.0;
    const auto more = candidate_changes(tests::house_of(text), needs);
    REQUIRE(more.size() == 7); // 46, 42.5 and 45
    CHECK(more[6].words == "a flow temperature of 45.0 degC");
    needs.warmer_c = 0.0;
    check(candidate_changes(tests::house_of(text), needs), {warmer.begin(), warmer.begin() + 4});
}

TEST_CASE("floors that get too warm a water are offered the water they take, at no kelvin's cost") {
    ChangeNeeds needs;
    needs.cooler_c = 38.0;
    check(candidate_changes(tests::house_of(text), needs),
          {{"a flow temperature of 38.0 degC", "temperature", 15.0}});
}

TEST_CASE("for least flow a bypass, an open zone or larger radiators are offered") {
    ChangeNeeds needs;
    needs.missing_l_min = 3.2;
    needs.set_pa = 25e3;
    // A quarter more than 3.2 l/min is 0.24 m3/h; over sqrt(0.25 bar) Kv 0.48, to the next 0.05.
    const std::vector<Expected> least_flow{
        {"an open bypass of Kv 0.50 m3/h at `manifold`", "bypass", 110.0},
        {"zone `up` left open for good", "zone up", 15.0},
        {"radiator `bath` of 1500 W rated output", "radiator bath", 100.0 + 1.5 * 130.0},
    };
    check(candidate_changes(tests::house_of(text), needs), least_flow);
    needs.set_pa = 0.0; // no head is known to size it by
    check(candidate_changes(tests::house_of(text), needs),
          {least_flow.begin() + 1, least_flow.end()});
}

TEST_CASE("for least flow with every zone open smaller drops are offered that carry it") {
    // 700 W and 300 W at 5 K each: 1.3 times their flow is had at 5 / 1.3 = 3.85 K.
    ChangeNeeds needs;
    needs.missing_l_min = 1.0;
    needs.more_flow = 1.3;
    const std::vector<Change> changes = candidate_changes(tests::house_of(text), needs);
    REQUIRE(changes.size() >= 3);
    check({changes.begin(), changes.begin() + 3}, {{"drops of 3.5 K at most", "drop", 15.0},
                                                   {"drops of 3 K at most", "drop", 15.0},
                                                   {"drops of 2.5 K at most", "drop", 15.0}});
    CHECK(after(changes[0].kind).source->greatest_drop_k == 3.5);
    CHECK(after(changes[0].kind).source->flow_temperature_given);
    needs.warmer_than_needed = true;
    const Change cooler = candidate_changes(tests::house_of(text), needs).front();
    CHECK(cooler.words == "drops of 3.5 K at most, water no warmer than needed");
    CHECK_FALSE(after(cooler.kind).source->flow_temperature_given);
    needs.more_flow = 2.6; // 1.9 K: less is no drop to design for
    for (const Change &change : candidate_changes(tests::house_of(text), needs))
        CHECK(change.target != "drop");
}

TEST_CASE(
    "valves that cannot be set so finely are offered as finer ones, at a valve's price each") {
    ChangeNeeds needs;
    needs.coarse = {"den 1", "bath"};
    needs.finest_kv_m3_h = 0.04;
    const std::vector<Change> changes = candidate_changes(tests::house_of(text), needs);
    check(changes,
          {{"finer balancing valves, to Kv 0.032: `den 1`, `bath`", "finer valves", 60.0}});
    for (const networks::Emitter &emitter : after(changes[0].kind).emitters)
        CHECK_THAT(emitter.least_kv_m3_h.value(), WithinRel(0.032, 1e-12));
}

TEST_CASE("a loop split in two has half the floor and heat in each, and tails of its own") {
    const networks::House house = after(SplitLoop{"den 1"});
    REQUIRE(house.emitters.size() == 3);
    const std::vector<std::size_t> &loops = house.manifolds[0].loops;
    REQUIRE(loops.size() == 2);
    CHECK(house.emitters[loops[0]].name == "den 1 a");
    CHECK(house.emitters[loops[1]].name == "den 1 b");
    for (const std::size_t loop : loops) {
        const networks::Emitter &half = house.emitters[loop];
        CHECK_THAT(half.length_m, WithinRel(0.5 * 72.0 + 4.0, 1e-12));
        CHECK_THAT(half.heat_w, WithinRel(350.0, 1e-12));
        CHECK_THAT(half.room_heat_w, WithinRel(350.0, 1e-12));
        CHECK_THAT(std::get<networks::FloorPart>(half.emission).area_m2, WithinRel(5.4, 1e-12));
    }
}

TEST_CASE("a loop in other pipe or at another spacing keeps its floor") {
    const networks::House house = tests::house_of(text);
    const auto pipe = networks::next_larger(house.catalogue, house.emitters[0].pipe);
    REQUIRE(pipe);
    for (const networks::House &with :
         {after(OneLoopPipe{"den 1", *pipe}), after(LoopPipe{"manifold", *pipe})}) {
        const auto &part = std::get<networks::FloorPart>(with.emitters[0].emission);
        CHECK(with.emitters[0].pipe.name == "pex 22x2");
        CHECK_THAT(part.section.pipe.outside_diameter_m, WithinRel(0.022, 1e-12));
        CHECK_THAT(part.section.pipe.wall_m, WithinRel(0.002, 1e-12));
        CHECK(with.emitters[0].length_m == 76.0);
        CHECK(with.emitters[1].pipe.name == house.emitters[1].pipe.name);
    }
    const networks::House wide = after(LoopSpacing{"den 1", 0.2});
    CHECK_THAT(wide.emitters[0].length_m, WithinRel(10.8 / 0.2 + 4.0, 1e-12));
    CHECK(std::get<networks::FloorPart>(wide.emitters[0].emission).section.spacing_m == 0.2);
}

TEST_CASE("a wider run is new pipe, and full-bore valves take the place of throttling ones") {
    const networks::House house = tests::house_of(text);
    const networks::House wide =
        after(WiderRun{0, *networks::next_larger(house.catalogue, house.runs[0].pipe)});
    CHECK(wide.runs[0].pipe.name == "copper 28x0.9");
    CHECK_FALSE(wide.runs[0].existing);
    const networks::House open = after(FullBoreValves{0});
    for (const networks::RunSide *side : {&open.runs[0].flow, &open.runs[0].back}) {
        REQUIRE(side->fittings.size() == 2);
        CHECK(side->fittings[0].name == "elbow");
        CHECK(side->fittings[0].count == 4);
        CHECK(side->fittings[1].name == "full_bore_valve");
        CHECK(side->fittings[1].count == 2);
    }
    CHECK(after(FullBoreValves{1}).runs[1].flow.fittings.empty());
}

TEST_CASE("settings, circulator, bypass and zone are changed as their words say") {
    const networks::House drop = after(OtherDrop{7.0});
    CHECK(drop.source->drop_k == 7.0);
    CHECK(drop.emitters[0].drop_k == 7.0);
    CHECK(drop.emitters[1].drop_k == 7.0);
    CHECK(after(FlowTemperature{45.0}).source->flow_temperature_c == 45.0);
    CHECK(after(OtherCirculator{"generic 8 m"}).source->circulator.model == "generic 8 m");
    CHECK(after(PlainWater{}).fluid.glycol_mass_share == 0.0);
    const networks::House bypass = after(OpenBypass{"manifold", 0.5});
    REQUIRE(bypass.bypasses.size() == 1);
    CHECK(bypass.bypasses[0].at == "manifold");
    CHECK(bypass.bypasses[0].kv_m3_h == 0.5);
    const networks::House open = after(ZoneLeftOpen{"up"});
    CHECK(open.emitters[0].zone.empty());
    CHECK(open.runs[1].parts.empty());
    const networks::House larger = after(LargerRadiator{"bath", 1.5});
    CHECK(std::get<models::Radiator>(larger.emitters[1].emission).rated_w == 1500.0);
}
