#include "solver/questions/season.hpp"

#include "models/climate.hpp"
#include "solver/questions/flows.hpp"
#include "solver/report/report.hpp"
#include "tests/support/one_radiator.hpp"
#include "tests/support/small_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fmt/format.h>
#include <string>

using namespace headroom;
using Catch::Contains;

namespace {

solver::SeasonAnswer year_of(const tests::OneRadiator &house) {
    return solver::season(tests::house_of(house.text()));
}

tests::OneRadiator with(const std::string &sections) {
    tests::OneRadiator house;
    house.more = sections;
    return house;
}

// Of the house's 100 W/K.
double degree_day_heat_kwh(double degree_days_k_d) {
    return 24.0 * 100.0 * degree_days_k_d / 1000.0;
}

bool assumes(const solver::SeasonAnswer &answer, const std::string &what) {
    return std::any_of(answer.assumed.begin(), answer.assumed.end(),
                       [&](const solver::SeasonAssumption &row) {
                           return row.what.find(what) != std::string::npos;
                       });
}

} // namespace

TEST_CASE("a year's heat is that of its degree-days to the heating limit") {
    const solver::SeasonAnswer answer = year_of(with("year: {climate: average}\n"));
    double degree_days = 0.0;
    for (const models::TemperatureBin &bin :
         models::heating_climate(models::ClimateKind::Average).bins)
        degree_days += bin.hours * (15.5 - bin.outdoor_c) / 24.0;
    // Rooms are met to 1e-6 but where the coldest hours pass the design day and the flow's end.
    CHECK(answer.with_curve.totals.heat_kwh ==
          Approx(degree_day_heat_kwh(degree_days)).epsilon(1e-5));
}

TEST_CASE("a year of the average climate is within 15 % of the British standard year") {
    // 2463 K d to base 15.5 degC, a published standard year; the average climate of EN 14825 has
    // 2135, as it leaves out hours above 15 degC and is milder in spring.
    const solver::SeasonAnswer answer = year_of(with("year: {climate: average}\n"));
    CHECK(answer.with_curve.totals.heat_kwh == Approx(degree_day_heat_kwh(2463.0)).epsilon(0.15));
}

TEST_CASE("without free heat the source makes up the whole loss below the heating limit") {
    const std::string hours = "hours: [[-3 degC, 100 h], [10 degC, 1000 h], [15.5 degC, 900 h]]";
    const solver::SeasonTotals all =
        year_of(with("year: {" + hours + ", free_heat: no}\n")).with_curve.totals;
    CHECK(all.heat_kwh == Approx(0.1 * (23.0 * 100.0 + 10.0 * 1000.0)).epsilon(1e-5));
    // 100 W/K times kelvins times hours, given just so.
    CHECK(all.need_kwh == Approx(0.1 * (23.0 * 100.0 + 10.0 * 1000.0)).epsilon(1e-9));
    CHECK(all.room_kwh == Approx(all.need_kwh).epsilon(1e-5));
    CHECK(all.hours == 1100.0); // none at the limit itself
    const solver::SeasonTotals less = year_of(with("year: {" + hours + "}\n")).with_curve.totals;
    CHECK(less.heat_kwh == Approx(0.1 * (18.5 * 100.0 + 5.5 * 1000.0)).epsilon(1e-5));
}

TEST_CASE("a year without a climate takes the average one and says so") {
    const solver::SeasonAnswer silent = year_of(with(""));
    const solver::SeasonAnswer stated = year_of(with("year: {climate: average}\n"));
    CHECK(assumes(silent, "climate of the year"));
    CHECK_FALSE(assumes(stated, "climate of the year"));
    CHECK(silent.with_curve.totals.heat_kwh == stated.with_curve.totals.heat_kwh);
}

TEST_CASE("emitters and sources that are not described are worked out and marked as assumed") {
    tests::OneRadiator plain;
    plain.rated_at = "";
    plain.source = "kind: boiler";
    const solver::SeasonAnswer answer = year_of(plain);
    CHECK(assumes(answer, "loops and radiators that are not described"));
    CHECK(assumes(answer, "the boiler"));
    CHECK(answer.with_curve.totals.gas_kwh > answer.with_curve.totals.heat_kwh);
    CHECK(answer.with_curve.totals.source_electricity_kwh == 0.0);
}

