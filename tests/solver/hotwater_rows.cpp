// Rows of a reheat by hand. The liquid is stated as 1000 kg/m3 and has water's heat capacity; the
// heat pump gives 6 kW at 42 % of Carnot, whatever it sends.
#include "solver/questions/hotwater.hpp"

#include "models/boiler.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

const std::string text = R"(house: reheat by hand
design_day: {outdoor: 0 degC}
water: {density: 1000 kg/m3, viscosity: 0.65 mPa s}
rooms: {den: {indoor: 20 degC, loss: 1200 W, time_constant: 50 h}}
source: {kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}, flow_temperature: 40 degC, drop: 5 K, least_flow: 9 l/min, circulator: {states: external, derating: 0 %, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}}
pipework: [{run: feed, from: source, to: landing, pipe: {bore: 20 mm, friction_factor: 0.03}, length: 6 m}]
radiators: [{radiator: den, room: den, from: landing}]
hot_water:
  coil: {loss: 12 kPa, at_flow: 1.2 m3/h, area: 1.8 m2, conductance: 500 W/(m2 K)}
  flow: 18 l/min
  flow_temperature: 55 degC
  after_run: coil
  store: 210 l
  cold: 10 degC
  store_to: 50 degC
  reheat_from: 40 degC
  draw: {volume: 150 l, at: 40 degC}
)";

// c = 4180 J/(kg K) at 52.5 degC within 0.1 %: water, tables of [IAPWS].
constexpr double rate_w_k = 0.3 * 4180.0;
constexpr double liquid = 2e-3; // of c
const double effectiveness = 1.0 - std::exp(-900.0 / rate_w_k);
const double pass_w_k = effectiveness * rate_w_k;

} // namespace

TEST_CASE("coil, store and hot-water circuit have the figures of their closed forms") {
    const HotWaterAnswer a = hot_water(tests::house_of(text));
    CHECK_THAT(a.ua_w_k, WithinRel(900.0, 1e-12));
    CHECK_THAT(a.coil_area_m2.value(), WithinRel(1.8, 1e-12));
    CHECK_THAT(a.effectiveness, WithinRel(effectiveness, liquid));
    CHECK_THAT(a.passes_w, WithinRel(pass_w_k * 5.0, liquid));
    CHECK(a.greatest_w == 6000.0);
    CHECK(a.least_w == 0.0);
    CHECK(a.set_w == a.passes_w); // less than it has, more than its least
    CHECK_FALSE(a.coil_too_small);
    CHECK_THAT(a.reached_c, WithinAbs(55.0, 1e-9)); // it goes down to nothing
    // 210 l x 995.7 kg/m3 x 4179.8 J/(kg K) x 40 K: water at 30 degC
    CHECK_THAT(a.store_kwh, WithinRel(210e-3 * 995.7 * 4179.8 * 40.0 / 3.6e6, 1e-4));
    // Kv of 12 kPa at 1.2 m3/h, so 1.08 m3/h lose 0.81 of it; the curve falls by 20 kPa a m3/h. On
    // the diverter the house's pipes are not on the way.
    CHECK_THAT(a.state.flow_m3_s * 6e4, WithinRel(18.0, 1e-9));
    CHECK(a.state.wanted_m3_s == a.state.flow_m3_s);
    CHECK_THAT(a.state.needed_pa, WithinAbs(12e3 * 0.81, 2.0));
    CHECK_THAT(a.state.available_pa, WithinAbs(60e3 - 20e3 * 1.08, 2.0));
    CHECK_THAT(a.state.headroom_pa, WithinAbs(60e3 - 21.6e3 - 9.72e3, 4.0));
    CHECK(a.state.driven);
    CHECK(a.state.can_be_driven);
    CHECK_THAT(a.state.least_flow_m3_s.value() * 6e4, WithinRel(9.0, 1e-12));
}

TEST_CASE("each flow temperature of the table wants the UA of its excess over the store") {
    const HotWaterAnswer a = hot_water(tests::house_of(text));
    REQUIRE(a.coils.size() == 6); // Carnot's share is not carried on past 65 degC
    for (std::size_t i = 0; i < a.coils.size(); ++i) {
        const CoilRow &row = a.coils[i];
        const double over_k = 2.5 * static_cast<double>(i + 1);
        CHECK_THAT(row.flow_c, WithinRel(50.0 + over_k, 1e-12));
        CHECK(row.greatest_w == 6000.0);
        CHECK(row.least_w == 0.0);
        CHECK(row.within_rating);
        CHECK_THAT(row.efficiency, WithinRel(0.42 * (row.flow_c + 273.15) / row.flow_c, 1e-3));
        CHECK_FALSE(row.ua_least_w_k);
        const double share = 6000.0 / (rate_w_k * over_k);
        REQUIRE(row.ua_greatest_w_k.has_value() == (share < 1.0)); // 1.91, 0.96, 0.64 ...
        if (share >= 1.0)
            continue;
        // Near a share of 1 the logarithm magnifies what is not known of c.
        CHECK_THAT(*row.ua_greatest_w_k,
                   WithinRel(-rate_w_k * std::log(1.0 - share), share > 0.9 ? 0.03 : 5e-3));
        CHECK_THAT(*row.area_greatest_m2, WithinRel(*row.ua_greatest_w_k / 500.0, 1e-12));
    }
}

