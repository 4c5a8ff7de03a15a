// Bores side by side: by hand for one laminar loop, and against the questions it is made of.
#include "solver/questions/bores.hpp"

#include "solver/questions/lay.hpp"
#include "solver/questions/size.hpp"
#include "solver/report/report.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>

using namespace headroom;
using namespace headroom::solver;

namespace {

SearchLimits no_search() {
    SearchLimits limits;
    limits.most_judged = 0;
    return limits;
}

BoresAnswer bores_of(const std::string &file, const std::vector<std::string> &names = {},
                     const SearchLimits &limits = no_search()) {
    const networks::House house = tests::example_house(file);
    const BorePipes pipes = bore_pipes(house, names);
    REQUIRE(pipes.fault.empty());
    return bores(house, pipes, limits);
}

} // namespace

TEST_CASE("one laminar loop in 10 mm pipe loses what Hagen and Poiseuille say") {
    // 150 W at 5 K: 150/(4179 x 5) = 7.179e-3 kg/s. Water at 37.5 degC: 993.1 kg/m3 and 6.86e-4 Pa
    // s (IAPWS-95 and IAPWS 2008, tables of [IAPWS] at 35 and 40 degC). Bore 7.4 mm: Re = 4 m/(pi D
    // mu) = 1800, laminar. Loss of 60 m: 128 mu m L/(pi rho D^4) = 128 x 6.86e-4 x 7.179e-3 x 60/
    // (3.1416 x 993.1 x 2.9987e-9) = 4043 Pa. The valve of Kv 1.1 takes (0.02602/1.1)^2 bar = 56
    // Pa.
    const networks::House house = tests::house_of(R"(
house: one loop
rooms: {kitchen: {indoor: 21 degC, loss: 150 W}}
source:
  kind: heat_pump
  flow_temperature: 40 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 30 kPa], [0.5 m3/h, 10 kPa]]}
pipework: [{run: feed, from: source, to: manifold, pipe: copper 28, length: 0.1 m}]
manifolds:
  manifold: {valve_kv: 1.1 m3/h, loops: [{room: kitchen, pipe: pex 10x1.3, length: 60 m, curved: 0 %}]}
)");
    const BorePipes pipes = bore_pipes(house, {"pex 10x1.3"});
    const BoresAnswer answer = bores(house, pipes, no_search());
    REQUIRE(answer.same.size() == 1);
    const BoreRow &row = answer.same[0];
    CHECK(row.index_regime == "laminar");
    CHECK(row.index_reynolds == Approx(1800.0).epsilon(0.01));
    CHECK(row.index_loss_pa == Approx(4043.0 + 56.0).epsilon(0.005));
    CHECK(row.volume_m3 == Approx(0.25 * 3.14159265 * 0.0074 * 0.0074 * 60.0).epsilon(1e-6));
}

TEST_CASE("at equal lengths, spacing and heat a smaller bore loses more") {
    const BoresAnswer answer = bores_of("direct-16mm.yaml");
    REQUIRE(answer.same.size() == 6);
    for (std::size_t i = 1; i < answer.same.size(); ++i) {
        CHECK(answer.same[i].bore_m > answer.same[i - 1].bore_m);
        CHECK(answer.same[i].needed_pa < answer.same[i - 1].needed_pa);
        CHECK(answer.same[i].pipe_m == Approx(answer.same[0].pipe_m));
    }
}

TEST_CASE("the bore the file has, at its lengths, fares as drive says of the file") {
    const networks::House house = tests::example_house("direct-16mm.yaml");
    const DriveAnswer driven = drive(house);
    const BoresAnswer answer = bores_of("direct-16mm.yaml", {"pex 16x2"});
    const BoreRow &row = answer.same[0];
    CHECK(row.needed_pa == Approx(driven.needed_pa));
    CHECK(row.headroom_low_pa == Approx(driven.headroom_low_pa));
    CHECK(row.index == driven.index);
    REQUIRE(driven.verdict == Verdict::Yes);
    for (const std::string &conclusion : answer.conclusions)
        CHECK(conclusion.find("refused for another reason") == std::string::npos);
}

