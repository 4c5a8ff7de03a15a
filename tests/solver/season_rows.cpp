// Rows of a year against hand arithmetic. Radiators are linear here: at a steady flow, water that
// falls from 40 to 35 degC in a room of 20 falls by a quarter of its excess at any temperature.
#include "solver/questions/season.hpp"

#include "tests/support/one_radiator.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr double c_varies_k = 0.03; // water's heat capacity between 20 and 40 degC: 0.05 %
constexpr double flow_varies = 2e-3;

tests::OneRadiator linear(const std::string &more,
                          const std::string &source = "kind: heat_pump, carnot: {output: 6 kW, "
                                                      "fraction: 42 %}") {
    tests::OneRadiator house;
    house.exponent = "1.0";
    house.source = source;
    house.more = more;
    return house;
}

SeasonAnswer year_of(const tests::OneRadiator &house) {
    return season(tests::house_of(house.text()));
}

// 2300 W at 23 K, so 100 W/K; the radiator gives a quarter of 460 W/K times the inlet's excess.
double loss_w(double outdoor_c) {
    return 100.0 * (20.0 - outdoor_c);
}
double inlet_c(double outdoor_c) {
    return 20.0 + 20.0 * (20.0 - outdoor_c) / 23.0;
}
double return_c(double outdoor_c) {
    return 20.0 + 15.0 * (20.0 - outdoor_c) / 23.0;
}
double cop(double outdoor_c) { // 42 % of Carnot
    return 0.42 * (inlet_c(outdoor_c) + 273.15) / (inlet_c(outdoor_c) - outdoor_c);
}

bool assumes(const SeasonAnswer &answer, const std::string &what) {
    return std::any_of(answer.assumed.begin(), answer.assumed.end(),
                       [&](const SeasonAssumption &row) { return row.what == what; });
}

} // namespace

TEST_CASE("a linear radiator's weather curve is a straight line in steps of 3 K to the limit") {
    const SeasonAnswer answer = year_of(linear("year: {climate: colder}\n"));
    CHECK(answer.climate == "colder climate of EN 14825");
    CHECK(answer.design_outdoor_c == -3.0);
    CHECK(answer.heating_limit_c == 15.5);
    CHECK_THAT(answer.loss_w, WithinRel(2300.0, 1e-12));
    CHECK_THAT(answer.needed_c, WithinAbs(40.0, 1e-6));
    CHECK(answer.stated_c == 40.0);
    CHECK(answer.rooms == std::vector<std::string>{"den"});
    REQUIRE(answer.circuits.size() == 1);
    CHECK(answer.circuits[0].name == "whole house");
    CHECK_FALSE(answer.circuits[0].mixer);
    CHECK_THAT(answer.circuits[0].design_c, WithinAbs(40.0, 1e-6));
    CHECK_FALSE(answer.circuits[0].highest_c);
    REQUIRE(answer.curve.size() == 7);
    for (std::size_t i = 0; i < answer.curve.size(); ++i) {
        const double outdoor = -3.0 + 3.0 * static_cast<double>(i);
        const CurvePoint &point = answer.curve[i];
        CHECK_THAT(point.outdoor_c, WithinAbs(outdoor, 1e-12));
        CHECK_THAT(point.source_c, WithinAbs(inlet_c(outdoor), c_varies_k));
        CHECK_THAT(point.return_c, WithinAbs(return_c(outdoor), c_varies_k));
        CHECK_THAT(point.circuits.at(0).flow_c, WithinAbs(point.source_c, 1e-9));
        CHECK_THAT(point.circuits[0].return_c, WithinAbs(return_c(outdoor), c_varies_k));
        CHECK_FALSE(point.circuits[0].hot_share);
        CHECK_FALSE(point.circuits[0].held_low);
        CHECK_FALSE(point.circuits[0].held_high);
        CHECK_THAT(point.room_need_w.at(0), WithinRel(loss_w(outdoor), 1e-9));
        CHECK_THAT(point.room_gets_w.at(0), WithinRel(loss_w(outdoor), 1e-5));
    }
    // Sent 5 K less at -3 degC: 115 W/K of 15 K.
    CHECK_THAT(answer.turned_down_rooms.at(0).gets_w, WithinRel(115.0 * 15.0, flow_varies));
    CHECK(answer.turned_down_rooms[0].wanted_c == 20.0);
}