TEST_CASE("a reheat's rows have the store, what is sent and what comes back at each step") {
    const HotWaterAnswer a = hot_water(tests::house_of(text));
    REQUIRE(a.reheats.size() == 4); // from cold and from 40, at all it has and as set
    const Reheat &cold = a.reheats[0];
    CHECK(cold.from_c == 10.0);
    CHECK(cold.to_c == 50.0);
    CHECK_FALSE(cold.output_w);
    REQUIRE(cold.rows.size() == 7);
    const double held_from = 55.0 - 6000.0 / pass_w_k; // 45.6: warmer, the coil passes less
    for (std::size_t i = 0; i < cold.rows.size(); ++i) {
        const ReheatRow &row = cold.rows[i];
        const double store = 10.0 + 40.0 / 6.0 * static_cast<double>(i);
        CHECK_THAT(row.store_c, WithinAbs(store, 1e-9));
        const bool held = store > held_from;
        const double heat_w = held ? pass_w_k * (55.0 - store) : 6000.0;
        CHECK(row.held == held);
        CHECK(row.source_w == 6000.0);
        CHECK_THAT(row.heat_w, WithinRel(heat_w, liquid));
        CHECK_THAT(row.sent_c, WithinAbs(held ? 55.0 : store + 6000.0 / pass_w_k, 0.03));
        CHECK_THAT(row.back_c, WithinAbs(row.sent_c - heat_w / rate_w_k, 0.02));
        const double rated_c = std::max(row.sent_c, 20.0); // held at the end of its range
        CHECK_THAT(row.efficiency, WithinRel(0.42 * (rated_c + 273.15) / rated_c, 1e-6));
        CHECK(row.within_rating == (row.sent_c >= 20.0));
        CHECK_FALSE(row.cycles);
    }
    CHECK_THAT(cold.heat_kwh, WithinRel(a.store_kwh, 1e-9));
    // At a steady output up to the knee, then falling by exponential approach to 55 degC.
    const double store_j_k = a.store_kwh * 3.6e6 / 40.0;
    CHECK_THAT(cold.time_s, WithinRel(store_j_k * ((held_from - 10.0) / 6000.0 +
                                                   std::log((55.0 - held_from) / 5.0) / pass_w_k),
                                      liquid));
    CHECK_THAT(cold.held_from_c.value(), WithinAbs(held_from, 0.34 + 0.02)); // to a step
    const Reheat &usual = a.reheats[2];
    CHECK(usual.from_c == 40.0);
    CHECK_THAT(usual.heat_kwh, WithinRel(0.25 * a.store_kwh, 1e-9));
    CHECK(a.reheats[1].output_w == a.set_w);
    CHECK_THAT(a.reheats[1].time_s, WithinRel(a.store_kwh * 3.6e6 / a.set_w, 1e-9));
}

TEST_CASE("a day's draw is met by so many reheats, and rooms cool while they last") {
    const HotWaterAnswer a = hot_water(tests::house_of(text));
    REQUIRE(a.day);
    CHECK_THAT(a.day->draw_m3, WithinRel(0.150, 1e-12));
    CHECK(a.day->draw_c == 40.0);
    const Reheat &usual = a.reheats[2];
    const double reheats = a.day->heat_kwh / usual.heat_kwh;
    CHECK_THAT(a.day->reheats.value(), WithinRel(reheats, 1e-12));
    CHECK_THAT(a.day->time_s.value(), WithinRel(reheats * usual.time_s, 1e-12));
    CHECK_THAT(a.day->input_kwh.value(), WithinRel(reheats * usual.input_kwh, 1e-12));
    CHECK(a.at_tap_c == 40.0);
    REQUIRE(a.rooms.size() == 1);
    CHECK(a.rooms[0].time_constant_h == 50.0);
    CHECK_THAT(a.rooms[0].falls_usual_k.value(),
               WithinRel(20.0 * (1.0 - std::exp(-usual.time_s / 3600.0 / 50.0)), 1e-9));
    CHECK(std::none_of(a.unknown.begin(), a.unknown.end(), [](const std::string &what) {
        return what.find("rooms cool") != std::string::npos;
    }));
    // Drawn as hot as it is stored there is nothing to mix.
    std::string hot = text;
    hot.replace(hot.find("at: 40 degC"), 11, "at: 50 degC");
    CHECK_FALSE(hot_water(tests::house_of(hot)).at_tap_c);
}

TEST_CASE("a boiler's table goes 20 K over the store in eight steps, with the coil of its least") {
    std::string boiler = text;
    const std::string pump = "kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}";
    boiler.replace(boiler.find(pump), pump.size(),
                   "kind: boiler, greatest_output: 18 kW, least_output: 4 kW");
    const HotWaterAnswer a = hot_water(tests::house_of(boiler));
    REQUIRE(a.coils.size() == 8);
    CHECK_THAT(a.coils.back().flow_c, WithinRel(70.0, 1e-12));
    for (const CoilRow &row : a.coils) {
        CHECK(row.greatest_w == 18000.0);
        const models::Boiler built{18000.0, 4000.0};
        // Its efficiency hangs on the return: 18 kW over the coil's flow below what it sends.
        CHECK_THAT(
            row.efficiency,
            WithinRel(
                models::boiler_state(built, row.flow_c - 18000.0 / rate_w_k, 18000.0).efficiency,
                1e-3));
        CHECK(row.least_w == 4000.0);
        const double share = 4000.0 / (rate_w_k * (row.flow_c - 50.0));
        REQUIRE(row.ua_least_w_k.has_value() == (share < 1.0));
        if (share < 0.9)
            CHECK_THAT(*row.ua_least_w_k, WithinRel(-rate_w_k * std::log(1.0 - share), 5e-3));
        if (row.ua_least_w_k)
            CHECK_THAT(*row.area_least_m2, WithinRel(*row.ua_least_w_k / 500.0, 1e-12));
    }
}
