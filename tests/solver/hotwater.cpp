// The cylinder on the diverter, against closed forms and sums worked by hand.
#include "solver/questions/hotwater.hpp"

#include "models/units.hpp"
#include "solver/questions/reheat.hpp"
#include "solver/report/report.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>

using namespace headroom;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using solver::HotWaterAnswer;
using solver::Reheat;

namespace {

// One loop and a cylinder; `heat` is what the source gives, `coil` and `more` join their sections.
std::string
text(const std::string &heat = "kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}",
     const std::string &coil = "ua: 900 W/K", const std::string &more = "") {
    return R"(
house: Test cylinder
design_day: {outdoor: 0 degC}
water: plain
rooms:
  den: {indoor: 20 degC, loss: 1200 W, time_constant: 50 h}
  hall: {indoor: 18 degC, loss: 300 W}
source: {flow_temperature: 40 degC, drop: 5 K, )" +
           heat + R"(, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}}
pipework:
  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 6 m}
manifolds:
  manifold:
    loops:
      - {room: den, pipe: pex 16x2, length: 80 m}
      - {room: hall, pipe: pex 16x2, length: 60 m}
hot_water:
  coil: {loss: 12 kPa, at_flow: 1.2 m3/h, )" +
           coil + R"(}
  flow: 18 l/min
  flow_temperature: 55 degC
  after_run: coil
  store: 210 l
  cold: 10 degC
  store_to: 50 degC
)" + more;
}

const std::string usual = "  reheat_from: 40 degC\n"
                          "  draw: {volume: 150 l, at: 40 degC}\n"
                          "  immersion: 3 kW\n"
                          "  pasteurise: {to: 60 degC, every: 7 d}\n";

HotWaterAnswer answer(const std::string &house) {
    return solver::hot_water(tests::house_of(house));
}

const Reheat &at_full_output(const HotWaterAnswer &a, double from_c) {
    return *std::find_if(a.reheats.begin(), a.reheats.end(),
                         [&](const Reheat &r) { return r.from_c == from_c && !r.output_w; });
}

} // namespace

TEST_CASE("A reheat by a source of one output takes the time of the closed form") {
    const networks::House house = tests::house_of(text());
    constexpr models::CoilInStore coil{877000.0, 900.0, 1200.0, 55.0};
    const Reheat full = solver::reheat(house, coil, 10.0, 50.0, std::nullopt);
    // tests/computed/coil.cpp has it from quadrature; 120 steps sum to rounding.
    CHECK_THAT(full.time_s, WithinRel(6077.962848462481, 1e-10));
    REQUIRE(full.held_from_c);
    // The first step that ends above 55 - 6000 / 633.160: within a step of a third of a kelvin.
    CHECK_THAT(*full.held_from_c, WithinAbs(45.524, 0.34));
    CHECK(full.rows.front().store_c == 10.0);
    CHECK(full.rows.back().store_c == 50.0);
    CHECK(full.rows.back().at_s == full.time_s);
}

TEST_CASE("A mixed store's energy closes: heat is its capacity times its rise, and what was given "
          "over time") {
    const HotWaterAnswer a = answer(text(
        "kind: heat_pump, performance: [[-7 degC, 35 degC, 5 kW, 2.8], [7 degC, 35 degC, 6 kW, 4], "
        "[-7 degC, 55 degC, 4 kW, 1.9], [7 degC, 55 degC, 5 kW, 2.9]]",
        "ua: 900 W/K", usual));
    for (const Reheat &r : a.reheats) {
        INFO("from " << r.from_c);
        const double share = (r.to_c - r.from_c) / (a.store_to_c - a.cold_c);
        CHECK_THAT(r.heat_kwh, WithinRel(share * a.store_kwh, 1e-12)); // sums of rounding
        // Water leaves the coil cooler than it came and warmer than what it heats.
        for (const auto &row : r.rows) {
            CHECK(row.back_c < row.sent_c);
            CHECK(row.back_c >= row.store_c);
        }
        double given_kwh = 0.0;
        // Between rows the output changes little and smoothly, but for the knee where it is held.
        for (std::size_t i = 1; i < r.rows.size(); ++i)
            given_kwh += 0.5 * (r.rows[i - 1].heat_w + r.rows[i].heat_w) *
                         (r.rows[i].at_s - r.rows[i - 1].at_s) / models::j_per_kwh;
        CHECK_THAT(given_kwh, WithinRel(r.heat_kwh, 0.05));
        CHECK(r.input_kwh < r.heat_kwh);
    }
}

