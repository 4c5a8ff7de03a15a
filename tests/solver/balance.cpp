#include "solver/questions/balance.hpp"
#include "models/chi_squared.hpp"
#include "solver/questions/balanced.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/site_readings.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/report/report.hpp"
#include "solver/solve.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>

namespace {

using namespace headroom;
using solver::BalanceAnswer;
using solver::BalanceScope;
using solver::BalanceValve;

// Two loops on one manifold through a feed pipe, in a liquid of 1000 kg/m3 and 1 mPa s: all laminar
// and straight. Hagen-Poiseuille, 128 mu L V/(pi D^4), and Kv = V sqrt(1 bar/dp) (IEC 60534-1) give
// every figure by hand. The heat capacity at 35 degC is that of water, 4178.69 J/(kg K)
// (IAPWS-IF97).
std::string two_loops(const std::string &circulator, const std::string &more = "",
                      const std::string &manifold = "") {
    return R"(
house: two loops
water: {density: 1000 kg/m3, viscosity: 1 mPa s}
source:
  kind: heat_pump
  flow_temperature: 37.5 degC
  drop: 5 K
  circulator: {states: external, derating: 0 %, )" +
           circulator + R"(}
pipework:
  - {run: feed, from: source, to: manifold, pipe: {bore: 20 mm, roughness: 0.001 mm}, length: 10 m}
manifolds:
  manifold:
    valve_kv: 1 m3/h
)" + manifold +
           R"(    loops:
      - {loop: near, heat: 209 W, pipe: {bore: 12 mm, roughness: 0.001 mm}, length: 50 m, curved: 0 %}
      - {loop: far, heat: 209 W, pipe: {bore: 12 mm, roughness: 0.001 mm}, length: 80 m, curved: 0 %}
)" + more;
}

const std::string curve = "curve: [[0 m3/h, 9 kPa], [1 m3/h, 3 kPa]]";

constexpr double design_m3_s = 209.0 / (4178.69 * 5.0) / 1000.0;
// The head needed is sought to 0.001 Pa; local losses leave the square law by 0.005 Pa near rest.
constexpr double small_pa = 0.02;

double laminar_pa(double length_m, double bore_m, double flow_m3_s) {
    return 128.0 * 1e-3 * length_m * flow_m3_s / (std::numbers::pi * std::pow(bore_m, 4));
}
double kv_pa(double kv_m3_h, double flow_m3_s) {
    return 1e5 * std::pow(flow_m3_s * 3600.0 / kv_m3_h, 2);
}
double feed_pa() {
    return 2.0 * laminar_pa(10.0, 0.020, 2.0 * design_m3_s);
}
// What both loops stand between once balanced: the far loop with its valve open.
double circuit_pa() {
    return laminar_pa(80.0, 0.012, design_m3_s) + kv_pa(1.0, design_m3_s);
}
// What the near loop's valve must take of it.
double near_valve_pa() {
    return circuit_pa() - laminar_pa(50.0, 0.012, design_m3_s);
}
double near_kv() {
    return design_m3_s * 3600.0 * std::sqrt(1e5 / near_valve_pa());
}

BalanceAnswer balance(const std::string &text, BalanceScope scope = BalanceScope::AsDrawn) {
    BalanceAnswer answer = solver::balance(tests::house_of(text), scope);
    REQUIRE(answer.outcome.converged());
    return answer;
}

const BalanceValve &valve(const BalanceAnswer &answer, const std::string &name) {
    for (const BalanceValve &row : answer.valves)
        if (row.name == name)
            return row;
    FAIL("no valve " << name);
    return answer.valves.front();
}

std::string replaced(std::string text, const std::string &what, const std::string &with) {
    const std::size_t at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

std::vector<std::string> examples() {
    std::vector<std::string> names;
    for (const auto &entry :
         std::filesystem::directory_iterator(std::string(SOURCE_DIR) + "/networks/examples"))
        if (entry.path().extension() == ".yaml")
            names.push_back(entry.path().filename().string());
    std::sort(names.begin(), names.end());
    return names;
}

} // namespace