TEST_CASE("the flow temperature is held within its stated ends, and rooms then fall short") {
    const solver::SeasonAnswer answer =
        year_of(with("year: {climate: average, lowest_flow_temperature: 30 degC, "
                     "highest_flow_temperature: 37 degC}\n"));
    for (const solver::CurvePoint &point : answer.curve) {
        CHECK(point.source_c >= 30.0);
        CHECK(point.source_c <= 37.0);
    }
    const solver::CurvePoint &coldest = answer.curve.front();
    CHECK(coldest.circuits[0].held_high);
    CHECK(coldest.room_gets_w[0] < 0.9 * coldest.room_need_w[0]);
    CHECK_THAT(answer.warnings.at(0), Contains("less than they need"));
    CHECK(answer.curve.back().circuits[0].held_low);
    CHECK(answer.curve.back().room_gets_w[0] ==
          Approx(answer.curve.back().room_need_w[0]).epsilon(1e-5));
}

TEST_CASE("a room turned down 5 K settles where what it gets is what it loses") {
    // Linear emitter of 115 W/K from its inlet at the design flow, loss of 100 W/K: at -3 degC and
    // 35 degC flow the balance of both is met at 17.67 degC. Within 0.02 K as its c varies.
    tests::OneRadiator linear;
    linear.exponent = "1.0";
    const solver::SeasonAnswer answer = year_of(linear);
    REQUIRE(answer.turned_down_rooms.size() == 1);
    const solver::RoomTurnedDown &room = answer.turned_down_rooms[0];
    CHECK(room.need_w == Approx(2300.0));
    CHECK(room.gets_w == Approx(115.0 * 15.0).epsilon(1e-3));
    CHECK(room.settles_c == Approx((115.0 * 35.0 - 100.0 * 3.0) / 215.0).margin(0.02));
}

TEST_CASE("pumps take their hydraulic power over their efficiency in every hour of heating") {
    const std::string hours = "year: {hours: [[0 degC, 1000 h]]}\n";
    const solver::SeasonAnswer answer = year_of(with(hours));
    const networks::House house = tests::house_of(with(hours).text());
    const solver::FlowsAnswer flows = solver::flows(house);
    REQUIRE(flows.pumps.size() == 1);
    const double hydraulic_w = flows.pumps[0].flow_m3_s * flows.pumps[0].rise_pa;
    // The rooms of `flows` float, which moves the water's density a little.
    CHECK(*answer.with_curve.totals.pump_kwh == Approx(hydraulic_w / 0.30).epsilon(0.01));
    std::string text = with(hours).text();
    text.replace(text.find("states: external"), 16, "states: external, efficiency: 60 %");
    CHECK(*solver::season(tests::house_of(text)).with_curve.totals.pump_kwh ==
          Approx(0.5 * *answer.with_curve.totals.pump_kwh).epsilon(1e-9));
}

TEST_CASE("a pump with a power curve draws what that says, straight between points, held at ends") {
    const std::string year = "year: {hours: [[0 degC, 1000 h]]}\n";
    const auto kwh = [&](const std::string &points) {
        std::string text = with(year).text();
        text.replace(text.find("states: external"), 16, "states: external, power: " + points);
        return *solver::season(tests::house_of(text)).with_curve.totals.pump_kwh;
    };
    CHECK(kwh("[[0 m3/h, 30 W]]") == Approx(30.0).epsilon(1e-12));
    CHECK(kwh("[[0 m3/h, 10 W], [0.001 m3/h, 25 W]]") == Approx(25.0).epsilon(1e-12));
    CHECK(kwh("[[9 m3/h, 20 W], [10 m3/h, 25 W]]") == Approx(20.0).epsilon(1e-12));
    const networks::House house = tests::house_of(with(year).text());
    const double flow_m3_h = solver::flows(house).pumps.at(0).flow_m3_s * 3600.0;
    // As above, rooms that float move the flow a little.
    CHECK(kwh("[[0 m3/h, 10 W], [2 m3/h, 50 W]]") == Approx(10.0 + 20.0 * flow_m3_h).epsilon(0.01));
    const double from = std::round(50.0 * flow_m3_h) / 100.0; // half the flow
    CHECK(kwh(fmt::format("[[{} m3/h, 10 W], [{} m3/h, 50 W]]", from, from + 1.0)) ==
          Approx(10.0 + 40.0 * (flow_m3_h - from)).epsilon(0.01));
}