TEST_CASE("a bore that is laid anew keeps every loop to the loss a loop may have") {
    for (const BoreRow &row : bores_of("direct-16mm.yaml").relaid)
        CHECK(row.index_loss_pa < 20e3 + 1.5e3); // with the open valve of Kv 1.1 to 1.3
}

TEST_CASE("laid anew, the floor keeps its area and its heat") {
    const networks::House house = tests::example_house("warm-floor.yaml");
    const networks::House anew = lay(as_layings(house));
    const auto sums = [](const networks::House &of) {
        double area_m2 = 0.0;
        double heat_w = 0.0;
        for (const networks::Emitter &loop : of.emitters)
            if (const auto *part = std::get_if<networks::FloorPart>(&loop.emission)) {
                area_m2 += part->area_m2;
                heat_w += loop.room_heat_w;
            }
        return std::pair(area_m2, heat_w);
    };
    CHECK(sums(anew).first == Approx(sums(house).first));
    CHECK(sums(anew).second == Approx(sums(house).second));
}

TEST_CASE("the length a bore is driven to is where its head is used up") {
    const BoresAnswer answer = bores_of("direct-16mm.yaml", {"pex 12x1.4", "pex 16x2"});
    for (const BoreRow &row : answer.relaid) {
        REQUIRE(row.longest_driven_m);
        CHECK(*row.longest_driven_m > row.longest_loop_m);
    }
    // The narrower bore stops working at a shorter length.
    CHECK(*answer.relaid[0].longest_driven_m < *answer.relaid[1].longest_driven_m);
}

TEST_CASE("the film of a smaller bore asks for warmer water at the same floor and lengths") {
    const BoresAnswer answer = bores_of("warm-floor.yaml", {"pex 10x1.3", "pex 20x2"});
    REQUIRE(answer.same[0].needs_c);
    CHECK(*answer.same[0].needs_c > *answer.same[1].needs_c);
    CHECK(*answer.same[0].output_w < *answer.same[1].output_w);
}

TEST_CASE("of bores that all work the smallest is named, in whatever order they were asked for") {
    const networks::House house = tests::house_of(R"(
house: one short loop
rooms: {kitchen: {indoor: 21 degC, loss: 150 W}}
source: {kind: heat_pump, flow_temperature: 40 degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 30 kPa], [0.5 m3/h, 10 kPa]]}}
pipework: [{run: feed, from: source, to: manifold, pipe: copper 28, length: 1 m}]
manifolds: {manifold: {loops: [{room: kitchen, pipe: pex 16x2, length: 40 m}]}}
)");
    for (const std::vector<std::string> &order :
         {std::vector<std::string>{"pex 20x2", "pex 16x2"}, {"pex 16x2", "pex 20x2"}}) {
        const BoresAnswer answer = bores(house, bore_pipes(house, order), no_search());
        CHECK(answer.conclusions.at(1).find("pex 16x2 is the smallest that needs no second pump") !=
              std::string::npos);
    }
}

TEST_CASE("a pipe that does not exist is a fault that lists what there is") {
    const BorePipes pipes = bore_pipes(tests::example_house("direct-16mm.yaml"), {"pex 11x1"});
    CHECK(pipes.fault.find("11x1") != std::string::npos);
    CHECK_FALSE(pipes.help.empty());
}

TEST_CASE("a house without floor loops has no bores to compare") {
    CHECK_FALSE(why_no_bores(tests::example_house("microbore-radiators.yaml")).empty());
}