TEST_CASE("setting and authority of two parallel loops are those worked out by hand") {
    const BalanceAnswer answer = balance(two_loops(curve));
    const BalanceValve &near = valve(answer, "near");
    CHECK(near.surplus_pa == Approx(near_valve_pa() - kv_pa(1.0, design_m3_s)).margin(small_pa));
    CHECK(near.kv_m3_h == Approx(near_kv()).epsilon(1e-5));
    CHECK(near.authority_share == Approx(near_valve_pa() / circuit_pa()).epsilon(1e-5));
    const BalanceValve &far = valve(answer, "far");
    CHECK(far.open);
    CHECK(far.kv_m3_h == Approx(1.0).epsilon(1e-4));
    CHECK(far.authority_share == Approx(kv_pa(1.0, design_m3_s) / circuit_pa()).epsilon(1e-4));
    CHECK(far.design_m3_s == Approx(design_m3_s).epsilon(1e-5)); // digits of the heat capacity
}

TEST_CASE("a pump at fixed speed is turned to the speed whose curve gives the head needed") {
    const BalanceAnswer answer = balance(two_loops(curve));
    const auto work = solver::balanced(tests::house_of(two_loops(curve)));
    // n^2 (9 kPa - 6 kPa h/m3 V/n) = needed: a quadratic in n.
    const double needed = feed_pa() + circuit_pa();
    const double slope = 6e3 * 2.0 * design_m3_s * 3600.0;
    const double speed = (slope + std::sqrt(slope * slope + 4.0 * 9e3 * needed)) / (2.0 * 9e3);
    CHECK(answer.pumps.at(0).needed_pa == Approx(needed).margin(small_pa));
    CHECK(work.pumps.at(0).as_set.speed == Approx(speed).epsilon(1e-5));
    CHECK(answer.pumps[0].index == "far");
}

TEST_CASE("a pump at constant pressure is set to the head needed and keeps its mode") {
    const auto work = solver::balanced(
        tests::house_of(two_loops(curve + ", mode: constant_pressure, setting: 8 kPa")));
    REQUIRE(work.outcome.converged());
    CHECK(work.pumps.at(0).as_set.mode == networks::PumpMode::ConstantPressure);
    CHECK(work.pumps[0].as_set.setting_pa == Approx(feed_pa() + circuit_pa()).margin(small_pa));
}

TEST_CASE("the power saved is flow times the head no longer made, over the efficiency") {
    const BalanceAnswer answer =
        balance(two_loops(curve + ", mode: constant_pressure, setting: 8 kPa"));
    const double saved = 2.0 * design_m3_s * (8e3 - feed_pa() - circuit_pa()) / 0.30;
    CHECK(answer.saved_w == Approx(saved).epsilon(1e-4));
    REQUIRE_FALSE(answer.assumed.empty());
    CHECK(answer.assumed.back().find("30 %") != std::string::npos);
}

TEST_CASE("a meter whose scale does not hold the design flow is named") {
    // The design flow is 0.6 l/min.
    const std::string low = "    meter: {from: 0.5 l/min, to: 5 l/min}\n";
    const std::string high = "    meter: {from: 1 l/min, to: 5 l/min}\n";
    CHECK(valve(balance(two_loops(curve, "", low)), "near").meter_holds);
    const BalanceAnswer answer = balance(two_loops(curve, "", high));
    CHECK_FALSE(valve(answer, "near").meter_holds);
    REQUIRE_FALSE(answer.remarks.empty());
    CHECK(answer.remarks.front().find("`near`, `far`") != std::string::npos);
    CHECK_FALSE(valve(balance(two_loops(curve)), "near").meter);
}

TEST_CASE("a lockshield's turns lie between the rows of its table that hold the Kv") {
    const std::string radiator =
        "radiators: [{radiator: rad, heat: 209 W, from: manifold, valve_kv: "
        "1 m3/h, zeta: 0, lockshield: {table: [[0.5, 0.1 m3/h], [1, 0.3 "
        "m3/h], [2, 0.5 m3/h]]}}]\n";
    const BalanceAnswer answer = balance(two_loops(curve, radiator));
    const BalanceValve &rad = valve(answer, "rad");
    // No pipe and no body: its two valves stand between the same points as the far loop. The body
    // keeps a loss coefficient of 0.001.
    const double taken = circuit_pa() - kv_pa(1.0, design_m3_s);
    const double kv = design_m3_s * 3600.0 * std::sqrt(1e5 / taken);
    REQUIRE(kv > 0.1);
    REQUIRE(kv < 0.3);
    CHECK(rad.kv_m3_h == Approx(kv).epsilon(1e-4));
    REQUIRE(rad.turns);
    CHECK(*rad.turns == Approx(0.5 + 0.5 * (kv - 0.1) / 0.2).epsilon(1e-4));
}