TEST_CASE("a bin of the year has the curve's temperatures, its heat and what the source takes") {
    const SeasonAnswer answer = year_of(linear(
        "year: {hours: [[0 degC, 100 h], [10 degC, 1000 h], [18 degC, 500 h]], free_heat: no}\n"
        "tariff: {electricity: 0.30 /kWh, electricity_co2: 150 g/kWh, currency: GBP}\n"));
    CHECK(answer.climate == "hours of the file");
    const SeasonTotals &year = answer.with_curve.totals;
    REQUIRE(year.bins.size() == 2); // 18 degC is above the limit
    double electricity = 0.0;
    for (const SeasonBin &bin : year.bins) {
        CHECK_THAT(bin.heat_w, WithinRel(loss_w(bin.outdoor_c), 1e-5));
        CHECK_THAT(bin.given_w, WithinRel(bin.heat_w, 1e-12));
        CHECK_THAT(bin.source_c, WithinAbs(inlet_c(bin.outdoor_c), c_varies_k));
        CHECK_THAT(bin.return_c, WithinAbs(return_c(bin.outdoor_c), c_varies_k));
        CHECK_THAT(bin.efficiency, WithinRel(cop(bin.outdoor_c), 2e-3));
        CHECK_THAT(bin.input_w, WithinRel(loss_w(bin.outdoor_c) / cop(bin.outdoor_c), 2e-3));
        CHECK(bin.least_w == 0.0);
        CHECK(bin.cycle.starts_per_h == 0.0);
        electricity += bin.hours * loss_w(bin.outdoor_c) / cop(bin.outdoor_c) * 1e-3;
    }
    CHECK(year.bins[0].hours == 100.0);
    CHECK(year.hours == 1100.0);
    CHECK_THAT(year.need_kwh, WithinRel(200.0 + 1000.0, 1e-9));
    CHECK_THAT(year.heat_kwh, WithinRel(1200.0, 1e-5));
    CHECK(year.short_kwh == 0.0);
    CHECK(year.gas_kwh == 0.0);
    CHECK_THAT(year.source_electricity_kwh, WithinRel(electricity, 2e-3));
    CHECK_THAT(*year.pump_kwh, WithinRel(*answer.pump_electric_w * 1.1, 1e-12));
    CHECK_THAT(year.electricity_kwh,
               WithinRel(year.source_electricity_kwh + *year.pump_kwh, 1e-12));
    CHECK_THAT(year.seasonal_performance, WithinRel(1200.0 / electricity, 2e-3));
    CHECK_THAT(year.performance_with_pumps, WithinRel(year.heat_kwh / year.electricity_kwh, 1e-12));
    CHECK_THAT(*year.cost, WithinRel(0.30 * year.electricity_kwh, 1e-12));
    CHECK_THAT(*year.co2_kg, WithinRel(0.150 * year.electricity_kwh, 1e-12));
    CHECK(year.starts == 0.0);
    CHECK(answer.with_curve.name == "weather curve");
    CHECK(answer.turned_down.name == "5 K lower");
    CHECK(answer.currency == "GBP");
    CHECK(answer.warnings.empty());
}

TEST_CASE("a boiler's year has gas in kWh of its heat over its efficiency, and what it lacks") {
    const SeasonAnswer answer = year_of(
        linear("year: {hours: [[0 degC, 100 h], [10 degC, 1000 h]], free_heat: no}\n"
               "tariff: {electricity: 0.30 /kWh, gas: 0.07 /kWh, electricity_co2: 150 g/kWh, "
               "gas_co2: 183 g/kWh, currency: GBP}\n",
               "kind: boiler, greatest_output: 1500 W"));
    const SeasonTotals &year = answer.with_curve.totals;
    REQUIRE(year.bins.size() == 2);
    CHECK_THAT(year.bins[0].given_w, WithinAbs(1500.0, 1e-9));
    CHECK_THAT(year.short_kwh, WithinRel(0.5 * 100.0, 1e-4));
    CHECK_THAT(year.heat_kwh, WithinRel(150.0 + 1000.0, 1e-5));
    CHECK_THAT(year.room_kwh, WithinRel(1200.0, 1e-5)); // were it given all it asks for
    CHECK(year.source_electricity_kwh == 0.0);
    double gas = 0.0;
    for (const SeasonBin &bin : year.bins)
        gas += bin.hours * bin.given_w / bin.efficiency * 1e-3;
    CHECK_THAT(year.gas_kwh, WithinRel(gas, 1e-12));
    CHECK_THAT(*year.cost, WithinRel(0.07 * year.gas_kwh + 0.30 * *year.pump_kwh, 1e-12));
    CHECK_THAT(*year.co2_kg, WithinRel(0.183 * year.gas_kwh + 0.150 * *year.pump_kwh, 1e-12));
    CHECK_THAT(year.seasonal_performance, WithinRel(year.heat_kwh / year.gas_kwh, 1e-12));
    CHECK_THAT(answer.warnings.at(0), Contains("falls 50 kWh a year short"));
}