TEST_CASE("a refused bore gets the cheapest changes that turn its verdict, in its own pipe") {
    const networks::House house = tests::example_house("small-bore-long-glycol.yaml");
    const BoresAnswer answer = bores_of("small-bore-long-glycol.yaml", {"pex 12x1.4"}, {});
    REQUIRE(answer.same.size() == 1);
    const BoreRow &row = answer.same[0];
    REQUIRE(row.verdict != Verdict::Yes);
    REQUIRE(row.changes);
    REQUIRE(row.changes->sets.size() == 1);
    CHECK(row.changes->proven);
    CHECK(row.changes->judged > 0);
    // The file's own pipe, so the changes are those of `drive` that leave the loops their pipe.
    SearchLimits limits;
    limits.loops_keep_pipe = true;
    const LeastChanges direct = least_changes(house, drive(house), limits);
    CHECK(row.changes->sets[0].changes == direct.sets[0].changes);
    CHECK(row.changes->sets[0].cost == Approx(direct.sets[0].cost));
    for (const std::string &change : row.changes->sets[0].changes)
        CHECK(change.find(" in pex") == std::string::npos);
    CHECK(answer.conclusions[1].find(fmt::format("pex 12x1.4 with changes at {:.0f}",
                                                 row.changes->sets[0].cost)) != std::string::npos);
}

TEST_CASE("a bore that is driven gets no changes, nor does any without a search") {
    for (const BoreRow &row : bores_of("direct-16mm.yaml", {"pex 16x2"}, {}).same)
        CHECK_FALSE(row.changes);
    const BoresAnswer none = bores_of("small-bore-long-glycol.yaml", {"pex 12x1.4"});
    REQUIRE(none.same[0].verdict != Verdict::Yes);
    CHECK_FALSE(none.same[0].changes);
}

TEST_CASE("the changes a bore is shown are the cheapest of every set of them, tried in full") {
    // One 12 mm loop of 110 m and a narrow feed are too much for this circulator.
    const networks::House house = tests::house_of(R"(
house: small
rooms: {kitchen: {indoor: 21 degC, loss: 900 W}}
source:
  kind: heat_pump
  flow_temperature: 40 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 40 kPa], [0.5 m3/h, 30 kPa], [1 m3/h, 5 kPa]]}
pipework: [{run: feed, from: source, to: manifold, pipe: pex 16x2, length: 12 m, fittings: {elbow: 6, globe_valve: 2}}]
manifolds: {manifold: {loops: [{room: kitchen, pipe: pex 12x1.4, length: 110 m, tails: 6 m}]}}
)");
    const BoresAnswer answer = bores(house, bore_pipes(house, {"pex 12x1.4"}), {});
    const BoreRow &row = answer.same[0];
    REQUIRE(row.verdict != Verdict::Yes);
    REQUIRE(row.changes);
    REQUIRE(row.changes->proven);
    ChangeNeeds needs;
    needs.head = true;
    needs.loops_keep_pipe = true;
    needs.short_emitters = {house.emitters[0].name};
    const std::vector<Change> all = candidate_changes(size(house).house, needs);
    REQUIRE(static_cast<int>(all.size()) == row.changes->candidates);
    double cheapest = 1e9;
    for (std::size_t sets = 1; sets < (std::size_t{1} << all.size()); ++sets) {
        networks::House with = house;
        double cost = 0.0;
        std::vector<std::string> targets;
        for (std::size_t i = 0; i < all.size(); ++i)
            if ((sets >> i & 1U) != 0) {
                with = changed(with, all[i].kind);
                cost += all[i].cost;
                targets.push_back(all[i].target);
            }
        std::sort(targets.begin(), targets.end());
        const bool twice = std::adjacent_find(targets.begin(), targets.end()) != targets.end();
        if (targets.size() <= 4 && !twice && cost < cheapest &&
            drive_verdict(with).verdict == Verdict::Yes)
            cheapest = cost;
    }
    CHECK(row.changes->sets[0].cost == Approx(cheapest));
}

namespace {

// 12 mm pipe in an overlay board 18 mm thick, which takes no 20 mm pipe.
const std::string overlay = R"(
house: overlay
rooms:
  a: {floor_area: 18 m2, indoor: 20 degC, loss: 800 W}
  b: {floor_area: 10 m2, indoor: 20 degC, loss: 420 W}
floors:
  overlay:
    cover: 6 mm
    conductivity: 0.45 W/(m K)
    covering: 0.05 m2 K/W
    insulation: 20 mm
    below: 10 degC
    groove_board: {thickness: 18 mm, conductivity: 0.32 W/(m K)}
source:
  kind: heat_pump
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 65 kPa], [1 m3/h, 50 kPa], [1.6 m3/h, 25 kPa]]}
pipework:
  - {run: primaries, from: source, to: manifold, pipe: copper 22, length: 11 m}