TEST_CASE("the steps set the greatest surplus first and end at the design flows") {
    const BalanceAnswer answer = balance(two_loops(curve));
    REQUIRE(answer.steps.size() == 2);
    CHECK(answer.steps[0].valve == "near");
    CHECK_FALSE(answer.steps[0].open);
    CHECK(answer.steps[1].valve == "far");
    CHECK(answer.steps[1].open);
    // Turning the near valve down lowers its own flow and raises the other's.
    CHECK(answer.steps[0].reads_m3_s < answer.steps[0].before_m3_s);
    CHECK(answer.steps[0].others_m3_s == Approx(answer.steps[1].before_m3_s).epsilon(1e-12));
    CHECK(answer.steps[1].others_m3_s == 0.0); // no valve follows the last
    for (const solver::BalanceStep &step : answer.steps)
        CHECK(step.final_m3_s == Approx(design_m3_s).epsilon(1e-4));
    // After the last turn its meter is already where it ends.
    CHECK(answer.steps[1].reads_m3_s == Approx(answer.steps[1].final_m3_s).epsilon(1e-9));
}

TEST_CASE(
    "what the first meter reads, the second valve still open, is the flow worked out by hand") {
    // At constant pressure behind a feed of next to no loss each loop is on its own: the first
    // reading is already its last. The feed of 1 mm is as good as none.
    const std::string text =
        replaced(two_loops(curve + ", mode: constant_pressure, setting: 8 kPa"), "length: 10 m}",
                 "length: 0.001 m}");
    const BalanceAnswer answer = balance(text);
    CHECK(answer.steps.at(0).reads_m3_s == Approx(design_m3_s).epsilon(1e-4));
    // Open, the near loop loses a V + b V^2 = what stands between the ports: a quadratic in V.
    const double a = laminar_pa(50.0, 0.012, 1.0);
    const double b = kv_pa(1.0, 1.0);
    const double open = (-a + std::sqrt(a * a + 4.0 * b * circuit_pa())) / (2.0 * b);
    CHECK(answer.steps[0].before_m3_s == Approx(open).epsilon(1e-4));
}

TEST_CASE("a circuit with a pump of its own is balanced against that pump") {
    std::string text = replaced(
        two_loops(curve), "  - {run: feed, from: source, to: manifold",
        "  - {run: primaries, from: source, to: header, pipe: {bore: 20 mm, roughness: 0.001 mm}, "
        "length: 1 m}\n  - {run: feed, from: header, to: manifold, pump: {model: generic 4 m}");
    text += "header: {bore: 80 mm, height: 0.5 m}\n";
    const BalanceAnswer as_drawn = balance(text);
    REQUIRE(as_drawn.pumps.size() == 2);
    CHECK(as_drawn.pumps[0].name == "source");
    CHECK(as_drawn.pumps[0].emitters == 0);
    CHECK(as_drawn.pumps[0].setting.empty());
    CHECK(as_drawn.pumps[0].set_pa == Approx(as_drawn.pumps[0].found_pa));
    CHECK(as_drawn.pumps[1].name == "feed");
    CHECK(valve(as_drawn, "near").pump == "feed");
    // From the header on; its own joints and common pipe lose next to nothing.
    CHECK(as_drawn.pumps[1].needed_pa == Approx(feed_pa() + circuit_pa()).epsilon(2e-3));
    CHECK(valve(as_drawn, "near").kv_m3_h == Approx(near_kv()).epsilon(1e-3));
    const BalanceAnswer single = balance(text, BalanceScope::SingleCirculator);
    REQUIRE(single.pumps.size() == 1);
    CHECK(single.pumps[0].needed_pa ==
          Approx(feed_pa() + circuit_pa() + 2.0 * laminar_pa(1.0, 0.020, 2.0 * design_m3_s))
              .epsilon(1e-4));
}

TEST_CASE("a pump that is too weak is said to be, and by whom it is missed") {
    const BalanceAnswer answer =
        balance(two_loops("curve: [[0 m3/h, 1.5 kPa], [1 m3/h, 1.3 kPa]]"));
    CHECK_FALSE(answer.pumps.at(0).driven);
    CHECK_FALSE(valve(answer, "far").driven);
    CHECK(valve(answer, "near").driven);
    CHECK(valve(answer, "far").set_share < 1.0);
    CHECK(answer.sentence.find("too weak for `far`") != std::string::npos);
}

