// Single faults and what readings tell of them, in a house where everything loses as the square of
// its flow, so that every figure follows by hand.
#include "solver/questions/faults.hpp"

#include "solver/questions/site_readings.hpp"
#include "solver/questions/suspects.hpp"
#include "tests/support/quadratic_loss.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using tests::kv_of;
using tests::kv_r;
using tests::pipe_r;
using tests::zeta_r;
using Kind = FaultyPart::Kind;
using Way = Fault::Way;

namespace {

constexpr double l_min = 1.0 / 6e4; // m3/s
constexpr double setting_pa = 20e3;
constexpr double quadratic = 1e-5; // losses are rounded off below some 0.005 Pa at rest

std::string text(const std::string &pump = "mode: constant_pressure, setting: 20 kPa",
                 const std::string &readings = "") {
    return R"(house: read by hand
water: {density: 1000 kg/m3, viscosity: 0.65 mPa s}
source: {kind: boiler, flow_temperature: 45 degC, drop: 10 K, circulator: {states: external, )" +
           pump + R"(, curve: [[0 m3/h, 60 kPa], [2 m3/h, 40 kPa]]}}
pipework: [{run: feed, from: source, to: manifold, pipe: {bore: 20 mm, friction_factor: 0.03}, length: 10 m, fittings: {elbow: 3}}]
manifolds:
  manifold:
    valve_kv: 1.1 m3/h
    loops:
      - {loop: a, heat: 500 W, pipe: {bore: 12 mm, friction_factor: 0.04}, length: 80 m, set_kv: 0.4 m3/h}
      - {loop: b, heat: 500 W, pipe: {bore: 12 mm, friction_factor: 0.04}, length: 60 m}
)" + readings;
}

double loop_r(double length_m, double kv_m3_h) {
    return pipe_r(0.04, length_m, 0.012) + kv_r(kv_m3_h);
}

// f L/D of 10 m each way is 30; three elbows of 2.0 below 23 mm each way are 12.
constexpr double run_zeta = 42.0;
const double run_r = zeta_r(run_zeta, 0.020);

struct Flows {
    double a, b, between_pa;
};

Flows by_hand(double a_r, double b_r, double run, double head_pa = setting_pa) {
    const double open = 1.0 / std::sqrt(a_r) + 1.0 / std::sqrt(b_r);
    const double both = std::sqrt(head_pa / (run + 1.0 / (open * open)));
    const double between = head_pa - run * both * both;
    return {std::sqrt(between / a_r), std::sqrt(between / b_r), between};
}

const Flows drawn = by_hand(loop_r(80, 0.4), loop_r(60, 1.1), run_r);

std::string readings(const Flows &flows) {
    return fmt::format(
        "readings:\n"
        "  - {{meter: a, flow: {:.9f} l/min, accuracy: 0.05 l/min}}\n"
        "  - {{meter: b, flow: {:.9f} l/min, accuracy: 0.05 l/min}}\n"
        "  - {{pump: source, flow: {:.9f} l/min, accuracy: 0.3 l/min}}\n"
        "  - {{pump: source, head: 20 kPa, accuracy: 0.3 kPa}}\n"
        "  - {{pressure_between: [manifold.flow, manifold.return], difference: "
        "{:.6f} Pa, accuracy: 300 Pa}}\n"
        "  - {{temperature_at: source.flow, temperature: 45 degC, accuracy: 0.5 K}}\n",
        flows.a / l_min, flows.b / l_min, (flows.a + flows.b) / l_min, flows.between_pa);
}

networks::House house_with(const Flows &flows) {
    return tests::house_of(text("mode: constant_pressure, setting: 20 kPa", readings(flows)));
}

// Squares of (shown - read)/accuracy over the five readings that can differ.
double chi_squared(const Flows &shown, const Flows &read) {
    const auto square = [](double miss) { return miss * miss; };
    return square((shown.a - read.a) / (0.05 * l_min)) +
           square((shown.b - read.b) / (0.05 * l_min)) +
           square((shown.a + shown.b - read.a - read.b) / (0.3 * l_min)) +
           square((shown.between_pa - read.between_pa) / 300.0);
}

std::vector<Fault> faults_of(const networks::House &house) {
    return possible_faults(house, solved(as_read(house)));
}

} // namespace