TEST_CASE("below its least output a source starts as often as its store of water lets it") {
    // Water of 12 m in 20.2 mm, 6 m in 13.6 mm and 30 l: 34.717 l; a radiator that gives 2300 W at
    // 17.5 K of excess, linear, is one of 6571 W at 50 K: 23.0 l at 3.5 l for each kW. 5 K of it is
    // the store. At half its least output of 2 kW it fills and empties at 1 kW each.
    const SeasonAnswer answer =
        year_of(linear("year: {hours: [[10 degC, 1000 h]], free_heat: no}\n"
                       "cycling: {added_water: 30 l, water_swing: 5 K}\n",
                       "kind: boiler, greatest_output: 6 kW, least_output: 2 kW"));
    CHECK_THAT(answer.store.held_water_m3, WithinRel(4.717e-3 + 23.0e-3, 1e-3));
    const double store_j = 57.717e-3 * 994.0 * 4179.0 * 5.0; // water at 35 degC, [IAPWS] tables
    const SeasonBin &bin = answer.with_curve.totals.bins.at(0);
    CHECK_THAT(bin.cycle.run_s, WithinRel(store_j / 1000.0, 5e-3));
    CHECK_THAT(bin.cycle.rest_s, WithinRel(store_j / 1000.0, 5e-3));
    CHECK_THAT(bin.cycle.starts_per_h, WithinRel(3600.0 * 1000.0 / (2.0 * store_j), 5e-3));
    CHECK_THAT(bin.cycle.water_only_starts_per_h, WithinRel(bin.cycle.starts_per_h, 1e-12));
    CHECK_THAT(answer.with_curve.totals.starts, WithinRel(1000.0 * bin.cycle.starts_per_h, 1e-12));
    CHECK(bin.least_w == 2000.0);
    CHECK_FALSE(assumes(answer, "water that no part of the house holds"));
    const SeasonAnswer silent =
        year_of(linear("year: {hours: [[10 degC, 1000 h]], free_heat: no}\n",
                       "kind: boiler, greatest_output: 6 kW, least_output: 2 kW"));
    CHECK(assumes(silent, "water that no part of the house holds"));
    // A source that never cycles needs no store.
    CHECK_FALSE(assumes(year_of(linear("year: {hours: [[10 degC, 1000 h]]}\n")),
                        "water that no part of the house holds"));
}

namespace {

// Two linear rooms: one unmixed at 40/35, one behind a mixer at 35/30, both 2300 W.
const std::string two_circuits = R"(house: two circuits
water: plain
design_day: {outdoor: -3 degC}
rooms: {den: {indoor: 20 degC, loss: 2300 W}, hall: {indoor: 20 degC, loss: 2300 W}}
source: {kind: heat_pump, carnot: {output: 9 kW, fraction: 42 %}, flow_temperature: 40 degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 50 kPa], [2 m3/h, 10 kPa]]}}
pipework:
  - {run: feed, from: source, to: landing, pipe: copper 22, length: 6 m}
  - {run: mixed, from: landing, to: back, pipe: copper 22, length: 6 m, mixer: {kv: 4 m3/h, set: 35 degC}, pump: {mode: constant_pressure, setting: 10 kPa, curve: [[0 m3/h, 30 kPa], [2 m3/h, 10 kPa]]}}
radiators:
  - {radiator: den, room: den, from: landing, output: 2300 W, rated_at: 40/35/20, exponent: 1.0}
  - {radiator: hall, room: hall, from: back, output: 2300 W, rated_at: 35/30/20, exponent: 1.0}
year: {hours: [[0 degC, 100 h], [10 degC, 1000 h]], free_heat: no}
)";

} // namespace

TEST_CASE("a mixed circuit draws half hot water where its excess lies midway, all year") {
    // At a share r of the design excess: 20 + 20 r and 20 + 15 r; mixed 20 + 15 r and 20 + 10 r, so
    // half of the mixed flow is hot. Back comes (15 + 5) r / 1.5 over 20 degC.
    const SeasonAnswer answer = season(tests::house_of(two_circuits));
    REQUIRE(answer.circuits.size() == 2);
    CHECK(answer.circuits[0].name == "unmixed");
    CHECK(answer.circuits[1].name == "back");
    CHECK(answer.circuits[1].mixer);
    CHECK_THAT(answer.circuits[1].design_c, WithinAbs(35.0, 1e-9));
    CHECK_THAT(answer.loss_w, WithinRel(4600.0, 1e-12));
    for (const CurvePoint &point : answer.curve) {
        const double r = (20.0 - point.outdoor_c) / 23.0;
        CHECK_THAT(point.source_c, WithinAbs(20.0 + 20.0 * r, c_varies_k));
        CHECK_THAT(point.circuits.at(1).flow_c, WithinAbs(20.0 + 15.0 * r, c_varies_k));
        CHECK_THAT(point.circuits[1].return_c, WithinAbs(20.0 + 10.0 * r, c_varies_k));
        CHECK_THAT(point.circuits[1].hot_share.value(), WithinAbs(0.5, 5e-3));
        CHECK_THAT(point.return_c, WithinAbs(20.0 + 20.0 / 1.5 * r, 2.0 * c_varies_k));
        CHECK_THAT(point.room_need_w.at(1), WithinRel(loss_w(point.outdoor_c), 1e-9));
    }
    // Without a curve the source holds 40 and the mixer 35 degC.
    for (const SeasonBin &bin : answer.fixed.totals.bins)
        CHECK_THAT(bin.source_c, WithinAbs(40.0, 1e-6));
    CHECK_THAT(answer.fixed.totals.heat_kwh, WithinRel(2.0 * 1200.0, 1e-5));
}