TEST_CASE("of many loops that a weak pump misses three are named and the rest are counted") {
    std::string text = two_loops("curve: [[0 m3/h, 0.2 kPa], [1 m3/h, 0.1 kPa]]");
    for (const std::string name : {"c", "d", "e"})
        text += "      - {loop: " + name +
                ", heat: 209 W, pipe: {bore: 12 mm, roughness: 0.001 mm}, length: 60 m, curved: 0 "
                "%}\n";
    CHECK(balance(text).sentence.find("too weak for `near`, `far`, `c` and 2 more") !=
          std::string::npos);
}

TEST_CASE(
    "a loop that no head drives does not keep the pump from being turned down for the others") {
    const std::string odd =
        "  - {run: odd, from: source, to: nook, pipe: {bore: 20 mm, roughness: 0.001 mm}, length: "
        "1 m, "
        "parts: [{part: flow_limiter, kv: 3 m3/h, limit: 0.01 l/min}]}\nmanifolds:";
    const BalanceAnswer answer = balance(
        replaced(two_loops(curve, "radiators: [{radiator: behind, heat: 100 W, from: nook}]\n"),
                 "manifolds:", odd));
    CHECK(valve(answer, "behind").blocked);
    CHECK_FALSE(valve(answer, "near").blocked);
    CHECK(answer.pumps.at(0).driven);
    CHECK(answer.pumps[0].needed_pa == Approx(feed_pa() + circuit_pa()).margin(small_pa));
    CHECK(answer.sentence.find("no head drives `behind`") != std::string::npos);
    CHECK(answer.sentence.find("of its design flow") == std::string::npos);
}

TEST_CASE("with the settings of every example the free-running house gives the design flows") {
    int houses = 0;
    for (const std::string &name : examples())
        for (const bool single : {false, true}) {
            INFO(name << (single ? ", single circulator" : ""));
            const networks::House given = solver::size(tests::example_house(name)).house;
            const auto work = solver::balanced(single ? solver::single_circulator(given) : given);
            REQUIRE(work.outcome.converged());
            // Solved afresh from nothing but the valves' Kv and the pumps' settings.
            networks::House free = single ? solver::single_circulator(given) : given;
            for (const solver::ValveSetting &row : work.settings.valves)
                free.emitters[row.emitter].balancing = {networks::Balancing::Kind::Kv, row.kv_m3_h};
            for (const solver::BalancedPump &pump : work.pumps)
                (pump.circuit.run ? *free.runs[*pump.circuit.run].pump : free.source->circulator) =
                    pump.as_set;
            const networks::Network network = networks::expand(free);
            const solver::Solution solution = solver::solve(network, &free);
            REQUIRE(solution.outcome.converged());
            bool all_driven = true;
            for (std::size_t i = 0; i < network.emitters.size(); ++i) {
                const networks::EmitterLinks &links = network.emitters[i];
                const solver::ValveSetting &row = work.settings.valves[i];
                const bool driven = row.flow_kg_s > 0.999 * row.design_kg_s;
                all_driven = all_driven && driven;
                INFO(given.emitters[links.emitter].name);
                // Within 1 %, the measure of a setting; where the pump is too weak, of what
                // ideal valves would leave it.
                CHECK(solution.flow_kg_s[links.links.front()] /
                          (driven ? links.design_flow_kg_s : row.flow_kg_s) ==
                      Approx(1.0).margin(0.01));
            }
            houses += all_driven ? 1 : 0;
        }
    CHECK(houses >= 20);
}

TEST_CASE("balance and drive set the same valves of a house with one circulator") {
    for (const char *name : {"direct-16mm.yaml", "microbore-radiators.yaml"}) {
        const auto drive = solver::drive(tests::example_house(name));
        const auto answer = solver::balance(tests::example_house(name), BalanceScope::AsDrawn);
        REQUIRE(answer.valves.size() == drive.emitters.size());
        CHECK(answer.pumps[0].set_pa == Approx(drive.set_pa).margin(small_pa));
        for (std::size_t i = 0; i < answer.valves.size(); ++i)
            CHECK(answer.valves[i].kv_m3_h ==
                  Approx(drive.emitters[i].valve_kv_m3_h).epsilon(1e-3));
    }
}

