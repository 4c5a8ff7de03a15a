// The search for the least changes against trying every set.
#include "solver/questions/least_changes.hpp"

#include "solver/questions/size.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

using namespace headroom;
using namespace headroom::solver;

namespace {

// One long 10 mm loop, one shorter, a narrow feed: too much for the circulator.
const std::string small_house = R"(
house: small
rooms:
  kitchen: {indoor: 21 degC, loss: 900 W}
  hall: {indoor: 18 degC, loss: 400 W}
water: {glycol: propylene, share: 25 %, by: mass}
source:
  kind: heat_pump
  flow_temperature: 40 degC
  drop: 5 K
  circulator: {states: gross, curve: [[0 m3/h, 40 kPa], [0.5 m3/h, 30 kPa], [1 m3/h, 5 kPa]]}
  inner: [{name: exchanger, kv: 3 m3/h}]
pipework:
  - {run: feed, from: source, to: manifold, pipe: pex 16x2, length: 12 m, fittings: {elbow: 6, globe_valve: 2}}
manifolds:
  manifold:
    loops:
      - {room: kitchen, pipe: pex 16x2, length: 110 m, tails: 6 m}
      - {room: hall, pipe: pex 16x2, length: 60 m, tails: 4 m}
)";

double cost_of(const std::vector<Change> &changes) {
    double cost = 0.0;
    for (const Change &change : changes)
        cost += change.cost;
    return cost;
}

bool exclude_each_other(const std::vector<Change> &changes) {
    std::set<std::string> targets;
    for (const Change &change : changes)
        if (!targets.insert(change.target).second)
            return true;
    return false;
}

} // namespace

TEST_CASE("the least changes are those that trying every set finds") {
    const networks::House house = tests::house_of(small_house);
    const DriveAnswer refused = drive(house);
    REQUIRE(refused.verdict != Verdict::Yes);
    SearchLimits limits;
    limits.most_changes = 3;
    limits.most_judged = 100000;
    limits.most_sets = 1;
    const LeastChanges found = least_changes(house, refused, limits);
    REQUIRE(found.sets.size() == 1);
    CHECK(found.proven);

    // Every set of up to three of the same candidates, each judged in full.
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"kitchen 1", "hall 1"};
    const std::vector<Change> all = candidate_changes(size(house).house, needs);
    REQUIRE(static_cast<int>(all.size()) == found.candidates);
    REQUIRE(all.size() >= 6);
    double cheapest = 1e9;
    const std::size_t n = all.size();
    for (std::size_t sets = 1; sets < (1U << n); ++sets) {
        std::vector<Change> picks;
        for (std::size_t i = 0; i < n; ++i)
            if ((sets >> i & 1U) != 0)
                picks.push_back(all[i]);
        if (picks.size() > 3 || exclude_each_other(picks) || cost_of(picks) >= cheapest)
            continue;
        networks::House with = house;
        for (const Change &change : picks)
            with = changed(with, change.kind);
        if (drive_verdict(with).verdict == Verdict::Yes)
            cheapest = cost_of(picks);
    }
    CHECK(found.sets[0].cost == Approx(cheapest));
}

TEST_CASE("a set of changes that is shown works when it is made") {
    const networks::House house = tests::example_house("small-bore-long.yaml");
    const DriveAnswer answer = drive_with_changes(house, {});
    REQUIRE(answer.changes);
    REQUIRE_FALSE(answer.changes->sets.empty());
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"lounge 1", "lounge 2", "kitchen 1", "kitchen 2", "hall 1", "bath 1"};
    const std::vector<Change> all = candidate_changes(size(house).house, needs);
    for (const ChangeSet &set : answer.changes->sets) {
        networks::House with = house;
        for (const std::string &words : set.changes) {
            const auto change = std::find_if(all.begin(), all.end(),
                                             [&](const Change &c) { return c.words == words; });
            REQUIRE(change != all.end());
            with = changed(with, change->kind);
        }
        const DriveAnswer again = drive(with);
        CHECK(again.verdict == Verdict::Yes);
        CHECK(again.headroom_pa == Approx(set.headroom_pa).epsilon(1e-9));
    }
    for (std::size_t i = 1; i < answer.changes->sets.size(); ++i)
        CHECK(answer.changes->sets[i].cost >= answer.changes->sets[i - 1].cost);
}

