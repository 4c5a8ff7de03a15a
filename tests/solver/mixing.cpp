#include "solver/questions/flows.hpp"
#include "solver/solve.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace headroom;

namespace {

// A boiler at 60 degC, a header, one floor circuit behind a mixer with its own pump.
std::string mixed(const std::string &mixer, const std::string &sent = "60 degC") {
    return R"(
house: mixed
water: plain
source:
  kind: boiler
  drop: 10 K
  flow_temperature: )" +
           sent + R"(
  circulator: {states: external, curve: [[0 m3/h, 50 kPa], [2 m3/h, 30 kPa]]}
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 4 m}
  - {run: floor feed, from: header, to: manifold, pipe: copper 22, length: 5 m, mixer: )" +
           mixer + R"(, pump: {model: generic 6 m}}
header: {bore: 80 mm, height: 0.5 m}
manifolds:
  manifold:
    loops:
      - {loop: one, heat: 900 W, drop: 6 K, pipe: pex 16x2, length: 80 m}
      - {loop: two, heat: 700 W, drop: 6 K, pipe: pex 16x2, length: 60 m}
)";
}

} // namespace

TEST_CASE("a mixer holds its set temperature and its flows mix to it") {
    const networks::House house = tests::house_of(mixed("{kv: 4 m3/h, set: 45 degC}"));
    const networks::Network network = networks::expand(house);
    const solver::Solution solution = solver::solve(network, &house);
    REQUIRE(solution.outcome.converged());
    REQUIRE(solution.mixers.size() == 1);
    CHECK(solution.mixers[0].mixed_c == Approx(45.0).margin(1e-5));
    const networks::MixerNode &mixer = network.mixers[0];
    const double hot = solution.flow_kg_s[mixer.hot];
    const double cold = solution.flow_kg_s[mixer.cold];
    const double hot_c = solution.heat.out_c[mixer.hot];
    const double cold_c = solution.heat.out_c[mixer.cold];
    // Share of hot water x = (mixed - return) / (hot - return).
    const double mixed_c = solution.mixers[0].mixed_c;
    CHECK(hot / (hot + cold) == Approx((mixed_c - cold_c) / (hot_c - cold_c)).epsilon(1e-9));
}

TEST_CASE("a mixer set above what the source sends stands open and says what it misses") {
    const solver::FlowsAnswer answer =
        solver::flows(tests::house_of(mixed("{kv: 4 m3/h, set: 55 degC}", "50 degC")));
    REQUIRE(answer.outcome.converged());
    REQUIRE(answer.mixers.size() == 1);
    CHECK(answer.mixers[0].travel_share == Approx(0.995));
    CHECK(answer.mixers[0].mixed_c < 50.0);
    REQUIRE_FALSE(answer.warnings.empty());
    CHECK(answer.warnings.front().find("cannot hold 55 degC") != std::string::npos);
}

TEST_CASE("a wider valve stands less open for the same temperature only through its authority") {
    // Both ports share one Kv, so the travel hangs on pressures and temperatures, not on Kv alone:
    // between a quarter and four times the Kv the mixed water stays as set.
    for (const char *kv : {"2 m3/h", "4 m3/h", "8 m3/h"}) {
        const solver::FlowsAnswer answer =
            solver::flows(tests::house_of(mixed(std::string("{kv: ") + kv + ", set: 42 degC}")));
        REQUIRE(answer.outcome.converged());
        CHECK(answer.mixers[0].mixed_c == Approx(42.0).margin(1e-5));
        CHECK(answer.mixers[0].travel_share > 0.005);
        CHECK(answer.mixers[0].travel_share < 0.995);
    }
}

TEST_CASE("a mixer's authority is its open loss over that and its run's pipes") {
    const solver::FlowsAnswer answer =
        solver::flows(tests::house_of(mixed("{kv: 4 m3/h, set: 45 degC}")));
    REQUIRE(answer.outcome.converged());
    const solver::MixerRow &mixer = answer.mixers.at(0);
    double hot_pa = 0.0;
    double pipes_pa = 0.0;
    for (const solver::LinkRow &row : answer.links)
        if (row.what == "mixer, hot port")
            hot_pa = row.loss_pa;
        else if (row.where.starts_with("run floor feed") && row.what.starts_with("pipe"))
            pipes_pa += row.loss_pa;
    // (Q/Kv)^2 bar of water near 1000 kg/m3, as the open valve would take it.
    const double open_pa = std::pow(mixer.hot_m3_s * 3600.0 / 4.0, 2.0) * 1e5;
    CHECK(hot_pa * mixer.travel_share * mixer.travel_share == Approx(open_pa).epsilon(0.03));
    CHECK(mixer.authority_share.value() == Approx(open_pa / (open_pa + pipes_pa)).epsilon(0.03));
    CHECK(mixer.cold_m3_s > 0.0);
}

// Fixed at 40 % of its travel the mixer lets nothing past the check valve, at 45 % its circuit is
// hot.
TEST_CASE(
    "A mixer that finds no position for a spring's sake is put beside the jump and said to hunt") {
    const networks::House house = tests::house_of(R"(
house: Random
levels: {ground: 0 m, upstairs: 2.7 m}
rooms:
  room 2: {floor_area: 8.1 m2, indoor: 20 degC, loss: 271 W}
source:
  kind: boiler
  flow_temperature: 69.7 degC
  drop: 13.2 K
  circulator: {states: gross, curve: [[0 m3/h, 8.31 m], [1.063 m3/h, 6.64 m], [2.599 m3/h, 0.83 m]], mode: fixed_speed}
  inner: [{name: exchanger, loss: 14.2 kPa, at_flow: 1.181 m3/h}]
pipework:
  - run: primaries
    from: source
    to: header
    pipe: copper 35
    length: 8.7 m
  - run: feed manifold 2
    from: header
    to: manifold 2
    pipe: copper 35
    length: 2.7 m
    pump: {model: generic 6 m, mode: constant_pressure, setting: 2.5 m}
    mixer: {kv: 3.5 m3/h, set: 28 degC}
    parts: [{part: check_valve, kv: 7 m3/h, opens: 1 kPa, side: return}]
header: {bore: 91 mm, height: 0.5 m, level: ground}
manifolds:
  manifold 2:
    loops:
      - {room: room 2, pipe: pex 16x2, length: 54.7 m, tails: 0.2 m}
)");
    const solver::FlowsAnswer answer = solver::flows(house);
    REQUIRE(answer.outcome.converged());
    REQUIRE(answer.mixers.size() == 1);
    const double missed_k = answer.mixers.front().mixed_c - 28.0;
    CHECK(std::abs(missed_k) > 1.0);
    REQUIRE(answer.warnings.size() >= 1);
    const std::string &warning = answer.warnings.front();
    INFO(warning);
    CHECK(warning.find("the mixer of run feed manifold 2 cannot hold 28 degC") !=
          std::string::npos);
    CHECK(warning.find("and will hunt") != std::string::npos);
    // Held by hand on either side of the jump it mixes too cold, and too hot.
    const auto back_c = [&](double travel) {
        networks::House other = house;
        other.runs.at(1).mixer->position = travel;
        other.runs.at(1).mixer->set_c.reset();
        const solver::FlowsAnswer held = solver::flows(other);
        REQUIRE(held.outcome.converged());
        return held.emitters.at(0).out_c;
    };
    CHECK(back_c(0.35) == Approx(20.0).margin(0.01)); // nothing comes from the source
    CHECK(back_c(0.50) > 30.0);                       // what comes back is warmer than what is set
}