// From here on: readings.
TEST_CASE("a circulator that only other pumps could push so far is told no power") {
    std::string text = tests::example_text("header-three-pumps.yaml");
    const auto replace = [&](const std::string &what, const std::string &instead) {
        REQUIRE(text.find(what) != std::string::npos);
        text.replace(text.find(what), what.size(), instead);
    };
    replace("mode: fixed_speed", "mode: constant_pressure, setting: 1 m");
    replace("    pump: {model: generic 6 m, mode: constant_pressure, setting: 2.5 m}\n", "");
    const solver::BalanceAnswer answer =
        solver::balance(tests::house_of(text), solver::BalanceScope::AsDrawn);
    REQUIRE(answer.outcome.converged());
    const solver::BalancePump &source = answer.pumps.front();
    REQUIRE(source.found_pa < 0.0);
    CHECK_FALSE(source.found_power_w);
    for (const solver::BalancePump &pump : answer.pumps)
        CHECK(pump.found_power_w.value_or(0.0) >= 0.0);
    std::string remarks;
    for (const std::string &remark : answer.remarks)
        remarks += remark + "; ";
    CHECK_THAT(remarks, Catch::Contains("only other pumps could push that much through it"));
    CHECK_THAT(remarks, Catch::Contains("the mixer of `front floor feed` has no pump behind it"));
    CHECK_THAT(remarks, !Catch::Contains("`back floor feed`")); // it has its own
    CHECK_THAT(solver::report(answer, solver::Format::Json), Catch::Contains("\"now_w\": null"));
}

namespace {

// One loop straight across a pump at constant pressure, the valve and joints wide open.
std::string one_loop(const std::string &readings) {
    return R"(
house: one loop
water: {density: 1000 kg/m3, viscosity: 1 mPa s}
source:
  kind: heat_pump
  flow_temperature: 37.5 degC
  drop: 5 K
  circulator: {states: external, derating: 0 %, mode: constant_pressure, setting: 1 kPa, curve: [[0 m3/h, 9 kPa], [1 m3/h, 3 kPa]]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: {bore: 40 mm, roughness: 0.001 mm}, length: 0.001 m}
manifolds:
  manifold:
    valve_kv: 100 m3/h
    loops:
      - {loop: only, heat: 209 W, pipe: {bore: 12 mm, roughness: 0.001 mm}, length: 50 m, curved: 0 %}
readings:
)" + readings;
}

const solver::Suspect *suspect(const solver::Diagnosis &diagnosis, const std::string &title) {
    for (const solver::Suspect &row : diagnosis.suspects)
        if (row.title == title)
            return &row;
    return nullptr;
}

} // namespace

TEST_CASE("half the flow through one laminar loop is twice its length") {
    // 1 kPa = 128 mu L V/(pi D^4) over 50 m: 0.0000102 m3/s or 0.61 l/min.
    const double drawn = 1e3 / laminar_pa(50.0, 0.012, 1.0);
    const double read_l_min = 0.5 * drawn * 6e4;
    const auto house =
        tests::house_of(one_loop("  - {meter: only, flow: " + std::to_string(read_l_min) +
                                 " l/min, accuracy: 0.01 l/min}\n"
                                 "  - {pump: source, head: 1 kPa, accuracy: 10 Pa}\n"));
    const solver::Diagnosis diagnosis = solver::diagnose(house);
    REQUIRE(diagnosis.outcome.converged());
    CHECK(diagnosis.readings.at(0).drawn == Approx(drawn).epsilon(1e-3));
    const solver::Suspect *loop = suspect(diagnosis, "loop `only`");
    REQUIRE(loop != nullptr);
    bool found = false;
    for (const solver::FaultWay &way : loop->ways)
        if (way.what.starts_with("a length")) {
            found = true;
            CHECK(way.factor_share == Approx(2.0).epsilon(5e-3));
            // V falls as 1/L, so L is as uncertain as V: 0.01 l/min of 0.30.
            CHECK(way.factor_error_share / way.factor_share ==
                  Approx(0.01 / read_l_min).epsilon(0.02));
        }
    CHECK(found);
    CHECK(loop->chi_squared < 1e-3);
    // The pump shows its full head, so that it is not to blame.
    const solver::Suspect *pump = suspect(diagnosis, "circulator of the source");
    REQUIRE(pump != nullptr);
    CHECK_FALSE(pump->alike);
}