TEST_CASE("cost and CO2 follow the tariff, and are left out where a price is missing") {
    tests::OneRadiator gas = with("tariff: {electricity: 0.27 /kWh, gas: 0.07 /kWh, gas_co2: 183 "
                                  "g/kWh, currency: GBP}\n");
    gas.source = "kind: boiler, greatest_output: 12 kW";
    const solver::SeasonAnswer answer = year_of(gas);
    const solver::SeasonTotals &year = answer.with_curve.totals;
    REQUIRE(year.cost.has_value());
    CHECK(*year.cost == Approx(0.27 * year.electricity_kwh + 0.07 * year.gas_kwh).epsilon(1e-12));
    CHECK_FALSE(year.co2_kg.has_value()); // the pumps' electricity has no factor
    CHECK_FALSE(year_of(with("")).with_curve.totals.cost.has_value());
}

TEST_CASE("a mixed circuit follows its own curve and the source the warmest circuit's") {
    const solver::SeasonAnswer answer =
        solver::season(tests::example_house("header-three-pumps.yaml"));
    REQUIRE(answer.circuits.size() == 3);
    CHECK(answer.circuits[0].name == "front manifold");
    CHECK(answer.circuits[0].mixer);
    CHECK(answer.circuits[2].name == "unmixed");
    CHECK_FALSE(answer.circuits[2].mixer);
    double before = 100.0;
    for (const solver::CurvePoint &point : answer.curve) {
        double warmest = 0.0;
        for (const solver::CurveCircuit &circuit : point.circuits) {
            warmest = std::max(warmest, circuit.flow_c);
            if (circuit.hot_share) // heat closes at the mixer
                CHECK(*circuit.hot_share * point.source_c +
                          (1.0 - *circuit.hot_share) * circuit.return_c ==
                      Approx(circuit.flow_c).epsilon(1e-9));
        }
        CHECK(point.source_c == Approx(warmest).epsilon(1e-12));
        CHECK(point.source_c < before);
        before = point.source_c;
        CHECK(point.circuits[0].flow_c <= 45.0); // the floors' limit
    }
}

TEST_CASE("a circulator slower than its header's secondary has the source send warmer") {
    // All that comes back to the source is what the circuits send back, at half their flow.
    solver::HeatingHouse house =
        solver::heating_house(tests::example_house("header-three-pumps.yaml"));
    const solver::WeatherState wide = solver::at_outdoor(house, -3.0, {});
    double drawn = 0.0, carried = 0.0, warmest = 0.0;
    for (const solver::CircuitState &circuit : wide.circuits) {
        drawn += circuit.hot_share * circuit.flow_kg_s;
        carried += circuit.hot_share * circuit.flow_kg_s * circuit.return_c;
        warmest = std::max(warmest, circuit.flow_c);
    }
    house.primary_kg_s = 0.5 * drawn;
    const solver::WeatherState tight = solver::at_outdoor(house, -3.0, {});
    CHECK(tight.return_c == Approx(carried / drawn).epsilon(1e-9));
    // Half the flow takes twice the drop; c at two means differs by less than 0.5 %.
    CHECK(tight.source_c - tight.return_c ==
          Approx(2.0 * (warmest - carried / drawn)).epsilon(0.005));
}

TEST_CASE("every example with rooms has a year whose sums close") {
    int years = 0;
    for (const std::string &file : tests::example_houses()) {
        INFO(file);
        const networks::House house =
            tests::example_house(std::filesystem::path(file).filename().string());
        if (!solver::why_no_season(house).empty())
            continue;
        ++years;
        const solver::SeasonAnswer answer = solver::season(house);
        for (const solver::SeasonScenario *way :
             {&answer.with_curve, &answer.turned_down, &answer.fixed}) {
            const solver::SeasonTotals &year = way->totals;
            double heat = 0.0, input = 0.0;
            for (const solver::SeasonBin &bin : year.bins) {
                heat += bin.given_w * bin.hours * 1e-3;
                input += bin.input_w * bin.hours * 1e-3;
                CHECK(bin.return_c < bin.source_c);
            }
            CHECK(year.heat_kwh == Approx(heat).epsilon(1e-12));
            CHECK(year.gas_kwh + year.source_electricity_kwh == Approx(input).epsilon(1e-12));
            CHECK(year.heat_kwh + year.short_kwh >= year.room_kwh * (1.0 - 1e-5));
            CHECK(year.room_kwh <= year.need_kwh * (1.0 + 1e-9));
        }
    }
    CHECK(years >= 10);
}