TEST_CASE("a search cut short by its limit claims no proof") {
    const networks::House house = tests::example_house("small-bore-long-glycol.yaml");
    SearchLimits limits;
    limits.most_judged = 3;
    const DriveAnswer answer = drive_with_changes(house, limits);
    REQUIRE(answer.changes);
    CHECK(answer.changes->judged == 3);
    CHECK_FALSE(answer.changes->proven);
    CHECK_FALSE(answer.changes->complete);
}

TEST_CASE("no changes are sought for a house that is driven") {
    CHECK_FALSE(drive_with_changes(tests::example_house("direct-16mm.yaml"), {}).changes);
}

TEST_CASE("splitting a loop keeps its floor and heat and gives both halves the tails") {
    const networks::House house = tests::house_of(small_house);
    const networks::House split = changed(house, SplitLoop{"kitchen 1"});
    REQUIRE(split.emitters.size() == 3);
    CHECK(split.emitters[0].name == "kitchen 1 a");
    CHECK(split.emitters[2].name == "kitchen 1 b");
    CHECK(split.emitters[0].length_m == Approx(0.5 * (110.0 - 6.0) + 6.0));
    CHECK(split.emitters[0].heat_w + split.emitters[2].heat_w == Approx(900.0));
    CHECK(split.manifolds[0].loops == std::vector<std::size_t>{0, 2, 1});
}

TEST_CASE(
    "cold rooms in a described house are cured by warmer water, with or without closer pipes") {
    networks::House house = tests::example_house("warm-floor.yaml"); // `bath 1` needs 39.4 degC
    house.source->flow_temperature_c = 35.0;
    house.source->flow_temperature_given = true;
    house.source->least_flow_m3_s.reset();
    const DriveAnswer answer = drive_with_changes(house, {});
    REQUIRE(answer.verdict == Verdict::No);
    std::size_t cold = 0;
    for (const solver::HeatRow &row : answer.heat) {
        INFO(row.name << " is " << row.short_w << " W short");
        cold += !row.reaches;
        // 35 degC has at least two thirds of the excess over 21 degC that 41 degC would have.
        CHECK((row.reaches ? row.short_w == 0.0 : row.short_w > 0.0));
        CHECK(row.short_w < row.room_w / 3.0);
    }
    CHECK(cold >= 1);
    REQUIRE(answer.changes);
    REQUIRE_FALSE(answer.changes->sets.empty());
    for (const solver::ChangeSet &set : answer.changes->sets) {
        std::string words;
        for (const std::string &change : set.changes)
            words += change + "; ";
        INFO(words);
        CHECK_THAT(words, Catch::Matchers::Contains("a flow temperature of"));
        CHECK(set.flow_temperature_c > 35.0);
        CHECK(set.headroom_low_pa >= 0.0);
        if (set.changes.size() == 1) // nothing but the temperature: the coldest room's own
            CHECK(set.flow_temperature_c >= answer.needed_temperature_c);
    }
}

TEST_CASE("floors that would get too warm a water are cured by cooler water and larger radiators") {
    // Mill House as found: its floors take 45 degC, its boiler sends 65, the bathroom's radiator
    // alone needs more than 45 at its own drop; the one change without the other leaves it no.
    const networks::House house = tests::example_house("conversion.yaml");
    const DriveAnswer answer = drive_with_changes(house, {});
    REQUIRE(answer.verdict == Verdict::ThermalNo);
    REQUIRE(answer.changes);
    REQUIRE_FALSE(answer.changes->sets.empty());
    const ChangeSet &set = answer.changes->sets[0];
    CHECK(set.flow_temperature_c == Approx(45.0));
    CHECK(set.changes.size() == 2);
    CHECK(answer.changes->sets.size() == 1); // a still larger radiator is no other way out
    networks::House cooler = house;
    cooler.source->flow_temperature_c = 45.0;
    CHECK(drive_verdict(cooler).verdict == Verdict::No);
}