TEST_CASE("a meter alone cannot tell a slow pump from a long loop, and the answer says so") {
    const double drawn = 1e3 / laminar_pa(50.0, 0.012, 1.0);
    const auto house =
        tests::house_of(one_loop("  - {meter: only, flow: " + std::to_string(0.5 * drawn * 6e4) +
                                 " l/min, accuracy: 0.01 l/min}\n"));
    const solver::Diagnosis diagnosis = solver::diagnose(house);
    const solver::Suspect *loop = suspect(diagnosis, "loop `only`");
    const solver::Suspect *pump = suspect(diagnosis, "circulator of the source");
    REQUIRE(loop != nullptr);
    REQUIRE(pump != nullptr);
    CHECK(loop->alike);
    CHECK(pump->alike);
    CHECK(pump->ways.front().factor_share == Approx(0.5).epsilon(5e-3));
    CHECK(diagnosis.sentence.find("cannot tell apart") != std::string::npos);
}

TEST_CASE("readings of the house as drawn leave it as drawn") {
    networks::House house = tests::example_house("balance-readings.yaml");
    const networks::House stands = solver::as_read(house);
    const std::vector<double> shown = solver::read_off(stands, solver::solved(stands));
    for (std::size_t i = 0; i < shown.size(); ++i)
        house.readings[i].value = shown[i] + (i % 2 == 0 ? 0.5 : -0.5) * house.readings[i].accuracy;
    const solver::Diagnosis diagnosis = solver::diagnose(house);
    CHECK(diagnosis.as_drawn);
    CHECK(diagnosis.explained);
    CHECK(diagnosis.drawn_chi_squared == Approx(0.25 * 9.0).epsilon(1e-6));
    CHECK(diagnosis.sentence.find("agree") != std::string::npos);
}

TEST_CASE("readings that no single part explains are said to be so") {
    networks::House house = tests::example_house("balance-readings.yaml");
    house.readings[0].value *= 0.5;
    house.readings[3].value *= 1.5;
    const solver::Diagnosis diagnosis = solver::diagnose(house);
    CHECK_FALSE(diagnosis.explained);
    CHECK(diagnosis.sentence.find("something else differs too") != std::string::npos);
}

TEST_CASE("the shipped readings name the kinked loop and the valve to open for it") {
    const BalanceAnswer answer =
        solver::balance(tests::example_house("balance-readings.yaml"), BalanceScope::AsDrawn);
    REQUIRE(answer.diagnosis);
    CHECK(answer.diagnosis->suspects.front().part == "study 1");
    CHECK_FALSE(answer.diagnosis->suspects.at(1).alike);
    REQUIRE(answer.next);
    CHECK(answer.next->valve == "study 1");
    CHECK(answer.next->kv_m3_h > answer.next->now_kv_m3_h);
    CHECK(answer.next->reads_m3_s > answer.next->now_m3_s);
}

TEST_CASE("probabilities over the suspects sum to one and fall with chi-squared") {
    const solver::Diagnosis diagnosis =
        solver::diagnose(tests::example_house("balance-readings.yaml"));
    double sum = 0.0;
    for (std::size_t i = 0; i < diagnosis.suspects.size(); ++i) {
        sum += diagnosis.suspects[i].probability_share;
        if (i > 0) {
            CHECK(diagnosis.suspects[i].chi_squared >= diagnosis.suspects[i - 1].chi_squared);
            // exp(-chi2/2), equal priors.
            CHECK(diagnosis.suspects[i].probability_share /
                      diagnosis.suspects[0].probability_share ==
                  Approx(std::exp(0.5 * (diagnosis.suspects[0].chi_squared -
                                         diagnosis.suspects[i].chi_squared)))
                      .epsilon(1e-9));
        }
    }
    CHECK(sum == Approx(1.0).epsilon(1e-12));
}

TEST_CASE("a gauge between two levels shows no more than one on a level") {
    // Its hoses are full of still water: only what flows is left.
    networks::House house = tests::example_house("direct-16mm.yaml");
    house.readings = {{networks::SiteReading::Kind::PressureBetween,
                       "landing.flow",
                       "cylinder cupboard.flow",
                       0.0,
                       100.0,
                       {},
                       {}}};
    const auto solved = solver::solved(house);
    REQUIRE(solved.solution.outcome.converged());
    double riser_pa = 0.0;
    for (std::size_t e = 0; e < solved.network.links.size(); ++e)
        if (const auto &link = solved.network.links[e];
            link.owner.kind == networks::Owner::Kind::Run &&
            house.runs[link.owner.index].name == "riser" && link.owner.side == networks::Side::Flow)
            riser_pa += solved.solution.loss_pa[e];
    CHECK(solver::read_off(house, solved).at(0) == Approx(-riser_pa).margin(1e-3));
}