TEST_CASE("every loop, run and pump has the faults that could show, measured by what it loses") {
    const std::vector<Fault> faults = faults_of(tests::house_of(text()));
    REQUIRE(faults.size() == 7);
    const std::vector<std::pair<Kind, Way>> expected{
        {Kind::Emitter, Way::AddedLoss},   {Kind::Emitter, Way::Length},
        {Kind::Emitter, Way::ValveOpened}, {Kind::Emitter, Way::AddedLoss},
        {Kind::Emitter, Way::Length},      {Kind::Run, Way::AddedLoss},
        {Kind::Pump, Way::PumpSpeed}};
    for (std::size_t i = 0; i < faults.size(); ++i) {
        INFO("fault " << i);
        CHECK(faults[i].part.kind == expected[i].first);
        CHECK(faults[i].way == expected[i].second);
    }
    CHECK(faults[0].least == 0.0);
    CHECK_THAT(faults[0].drawn_kv_m3_h, WithinRel(kv_of(loop_r(80, 0.4)), quadratic));
    CHECK_THAT(faults[3].drawn_kv_m3_h, WithinRel(kv_of(loop_r(60, 1.1)), quadratic));
    CHECK(faults[2].least == 0.0);
    CHECK_THAT(faults[2].most, WithinRel(std::log(1.1 / 0.4), 1e-12)); // as far as it opens
    CHECK_THAT(faults[5].drawn_zeta, WithinRel(run_zeta, quadratic));
}

TEST_CASE("a shut loop has no faults to be seen, a stopped pump none of its speed") {
    std::string shut = text();
    shut.replace(shut.find("length: 60 m"), 12, "length: 60 m, open: no");
    for (const Fault &fault : faults_of(tests::house_of(shut)))
        CHECK(!(fault.part.kind == Kind::Emitter && fault.part.index == 1));
    networks::House house = tests::house_of(text());
    house.runs[0].pump = house.source->circulator;
    CHECK(faults_of(house).back().part == FaultyPart{Kind::Pump, 1});
    house.runs[0].pump->mode = networks::PumpMode::Stopped;
    CHECK(faults_of(house).back().part == FaultyPart{Kind::Pump, 0});
}

TEST_CASE("meters, displays and gauges show what continuity and Darcy-Weisbach give") {
    const networks::House house = house_with(drawn);
    const std::vector<double> shown = read_off(house, solved(as_read(house)));
    REQUIRE(shown.size() == 6);
    CHECK_THAT(shown[0], WithinRel(drawn.a, quadratic));
    CHECK_THAT(shown[1], WithinRel(drawn.b, quadratic));
    CHECK_THAT(shown[2], WithinRel(drawn.a + drawn.b, quadratic));
    CHECK_THAT(shown[3], WithinAbs(setting_pa, 0.1));
    CHECK_THAT(shown[4], WithinAbs(drawn.between_pa, 0.1));
    CHECK_THAT(shown[5], WithinAbs(45.0, 1e-9));
    CHECK(reading_name(house.readings[0]) == "meter of `a`");
    CHECK(reading_name(house.readings[2]) == "circulator, flow shown");
    CHECK(reading_name(house.readings[3]) == "circulator, head shown");
    CHECK(reading_name(house.readings[4]) == "between `manifold.flow` and `manifold.return`");
    CHECK(reading_name(house.readings[5]) == "temperature at `source.flow`");
    CHECK(loop_not_laid(house).empty());
}