TEST_CASE("Set to what its coil passes at the end, the source neither cycles nor is held back") {
    const HotWaterAnswer a = answer(text());
    REQUIRE(a.reheats.size() == 2);
    const Reheat &set = a.reheats[1];
    REQUIRE(set.output_w);
    CHECK_FALSE(set.held_from_c);
    CHECK_FALSE(set.cycles_from_c);
    CHECK_THAT(set.rows.back().sent_c, WithinAbs(55.0, 1e-9));
    // Constant output: time is heat over output.
    CHECK_THAT(set.time_s, WithinRel(set.heat_kwh * models::j_per_kwh / *set.output_w, 1e-12));
    CHECK(set.time_s > a.reheats[0].time_s);
    // Cooler water on the way: less electricity.
    CHECK(set.input_kwh < a.reheats[0].input_kwh);
}

TEST_CASE("The output at which the coil just keeps up is told as that, not as one to set") {
    const HotWaterAnswer a = answer(text());
    REQUIRE(a.reheats[0].held_from_c);
    const std::string lines = solver::report(a, solver::Format::Text);
    CHECK_THAT(lines, Catch::Contains("the coil just keeps up with") &&
                          Catch::Contains(
                              fmt::format("{:.1f} degC in the store", *a.reheats[0].held_from_c)) &&
                          Catch::Contains("modulating") && !Catch::Contains("set the source to"));
    // The rooms' wait at that output stands beside it: longer than at full output.
    CHECK(a.reheats[1].time_s > a.reheats[0].time_s);
    CHECK_THAT(lines, Catch::Contains(fmt::format("{:.0f} min", a.reheats[1].time_s / 60.0)));
}

TEST_CASE("A coil that passes less than the source's least output is too small, and says from "
          "where the source cycles") {
    const HotWaterAnswer a =
        answer(text("kind: boiler, greatest_output: 18 kW, least_output: 4 kW", "ua: 600 W/K"));
    CHECK(a.coil_too_small);
    CHECK(a.passes_w < 4000.0);
    REQUIRE(a.reheats.size() == 1);
    REQUIRE(a.reheats[0].cycles_from_c);
    CHECK_THAT(*a.reheats[0].cycles_from_c, WithinAbs(a.reached_c, 40.0 / 120.0));
    // The table's coil for the least output at 55 degC passes it.
    const auto row = std::find_if(a.coils.begin(), a.coils.end(),
                                  [](const solver::CoilRow &r) { return r.flow_c == 55.0; });
    REQUIRE(row != a.coils.end());
    REQUIRE(row->ua_least_w_k);
    CHECK(*row->ua_least_w_k > 600.0);
}

TEST_CASE("The coil the table asks for passes just the output at its flow temperature") {
    const HotWaterAnswer a = answer(text());
    int checked = 0;
    for (const solver::CoilRow &row : a.coils) {
        if (!row.ua_greatest_w_k)
            continue;
        std::ostringstream ua;
        ua.precision(17);
        ua << "ua: " << *row.ua_greatest_w_k << " W/K";
        std::string house =
            text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}", ua.str());
        const std::string from = "flow_temperature: 55 degC";
        std::ostringstream to;
        to << "flow_temperature: " << row.flow_c << " degC";
        house.replace(house.find(from), from.size(), to.str());
        // The liquid's heat capacity is taken at another temperature: 0.1 % over the table's span.
        CHECK_THAT(answer(house).passes_w, WithinRel(row.greatest_w, 2e-3));
        ++checked;
    }
    CHECK(checked >= 3);
}

TEST_CASE("More surface needs less flow temperature, and so the COP falls as the coil shrinks") {
    const HotWaterAnswer a = answer(text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}",
                                         "area: 1.8 m2, conductance: 500 W/(m2 K)"));
    CHECK_THAT(a.ua_w_k, WithinRel(900.0, 1e-12));
    for (std::size_t i = 1; i < a.coils.size(); ++i) {
        CHECK(a.coils[i].efficiency < a.coils[i - 1].efficiency);
        if (a.coils[i].area_greatest_m2 && a.coils[i - 1].area_greatest_m2)
            CHECK(*a.coils[i].area_greatest_m2 < *a.coils[i - 1].area_greatest_m2);
    }
}

TEST_CASE("Pasteurising by the immersion heater alone is the store's heat over its power") {
    const HotWaterAnswer a = answer(
        text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}", "ua: 900 W/K", usual));
    REQUIRE(a.pasteurising);
    CHECK(a.heat_pump);
    // By hand, water at 30 degC by IAPWS-IF97 (python3 iapws): 0.21 m3 x 995.696 kg/m3 x
    // 4179.75 J/(kg K) x 10 K = 2.42769 kWh; 48.554 min at 3 kW; 365/7 times a year 126.587 kWh.
    CHECK_THAT(a.pasteurising->direct_kwh, WithinRel(2.42769, 2e-5)); // fits of 1e-5
    CHECK_THAT(*a.pasteurising->direct_s / 60.0, WithinRel(48.554, 2e-5));
    CHECK_THAT(a.pasteurising->year_input_kwh, WithinRel(126.587, 2e-5));
    CHECK_THAT(a.pasteurising->year_heat_kwh, WithinRel(126.587, 2e-5)); // all of it electric
    CHECK(a.pasteurising->source_kwh == 0.0);
}