TEST_CASE(
    "one radiator much too small for the source's warmest water is changed to one that fits") {
    networks::House house = tests::example_house("microbore-radiators.yaml");
    house.source->flow_temperature_given = false;
    house.source->highest_c = 50.0;
    auto hall = std::find_if(house.emitters.begin(), house.emitters.end(),
                             [](const networks::Emitter &e) { return e.name == "hall"; });
    REQUIRE(hall != house.emitters.end());
    models::Radiator small{150.0, 1.3, 75.0, 65.0, 20.0};
    hall->emission = small;
    hall->room_heat_w = hall->heat_w;
    const DriveAnswer answer = drive_with_changes(house, {});
    REQUIRE(answer.verdict == Verdict::No);
    CHECK_THAT(answer.sentence, Catch::Contains("cannot heat the room of `hall`"));
    REQUIRE(answer.changes);
    REQUIRE_FALSE(answer.changes->sets.empty());
    const std::string words = answer.changes->sets[0].changes[0];
    REQUIRE(words.rfind("radiator `hall` of ", 0) == 0);
    small.rated_w = std::stod(words.substr(words.find("of ") + 3));
    CHECK(small.rated_w > 3.0 * 150.0);
    hall->emission = small;
    CHECK(drive(house).verdict == Verdict::Yes);
}

TEST_CASE("one loop in wider pipe is tried beside all loops of its manifold") {
    const networks::House house = tests::house_of(small_house);
    const networks::PipeChoice wider =
        *networks::next_larger(house.catalogue, house.emitters[0].pipe);
    const Change change = make_change(house, OneLoopPipe{"kitchen 1", wider});
    const networks::House with = changed(house, change.kind);
    CHECK(with.emitters[0].pipe.bore_m > house.emitters[0].pipe.bore_m);
    CHECK(with.emitters[1].pipe.bore_m == house.emitters[1].pipe.bore_m);
    ChangeNeeds needs;
    needs.head = true;
    needs.short_emitters = {"kitchen 1"};
    const auto has = [&](const std::vector<Change> &all, const std::string &words) {
        return std::any_of(all.begin(), all.end(),
                           [&](const Change &c) { return c.words == words; });
    };
    CHECK(has(candidate_changes(size(house).house, needs), change.words));
    needs.loops_keep_pipe = true;
    CHECK_FALSE(has(candidate_changes(size(house).house, needs), change.words));
}

TEST_CASE("a described floor short of head may be laid wider apart or fed warmer water") {
    const networks::House house = size(tests::example_house("warm-floor.yaml")).house;
    ChangeNeeds needs;
    needs.head = true;
    const auto loop = std::find_if(house.emitters.begin(), house.emitters.end(), [](const auto &e) {
        return std::holds_alternative<networks::FloorPart>(e.emission);
    });
    REQUIRE(loop != house.emitters.end());
    needs.short_emitters = {loop->name};
    int wider = 0;
    int warmer = 0;
    for (const Change &change : candidate_changes(house, needs)) {
        if (const auto *spacing = std::get_if<LoopSpacing>(&change.kind)) {
            ++wider;
            CHECK(spacing->spacing_m >
                  std::get<networks::FloorPart>(loop->emission).section.spacing_m);
        }
        if (const auto *flow = std::get_if<FlowTemperature>(&change.kind)) {
            ++warmer;
            CHECK(flow->flow_c > house.source->flow_temperature_c);
        }
    }
    CHECK(wider == 1);
    CHECK(warmer == 2);
}

TEST_CASE("no changes are sought where nothing tells what cooler water would do to the rooms") {
    const DriveAnswer answer =
        drive_with_changes(tests::example_house("header-three-pumps.yaml"), {});
    REQUIRE(answer.verdict == Verdict::ThermalNo);
    REQUIRE(answer.changes);
    CHECK(answer.changes->candidates == 0);
    CHECK(answer.changes->judged == 0);
    CHECK(answer.changes->complete);
    CHECK_FALSE(answer.changes->proven);
}