TEST_CASE("a fault of a factor e^u changes a length, a loss, a valve or a head by that factor") {
    const networks::House house = house_with(drawn);
    const std::vector<Fault> faults = faults_of(house);
    const auto shows = [&](const Fault &fault, double u, const Flows &flows) {
        const networks::House faulty = with_fault(house, fault, u);
        const std::vector<double> shown = read_off(faulty, solved(as_read(faulty)));
        CHECK_THAT(shown[0], WithinRel(flows.a, quadratic));
        CHECK_THAT(shown[1], WithinRel(flows.b, quadratic));
    };
    const double a_r = loop_r(80, 0.4), b_r = loop_r(60, 1.1);
    shows(faults[0], std::log(3.0), by_hand(3.0 * a_r, b_r, run_r)); // twice its loss added
    shows(faults[0], 0.0, drawn);
    shows(faults[1], std::log(2.0), by_hand(loop_r(160, 0.4), b_r, run_r));
    shows(faults[2], std::log(2.0), by_hand(loop_r(80, 0.8), b_r, run_r));
    shows(faults[5], std::log(3.0), by_hand(a_r, b_r, 3.0 * run_r));
    shows(faults[6], std::log(0.5), by_hand(a_r, b_r, run_r, 0.5 * setting_pa));
}

TEST_CASE("a fault's words give its figures in place of the drawn ones") {
    const networks::House house = tests::house_of(text());
    const auto words = [&](const Fault &fault, double factor) {
        return fault_words(house, fault, std::log(factor));
    };
    const FaultyPart a{Kind::Emitter, 0};
    CHECK(words({a, Way::Length, -1.0, 1.0}, 2.0) == "a length of 160 m in place of 80 m");
    // Four times the loss of Kv 0.6 is Kv 0.3; with the valve's 0.4: 1/sqrt(6.25 + 11.11) = 0.24.
    CHECK(words({a, Way::AddedLoss, 0.0, 6.0, 0.6}, 5.0) ==
          "an added loss of Kv 0.3 m3/h, or its valve at Kv 0.24 in place of 0.4");
    CHECK(words({a, Way::ValveOpened, 0.0, 1.0}, 2.0) ==
          "its valve at Kv 0.8 m3/h in place of 0.4");
    CHECK(words({{Kind::Run, 0}, Way::AddedLoss, 0.0, 6.0, 0.0, 42.0}, 3.0) ==
          "2 times the drawn loss of the run added to it");
    const Fault slow{{Kind::Pump, 0}, Way::PumpSpeed, -1.0, 1.0};
    CHECK(words(slow, 0.5) == "a setting of 10.0 kPa in place of 20.0");
    const networks::House fixed = tests::house_of(text("mode: fixed_speed, speed: 68 %"));
    CHECK(fault_words(fixed, slow, std::log(0.5)) == "a speed of 34 % in place of 68 %");
    const networks::House flow = tests::house_of(text("mode: constant_flow, flow: 12 l/min"));
    CHECK(fault_words(flow, slow, std::log(0.5)) == "a flow of 6.0 l/min in place of 12.0");
    CHECK(complaint_of(flow, slow.part, false) == "gives less flow than stated");
    CHECK(complaint_of(house, slow.part, true) == "gives more head than stated");
    CHECK(part_title(house, slow.part) == "circulator of the source");
    CHECK(part_title(house, {Kind::Run, 0}) == "run `feed`");
    CHECK(part_title(house, a) == "loop `a`");
    CHECK(part_title(house, {Kind::Pump, 1}) == "pump of run `feed`");
    CHECK(part_name(house, {Kind::Pump, 1}) == "feed");
}

