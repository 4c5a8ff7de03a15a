// Heat lost from pipes on the way, and emitters sized at the water that reaches them.
#include "models/pipe_heat_loss.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/heat_balance.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace headroom;

namespace {

// Two floors and a radiator at the end of a long way.
std::string house_text(const std::string &round_the_feed, const std::string &round_the_tails = "",
                       const std::string &round_the_radiator = "") {
    return R"(
house: long way
water: plain
design_day: {outdoor: -3 degC}
rooms:
  a: {indoor: 20 degC, loss: 600 W}
  b: {indoor: 20 degC, loss: 350 W}
  c: {indoor: 18 degC, loss: 500 W}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.05 m2 K/W, insulation: 80 mm, below: 10 degC}
source:
  kind: heat_pump
  drop: 5 K
  carnot: {output: 5 kW, fraction: 42 %}
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 25 m)" +
           round_the_feed + R"(}
  - {run: riser, from: manifold, to: landing, pipe: copper 15, length: 10 m)" +
           round_the_feed + R"(}
manifolds:
  manifold:
    floor: screed
    spacing: 150 mm
    flow_limit: 60 degC
    loops:
      - {room: a, pipe: pex 16x2, length: 80 m, tails: 6 m)" +
           round_the_tails + R"(}
      - {room: b, pipe: pex 16x2, length: 70 m, tails: 4 m}
radiators:
  - {radiator: c, room: c, from: landing, output: 1600 W, rated_at: 75/65/20, pipe: copper 15, length: 3 m)" +
           round_the_radiator + R"(}
)";
}

const std::string bare = ", surroundings: 8 degC, insulation: bare";
const std::string lagged =
    ", surroundings: 8 degC, insulation: {thickness: 19 mm, conductivity: 0.035 W/(m K)}";

struct Design {
    solver::Sizing sizing;
    solver::Judgement judged;
    solver::HeatBalance heat;
};

Design design(const std::string &text) {
    Design out{solver::size(tests::house_of(text)), {}, {}};
    out.judged =
        solver::judge(solver::with_ideal_balancing(solver::single_circulator(out.sizing.house)));
    REQUIRE(out.judged.needed.has_value());
    out.heat = solver::heat_balance(out.sizing.house, out.judged.needed->network,
                                    out.judged.needed->solution);
    return out;
}

} // namespace

TEST_CASE("a pipe's outlet is that of its heat loss integrated along it") {
    const networks::House house = solver::size(tests::house_of(house_text(bare))).house;
    const networks::Network network = networks::expand(house);
    const solver::Solution solution = solver::solve(network, &house);
    REQUIRE(solution.outcome.converged());
    const networks::Link &pipe =
        *std::find_if(network.links.begin(), network.links.end(), [](const networks::Link &link) {
            return link.exchange.kind == networks::Exchange::Kind::Loses;
        });
    const auto id = static_cast<std::size_t>(&pipe - network.links.data());
    const double per_metre = models::pipe_transmittance_w_m_k({0.0202, 0.0009, 393.0});
    const double capacity = solution.flow_kg_s[id] * solver::mean_heat_capacity_j_kg_k(network);
    double water_c = solution.heat.in_c[id];
    const int pieces = 100000;
    for (int i = 0; i < pieces; ++i)
        water_c -= per_metre * (water_c - 8.0) / capacity * 25.0 / pieces;
    CHECK(solution.heat.out_c[id] == Approx(water_c).margin(1e-5)); // of the steps
    CHECK(solution.heat.out_c[id] < solution.heat.in_c[id] - 0.5);
}

TEST_CASE("the source's load is what rooms and ground get and pipes lose") {
    for (const std::string &round : {std::string(), bare, lagged}) {
        INFO(round);
        const Design found = design(house_text(round));
        CHECK(std::abs(found.heat.closure_w) <= 1e-8 * found.heat.source_w);
        CHECK((found.heat.pipes_w > 20.0) == !round.empty());
        const solver::DriveAnswer answer = solver::drive(tests::house_of(house_text(round)));
        CHECK(answer.load_w == Approx(found.heat.source_w).epsilon(1e-9));
        REQUIRE(answer.source.has_value());
        CHECK(answer.source->load_w == answer.load_w);
    }
}

TEST_CASE("with pipes that lose heat every room still gets its heat in the solved network") {
    for (const std::string &round : {bare, lagged}) {
        const Design found = design(house_text(round, round, round));
        CHECK(found.sizing.settled);
        CHECK(found.sizing.inlet_change_k <= solver::inlet_tolerance_k);
        CHECK(found.sizing.rounds < 15);
        for (std::size_t i = 0; i < found.sizing.emitters.size(); ++i) {
            const solver::SizedEmitter &row = found.sizing.emitters[i];
            INFO(found.sizing.house.emitters[row.emitter].name);
            CHECK(row.reaches);
            CHECK(row.inlet_c < found.sizing.house.source->flow_temperature_c);
            // 1e-6 K of some 15 K above the room
            CHECK(found.heat.emitters[row.emitter].to_room_w == Approx(row.room_w).epsilon(3e-7));
        }
    }
}

// A stated temperature lets flow and inlet answer to each other: less flow, colder water, more
// flow.
TEST_CASE("with a stated flow temperature and very cold surroundings the inlets settle too") {
    const double needed =
        solver::size(tests::house_of(house_text(", surroundings: -10 degC"))).needed_c;
    for (const double over_k : {0.5, 3.0, 12.0}) {
        networks::House house = tests::house_of(house_text(", surroundings: -10 degC"));
        house.source->flow_temperature_given = true;
        house.source->flow_temperature_c = needed + over_k;
        const solver::Sizing sizing = solver::size(house);
        INFO("sent at " << needed + over_k << ", rounds " << sizing.rounds);
        CHECK(sizing.settled);
        CHECK(sizing.inlet_change_k <= solver::inlet_tolerance_k);
        for (const solver::SizedEmitter &row : sizing.emitters)
            CHECK(row.reaches);
    }
}