manifolds:
  manifold:
    floor: overlay
    rooms:
      - {room: a, pipe: pex 12x1.4, spacing: 125 mm, tails: 6 m, longest: 80 m}
      - {room: b, pipe: pex 12x1.4, spacing: 125 mm, tails: 8 m, longest: 80 m}
)";

} // namespace

TEST_CASE(
    "a pipe thicker than the floor's groove board is left out, or named as what does not fit") {
    const networks::House house = lay(tests::house_of(overlay));
    for (const networks::PipeChoice &pipe : bore_pipes(house, {}).pipes)
        CHECK(pipe.bore_m + 2.0 * pipe.wall_m <= 0.018);
    const BorePipes named = bore_pipes(house, {"pex 20x2"});
    CHECK(named.fault.find("`pex 20x2` cannot lie in the house's floors") == 0);
    const BoresAnswer answer = bores(house, bore_pipes(house, {}), {});
    CHECK(answer.same.size() == 5);
    REQUIRE(answer.left_out.size() == 1);
    CHECK(answer.left_out[0].pipe == "pex 20x2");
    CHECK(answer.left_out[0].reason ==
          "the groove board must be at least as thick as the pipe and conduct");
    const std::string line =
        "  - pex 20x2: the groove board must be at least as thick as the pipe and conduct\n";
    CHECK(report(answer, Format::Text).find("\nLeft out\n" + line) != std::string::npos);
}

TEST_CASE("a usual size that the loops' family is not made in is left out by name") {
    std::string text = overlay;
    for (std::size_t at = 0; (at = text.find("pex 12x1.4", at)) != std::string::npos;)
        text.replace(at, 10, "multilayer 14x2");
    const BorePipes pipes = bore_pipes(lay(tests::house_of(text)), {});
    REQUIRE(pipes.pipes.size() + pipes.left_out.size() == 6);
    CHECK(pipes.left_out[0].pipe == "multilayer 10x1.3");
    CHECK(pipes.left_out[0].reason == "the catalogue has no such size of this pipe");
}

TEST_CASE("loops whose pipe is given by its bore are compared with no other unless one is named") {
    std::string text = overlay;
    text.erase(text.find("floors:"), text.find("source:") - text.find("floors:"));
    text.erase(text.find("manifolds:"));
    text.insert(text.find("  drop: 5 K"), "  flow_temperature: 40 degC\n");
    text += "manifolds: {manifold: {loops: [{room: a, pipe: {bore: 9 mm, roughness: 0.007 mm}, "
            "length: 60 m}]}}\n";
    const networks::House house = tests::house_of(text);
    const BorePipes usual = bore_pipes(house, {});
    REQUIRE(usual.pipes.size() == 1);
    REQUIRE(usual.left_out.size() == 1);
    CHECK(usual.left_out[0].reason ==
          "`bore 9 mm` is of no family made in them; name pipes with --pipe");
    CHECK(bore_pipes(house, {"pex 16x2"}).left_out.empty());
}

TEST_CASE("where every usual bore can be had and laid, none is left out") {
    CHECK(bores_of("direct-16mm.yaml").left_out.empty());
}

TEST_CASE("loops over diffuser plates are laid no closer than the plates are wide") {
    std::string text = overlay;
    const std::string board = "thickness: 18 mm, conductivity: 0.32 W/(m K)";
    text.replace(text.find(board), board.size(),
                 "thickness: 25 mm, conductivity: 0.035 W/(m K), plate: {thickness: 0.45 mm, "
                 "conductivity: 200 W/(m K), width: 120 mm}");
    for (std::size_t at = 0; (at = text.find("125 mm", at)) != std::string::npos;)
        text.replace(at, 6, "auto");
    const networks::House house = lay(tests::house_of(text));
    for (const networks::Emitter &emitter : house.emitters)
        CHECK(std::get<networks::FloorPart>(emitter.emission).section.spacing_m >= 0.12);
}