TEST_CASE("a loop of twice its length is found, with its factor and the error of it") {
    const double b_r = loop_r(60, 1.1);
    const Flows read = by_hand(loop_r(160, 0.4), b_r, run_r);
    const Diagnosis found = diagnose(house_with(read));
    REQUIRE(found.outcome.converged());
    CHECK_FALSE(found.as_drawn);
    CHECK(found.explained);
    CHECK_THAT(found.drawn_chi_squared, WithinRel(chi_squared(drawn, read), 1e-4));
    // chi-squared at 5 %, 5 degrees of freedom, as printed: 11.070; the approximation within 0.3 %
    CHECK_THAT(found.chance_chi_squared, WithinRel(11.070, 3e-3));
    const Suspect &first = found.suspects.front();
    CHECK(first.title == "loop `a`");
    CHECK(first.complaint.find("more loss than drawn") == 0);
    REQUIRE(first.ways.size() == 2); // longer, or something in its way
    for (const FaultWay &way : first.ways)
        CHECK_THAT(way.chi_squared, WithinAbs(0.0, 1e-3));
    const bool length_first = first.ways[0].what.find("length") != std::string::npos;
    const FaultWay &length = first.ways[length_first ? 0 : 1];
    const FaultWay &added = first.ways[length_first ? 1 : 0];
    CHECK_THAT(length.factor_share, WithinRel(2.0, 1e-3));
    CHECK_THAT(added.factor_share, WithinRel(loop_r(160, 0.4) / loop_r(80, 0.4), 1e-3));
    // The error of the factor: one over the root of the squared slopes, here by differences.
    const double h = 1e-4;
    const double slopes = chi_squared(by_hand(loop_r(160 * (1 + h), 0.4), b_r, run_r),
                                      by_hand(loop_r(160 * (1 - h), 0.4), b_r, run_r)) /
                          (4.0 * h * h);
    CHECK_THAT(length.factor_error_share, WithinRel(2.0 / std::sqrt(slopes), 0.01));
    CHECK(found.readings.size() == 6);
    CHECK_THAT(found.readings[0].drawn, WithinRel(drawn.a, quadratic));
    CHECK_THAT(found.readings[0].measured, WithinRel(read.a, 1e-6));
    CHECK_THAT(found.readings[0].fitted, WithinRel(read.a, 1e-3));
    CHECK(found.readings[4].accuracy == 300.0);
}

TEST_CASE("suspects are as likely as exp(-chi2/2) makes them, the likeliest first") {
    const Diagnosis found = diagnose(house_with(by_hand(loop_r(92, 0.4), loop_r(60, 1.1), run_r)));
    REQUIRE(found.suspects.size() >= 2);
    double sum = 0.0;
    for (const Suspect &suspect : found.suspects) {
        sum += suspect.probability_share;
        const double worse = suspect.chi_squared - found.suspects[0].chi_squared;
        CHECK(worse >= 0.0);
        CHECK_THAT(suspect.probability_share,
                   WithinRel(found.suspects[0].probability_share * std::exp(-0.5 * worse), 1e-9));
        CHECK(suspect.alike == (worse <= 4.0));
    }
    CHECK_THAT(sum, WithinRel(1.0, 1e-12));
}

TEST_CASE("a weak pump is fitted by its setting, a dirty run by its loss") {
    const double a_r = loop_r(80, 0.4), b_r = loop_r(60, 1.1);
    networks::House weak = house_with(by_hand(a_r, b_r, run_r, 0.6 * setting_pa));
    weak.readings[3].value = 0.6 * setting_pa;
    const Diagnosis pump = diagnose(weak);
    CHECK(pump.suspects.front().part == "source");
    CHECK(pump.suspects.front().complaint == "gives less head than stated");
    CHECK_THAT(pump.suspects.front().ways[0].factor_share, WithinRel(0.6, 1e-3));
    CHECK_THAT(pump.fitted.source->circulator.setting_pa, WithinRel(0.6 * setting_pa, 1e-3));
    const Diagnosis run = diagnose(house_with(by_hand(a_r, b_r, 4.0 * run_r)));
    CHECK(run.suspects.front().title == "run `feed`");
    CHECK_THAT(run.suspects.front().ways[0].factor_share, WithinRel(4.0, 1e-3));
    CHECK(run.suspects.front().complaint.find("more loss than drawn") == 0);
}

TEST_CASE("readings that the drawn house explains accuse nothing, wild ones that nothing explains "
          "are told") {
    const Diagnosis same = diagnose(house_with(drawn));
    CHECK(same.as_drawn);
    CHECK(same.explained);
    CHECK_THAT(same.drawn_chi_squared, WithinAbs(0.0, 1e-3));
    CHECK(same.sentence == "the readings agree with the house as drawn, within their accuracy");
    CHECK_THAT(same.readings[0].fitted, WithinRel(same.readings[0].drawn, 1e-12));
    networks::House wild = house_with(drawn);
    wild.readings[5].value = 60.0; // no part of the house can do that: (60 - 45)/0.5 is 30
    const Diagnosis none = diagnose(wild);
    CHECK(none.as_drawn);
    CHECK_FALSE(none.explained);
    CHECK_THAT(none.drawn_chi_squared, WithinRel(900.0, 1e-6));
}