TEST_CASE("What the source does of the pasteurising costs its COP, the rest its heat") {
    const std::string more = "  immersion: 3 kW\n"
                             "  pasteurise: {to: 60 degC, every: 7 d, source_to: 53 degC}\n";
    const HotWaterAnswer a = answer(
        text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}", "ua: 900 W/K", more));
    REQUIRE(a.pasteurising);
    const solver::PasteurisingAnswer &p = *a.pasteurising;
    CHECK_THAT(p.source_kwh / p.direct_kwh, WithinRel(3.0 / 7.0, 1e-12));
    // 42 % of Carnot from 0 to 55 degC: 2.506
    CHECK_THAT(p.source_kwh / p.source_input_kwh, WithinRel(0.42 * 328.15 / 55.0, 1e-3));
    CHECK_THAT(p.year_input_kwh,
               WithinRel(365.0 / 7.0 * (p.source_input_kwh + p.direct_kwh), 1e-12));
    CHECK_THAT(p.year_heat_kwh, WithinRel(365.0 / 7.0 * (p.source_kwh + p.direct_kwh), 1e-12));
}

TEST_CASE("Rooms cool towards the outside while hot water goes first, as far as their time "
          "constant is known") {
    const HotWaterAnswer a = answer(
        text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}", "ua: 900 W/K", usual));
    REQUIRE(a.rooms.size() == 2);
    REQUIRE(a.rooms[0].falls_k);
    const double hours = at_full_output(a, 10.0).time_s / 3600.0;
    CHECK_THAT(*a.rooms[0].falls_k, WithinRel(20.0 * (1.0 - std::exp(-hours / 50.0)), 1e-12));
    CHECK(*a.rooms[0].falls_usual_k < *a.rooms[0].falls_k);
    CHECK_FALSE(a.rooms[1].falls_k);
    CHECK(std::any_of(a.unknown.begin(), a.unknown.end(), [](const std::string &what) {
        return what.find("time_constant") != std::string::npos;
    }));
}

TEST_CASE("A day's draw is its water's heat, and its reheats carry just that") {
    const HotWaterAnswer a = answer(
        text("kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}", "ua: 900 W/K", usual));
    REQUIRE(a.day);
    // 150 l x 0.9970 kg/l x 4.1813 kJ/(kg K) x 30 K at 25 degC = 5.211 kWh, by hand
    CHECK_THAT(a.day->heat_kwh, WithinRel(5.211, 2e-4));
    CHECK_THAT(*a.day->reheats * at_full_output(a, 40.0).heat_kwh,
               WithinRel(a.day->heat_kwh, 1e-12));
    // A full store at 50 and cold at 10 degC gives 4/3 of itself at 40 degC.
    REQUIRE(a.at_tap_m3);
    CHECK_THAT(*a.at_tap_m3, WithinRel(0.28, 1e-12));
}

TEST_CASE("What the file does not say of a usual day is named, not assumed") {
    const HotWaterAnswer a = answer(text());
    CHECK_FALSE(a.day);
    CHECK_FALSE(a.pasteurising);
    std::string all;
    for (const std::string &what : a.unknown)
        all += what + "\n";
    for (const char *key : {"`reheat_from`", "`draw`", "`pasteurise`", "`time_constant`"})
        CHECK_THAT(all, Contains(key));
}

TEST_CASE("A circulator too weak for the coil's flow gives the coil less, and the reheat counts "
          "with that") {
    std::string weak = text();
    const std::string curve = "[[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]";
    weak.replace(weak.find(curve), curve.size(), "[[0 m3/h, 8 kPa], [2 m3/h, 2 kPa]]");
    const HotWaterAnswer a = answer(weak);
    const HotWaterAnswer strong = answer(text());
    CHECK(strong.state.driven);
    CHECK_THAT(strong.state.flow_m3_s * 6e4, WithinRel(18.0, 1e-9));
    CHECK_FALSE(a.state.driven);
    CHECK(a.state.headroom_pa < 0.0);
    CHECK(a.state.flow_m3_s < a.state.wanted_m3_s);
    CHECK(a.passes_w < strong.passes_w);
}

TEST_CASE("All keys that a reheat lacks are named at once") {
    const auto missing = [](const std::string &name) {
        std::string all;
        for (const std::string &key : solver::missing_for_hot_water(tests::example_house(name)))
            all += key + "\n";
        return all;
    };
    const std::string keys = missing("two-manifolds-radiators.yaml");
    for (const char *key : {"`store`", "`cold`", "`store_to`", "`ua`", "`performance`"})
        CHECK_THAT(keys, Contains(key));
    CHECK_THAT(missing("direct-16mm.yaml"), Contains("`hot_water`"));
    CHECK(missing("cylinder.yaml").empty());
}