TEST_CASE("a house whose losses cannot follow the weather has no year") {
    tests::OneRadiator house;
    std::string text = house.text();
    text.erase(text.find("design_day"), text.find("rooms:") - text.find("design_day"));
    CHECK_THAT(solver::why_no_season(tests::house_of(text)), Contains("design_day"));
    CHECK(solver::why_no_season(tests::house_of(house.text())).empty());
    house.more = "year: {heating_limit: 8 degC}\n";
    house.design_outdoor = "8 degC";
    CHECK_THAT(solver::why_no_season(tests::house_of(house.text())), Contains("heating limit"));
}

TEST_CASE(
    "run at a fixed temperature the source sends the design day's all year, turned down 5 K less") {
    const solver::SeasonAnswer answer = year_of(with("year: {climate: average, free_heat: no}\n"));
    REQUIRE_FALSE(answer.fixed.totals.bins.empty());
    for (const solver::SeasonBin &bin : answer.fixed.totals.bins)
        CHECK(bin.source_c == Approx(answer.needed_c).margin(1e-6));
    // At the design outdoor temperature the curve is there too, and 5 K lower once turned down.
    for (const auto &[way, less_k] :
         {std::pair{&answer.with_curve, 0.0}, {&answer.turned_down, solver::turned_down_k}})
        for (const solver::SeasonBin &bin : way->totals.bins)
            if (bin.outdoor_c == answer.design_outdoor_c)
                CHECK(bin.source_c == Approx(answer.needed_c - less_k).margin(0.2));
}

TEST_CASE("a year of solid fuel has its heat and hours, and no fuel, cost or efficiency") {
    std::string text = R"(
house: stove
design_day: {outdoor: -3 degC}
levels: {ground: 0 m, up: 2.5 m}
junctions: {leak: {level: up}}
rooms: {den: {indoor: 20 degC, loss: 2000 W}}
source:
  kind: solid_fuel
  level: ground
  heat_leak: pair
  slumber: 400 W
  flow_temperature: 65 degC
  drop: 15 K
  circulator: {states: external, curve: [[0 m3/h, 30 kPa], [4 m3/h, 10 kPa]]}
pipework:
  - {run: main, from: source, to: plant, pipe: copper 22, length: 6 m}
  - {run: pair, from: source, to: leak, pipe: copper 28, length: 4 m}
radiators:
  - {radiator: den, room: den, from: plant, pipe: copper 15, length: 3 m}
  - {radiator: leak, heat: 500 W, from: leak, pipe: copper 22, length: 1 m}
tariff: {gas: 0.1 /kWh, gas_co2: 200 g/kWh, electricity: 0.3 /kWh, electricity_co2: 100 g/kWh}
)";
    const solver::SeasonAnswer fire = solver::season(tests::house_of(text));
    const std::string stove = "kind: solid_fuel\n";
    text.replace(text.find(stove), stove.size(), "kind: boiler\n");
    for (const char *key : {"  heat_leak: pair\n", "  slumber: 400 W\n"})
        text.erase(text.find(key), std::string(key).size());
    const solver::SeasonAnswer gas = solver::season(tests::house_of(text));
    const solver::SeasonTotals &year = fire.with_curve.totals;
    CHECK_FALSE(year.fuel_known);
    CHECK(gas.with_curve.totals.fuel_known);
    // The heat is that of the rooms, whatever gives it.
    CHECK_THAT(year.heat_kwh, Catch::WithinRel(gas.with_curve.totals.heat_kwh, 0.01));
    CHECK(year.hours == gas.with_curve.totals.hours);
    CHECK(year.gas_kwh == 0.0);
    CHECK(year.seasonal_performance == 0.0);
    CHECK_FALSE(year.cost);
    CHECK_FALSE(year.co2_kg);
    for (const solver::SeasonBin &bin : year.bins)
        CHECK(bin.input_w == 0.0);
    for (const solver::SeasonAssumption &row : fire.assumed)
        CHECK(row.what != "the boiler");
    const std::string words = solver::report(fire, solver::Format::Text);
    CHECK_THAT(words, Catch::Contains("what solid fuel that takes is not worked out"));
    CHECK_THAT(words, !Catch::Contains("gas") && !Catch::Contains("efficiency of 9"));
}