TEST_CASE("bare pipes ask for warmer water than insulated ones, and those for warmer than none") {
    const double none = solver::size(tests::house_of(house_text(""))).needed_c;
    const double good = solver::size(tests::house_of(house_text(lagged))).needed_c;
    const double poor = solver::size(tests::house_of(house_text(bare))).needed_c;
    CHECK(good > none + 0.1);
    CHECK(poor > good + 0.5);
}

TEST_CASE("tails that lose heat are pipes of their own, with the length and loss of the whole") {
    const networks::House with = tests::house_of(house_text("", lagged));
    const networks::House without = tests::house_of(house_text(""));
    const auto length_of_loop = [](const networks::House &house) {
        double sum = 0.0;
        for (const networks::Link &link : networks::expand(house).links)
            if (link.owner.kind == networks::Owner::Kind::Emitter && link.owner.index == 0)
                if (const auto *pipe = std::get_if<networks::PipeFriction>(&link.component))
                    sum += pipe->pipe.length_m;
        return sum;
    };
    CHECK(length_of_loop(with) == Approx(80.0).epsilon(1e-12));
    CHECK(length_of_loop(without) == Approx(80.0).epsilon(1e-12));
    const Design found = design(house_text("", lagged, lagged));
    REQUIRE(found.heat.pipes.size() == 2);
    CHECK(found.heat.pipes[0].where == "loop a 1, tails");
    CHECK(found.heat.pipes[1].where == "radiator c, tails");
    for (const solver::PipeLoss &pipe : found.heat.pipes)
        CHECK(pipe.heat_w > 1.0);
}

TEST_CASE("a stated heat is carried at its stated drop from the water that reaches it") {
    std::string text = house_text(bare);
    text.replace(text.find("  drop: 5 K\n"), 12, "  flow_temperature: 40 degC\n  drop: 5 K\n");
    text.replace(text.find("    floor: screed\n"), 18, "");
    text.replace(text.find("output: 1600 W, rated_at: 75/65/20, "), 36, "");
    const Design found = design(text);
    REQUIRE(found.sizing.emitters.empty());
    for (std::size_t i = 0; i < found.heat.emitters.size(); ++i)
        CHECK(found.heat.emitters[i].from_water_w ==
              Approx(found.sizing.house.emitters[i].room_heat_w).epsilon(1e-3)); // c at two means
}

TEST_CASE("drive says which pipes are taken to lose nothing") {
    const auto assumed = [](const std::string &text, const std::string &what) {
        const solver::DriveAnswer answer = solver::drive(tests::house_of(text));
        return std::any_of(answer.assumed.begin(), answer.assumed.end(),
                           [&](const solver::AssumptionRow &row) {
                               return row.what == what && row.value == "none";
                           });
    };
    CHECK(assumed(house_text(""), "heat lost from pipes"));
    std::string one = house_text(lagged);
    one.erase(one.rfind(lagged), lagged.size());
    CHECK(assumed(one, "heat lost from run riser"));
    CHECK_FALSE(assumed(house_text(lagged), "heat lost from pipes"));
}

TEST_CASE("at cold start no pipe loses heat") {
    networks::House house = tests::house_of(house_text(bare));
    house.condition.all_water_c = 10.0;
    for (const networks::Link &link : networks::expand(house).links)
        CHECK(link.exchange.kind != networks::Exchange::Kind::Loses);
}

TEST_CASE("flows lists what each run loses and what the source gives") {
    const solver::FlowsAnswer answer = solver::flows(tests::house_of(house_text(lagged)));
    REQUIRE(answer.outcome.converged());
    REQUIRE(answer.heat.pipes.size() == 2);
    CHECK(answer.heat.pipes[0].where == "run feed");
    CHECK(answer.heat.pipes_w ==
          Approx(answer.heat.pipes[0].heat_w + answer.heat.pipes[1].heat_w).epsilon(1e-12));
    REQUIRE(answer.source.has_value());
    REQUIRE(answer.source->heat.has_value());
    CHECK(answer.source->heat->load_w == answer.heat.source_w);
    double lost = 0.0;
    for (const solver::LinkRow &row : answer.links)
        if (row.where.starts_with("run "))
            lost += row.heat_w;
    CHECK(lost == Approx(answer.heat.pipes_w).epsilon(1e-9));
}

TEST_CASE("described radiators in a one-pipe ring get what their rooms need from cooler water") {
    networks::House house = tests::example_house("one-pipe-and-reverse-return.yaml");
    std::size_t ring = 0;
    for (networks::Emitter &emitter : house.emitters)
        if (!emitter.to.empty()) {
            emitter.emission = models::Radiator{6.0 * emitter.heat_w};
            ++ring;
        }
    REQUIRE(ring >= 2);
    const solver::Sizing sizing = solver::size(house);
    CHECK(sizing.settled);
    const solver::Judgement judged =
        solver::judge(solver::with_ideal_balancing(solver::single_circulator(sizing.house)));
    REQUIRE(judged.needed.has_value());
    const solver::HeatBalance heat =
        solver::heat_balance(sizing.house, judged.needed->network, judged.needed->solution);
    double coolest = 0.0;
    for (const solver::SizedEmitter &row : sizing.emitters) {
        CHECK(row.reaches);
        CHECK(heat.emitters[row.emitter].to_room_w == Approx(row.room_w).epsilon(3e-7));
        coolest = std::max(coolest, sizing.house.source->flow_temperature_c - row.inlet_c);
    }
    CHECK(coolest > 1.0); // the last of the ring stands in what the others have cooled
}