TEST_CASE("an emitter without a rating stands at the water it gets, at least above its own drop") {
    const auto emitter = [](const std::string &sent, const std::string &drop) {
        tests::OneRadiator house;
        house.rated_at = "";
        house.sent = sent;
        house.drop = drop;
        return heating_house(tests::house_of(house.text())).circuits.at(0).emitters.at(0);
    };
    const CurveEmitter usual = emitter("40 degC", "5 K");
    CHECK_FALSE(usual.described);
    CHECK(usual.design_flow_c == 40.0);
    // 2300 W over 5 K of 4.179 kJ/(kg K)
    CHECK_THAT(usual.most_kg_s, WithinRel(2300.0 / (5.0 * 4179.0), flow_varies));
    // A return 1 K above the room is the least: 20 + 19.5 + 1.
    CHECK(emitter("40 degC", "19.5 K").design_flow_c == 40.5);
}

TEST_CASE("a source that the file does not describe is three times large enough and not taken for "
          "its own") {
    tests::OneRadiator house;
    house.source = "kind: heat_pump";
    const HeatingHouse pump = heating_house(tests::house_of(house.text()));
    CHECK(pump.source_assumed);
    const auto &rating = std::get<models::HeatPump>(pump.house.source->heat).rating;
    CHECK_THAT(std::get<models::CarnotRating>(rating).output_w, WithinRel(6900.0, 1e-12));
    house.source = "kind: boiler";
    const HeatingHouse boiler = heating_house(tests::house_of(house.text()));
    CHECK_THAT(std::get<models::Boiler>(boiler.house.source->heat).greatest_w,
               WithinRel(6900.0, 1e-12));
    CHECK(season(tests::house_of(house.text())).with_curve.totals.starts == 0.0);
}

TEST_CASE("floors without a mixer hold the source to their limit, whatever a mixed circuit needs") {
    // The radiator behind the mixer would want 45 degC, the floor before it takes 38.
    std::string text = two_circuits;
    const auto put = [&](const std::string &what, const std::string &by) {
        REQUIRE(text.find(what) != std::string::npos);
        text.replace(text.find(what), what.size(), by);
    };
    put("flow_temperature: 40 degC, ", "flow_temperature: 37 degC, ");
    put("set: 35 degC", "set: 37 degC");
    put("rated_at: 35/30/20", "rated_at: 45/40/20");
    put("  - {radiator: den, room: den, from: landing, output: 2300 W, rated_at: 40/35/20, "
        "exponent: 1.0}\n",
        "");
    put("radiators:\n",
        "manifolds: {landing: {loops: [{room: den, pipe: pex 16x2, length: 80 m, flow_limit: 38 "
        "degC}]}}\nradiators:\n");
    const SeasonAnswer answer = season(tests::house_of(text));
    REQUIRE(answer.circuits.size() == 2);
    CHECK(answer.circuits[0].highest_c == 38.0);
    const CurvePoint &coldest = answer.curve.front();
    CHECK_THAT(coldest.source_c, WithinAbs(38.0, 1e-6));
    CHECK_THAT(coldest.circuits[1].flow_c, WithinAbs(38.0, 1e-6));
    CHECK(coldest.room_gets_w[1] < coldest.room_need_w[1]);
}

TEST_CASE("a circuit without a mixer gets what the source sends for a warmer one") {
    std::string text = two_circuits; // now the mixed circuit is the warmer
    text.replace(text.find("rated_at: 40/35/20"), 18, "rated_at: 35/30/20");
    text.replace(text.rfind("rated_at: 35/30/20"), 18, "rated_at: 40/35/20");
    for (const CurvePoint &point : season(tests::house_of(text)).curve) {
        const double r = (20.0 - point.outdoor_c) / 23.0;
        CHECK_THAT(point.source_c, WithinAbs(20.0 + 20.0 * r, c_varies_k));
        CHECK(point.circuits.at(0).flow_c == point.source_c);
        CHECK_THAT(point.circuits.at(1).hot_share.value(), WithinAbs(1.0, 1e-6));
    }
}
