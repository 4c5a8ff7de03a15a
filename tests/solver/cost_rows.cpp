// Every line of a bill, by hand: what it counts, how much, how much of it is there, its price.
#include "solver/questions/cost.hpp"

#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

using namespace headroom;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

// A glycol system with a buffer, an old run and radiator, a loop, an unrated radiator, a mixed
// circuit with its pump and stat, a zone valve and a bypass.
const std::string house = R"(house: counted line by line
water: {glycol: propylene, share: 30 %, by: mass}
rooms:
  den: {floor_area: 20 m2, indoor: 20 degC, loss: 1200 W}
  bath: {indoor: 22 degC, loss: 500 W}
  hall: {indoor: 18 degC, loss: 300 W}
source: {kind: heat_pump, flow_temperature: 45 degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}}
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 4 m, existing: yes, fittings: {elbow: 3}, parts: [{part: resistance, name: strainer, kv: 10 m3/h}]}
  - {run: feed, from: header, to: manifold, pipe: copper 22, length: 6 m, fittings: {elbow: 4}, mixer: {kv: 4 m3/h, set: 35 degC}, pump: {mode: constant_pressure, setting: 20 kPa, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}, high_limit: {at: 45 degC, stops: pump}}
  - {run: riser, from: header, to: landing, pipe: copper 15, length: 5 m, parts: [{part: zone_valve, kv: 3 m3/h, zone: up}]}
header: {kind: buffer, bore: 300 mm, height: 0.5 m, volume: 50 l}
manifolds:
  manifold:
    loops:
      - {room: den, zone: down, pipe: pex 16x2, length: 76 m, tails: 4 m}
radiators:
  - {radiator: bath, room: bath, from: landing, pipe: copper 15, length: 3 m, existing: yes, volume: 5 l, output: 1000 W, rated_at: 75/65/20}
  - {radiator: hall, room: hall, from: landing, volume: 5 l}
bypasses: [{bypass: spring, at: landing, kv: 1 m3/h, opens: 25 kPa}]
prices:
  currency: GBP
  pipe_per_metre: {copper 22x0.9: 6, pex 16x2: 1.1, copper 15x0.7: 4, copper 28x0.9: 9}
  laying_per_metre: 2
  repiping_per_metre: 20
  fitting: 5
  valve: 30
  loop_port: 35
  actuator: 40
  thermostat: 80
  secondary_pump: 300
  mixer: 250
  header: 280
  bypass: 110
  radiator_per_kilowatt: 130
  radiator_swap: 100
  glycol_per_litre: 4
  hour: 50
  balancing_time: 0.3 h
  zone_time: 0.5 h
  mixer_time: 2 h
)";

constexpr double none = -1.0; // no price

struct Line {
    const char *group, *what, *unit;
    double quantity, there, each, hours_each;
};

// Volume of the mixture: copper 28x0.9 8 m, 22x0.9 12 m, 15x0.7 10 m and 6 m, pex 16x2 76 m, the
// buffer's 50 l and two radiators of 5 l: pi/4 (26.2^2 8 + 20.2^2 12 + 13.6^2 16 + 12^2 76) / 1000
// = 4.3130 + 3.8457 + 2.3243 + 8.5954 l, with the 60 l 79.078 l. 30 % of its mass is glycol;
// that is its share by volume of liquids mixed ideally at 1036 and 998.2 kg/m3 (from memory).
double glycol_l() {
    return 79.0784 * (0.3 / 1036.0) / (0.3 / 1036.0 + 0.7 / 998.2);
}

void check(const solver::Bill &bill, const std::vector<Line> &lines) {
    REQUIRE(bill.lines.size() == lines.size());
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const solver::BillLine &row = bill.lines[i];
        INFO("line " << i << ": " << row.what);
        CHECK(row.group == lines[i].group);
        CHECK(row.what == lines[i].what);
        CHECK(row.unit == lines[i].unit);
        CHECK_THAT(row.quantity, WithinRel(lines[i].quantity, 1e-4)); // glycol's litres, above
        CHECK_THAT(row.there, WithinAbs(lines[i].there, 1e-12));
        CHECK(row.each.has_value() == (lines[i].each != none));
        CHECK_THAT(row.each.value_or(none), WithinRel(lines[i].each, 1e-12));
        CHECK_THAT(row.hours_each, WithinRel(lines[i].hours_each, 1e-12));
    }
}

} // namespace

TEST_CASE("a bill has each part of the house once, with its count, price and hours, work last") {
    const solver::Bill bill = solver::bill_of(tests::house_of(house));
    check(bill, {
                    {"source", "heat pump", "", 1, 1, none, 0},
                    {"pipe", "copper 28x0.9", "m", 8, 8, 9, 0},
                    {"fittings", "elbow", "", 14, 6, 5, 0},
                    {"valves", "strainer", "", 1, 1, 30, 0},
                    {"pipe", "copper 22x0.9", "m", 12, 0, 6, 0},
                    {"controls", "high-limit stat", "", 1, 0, none, 0},
                    {"pumps", "secondary pump", "", 1, 0, 300, 0},
                    {"mixers", "mixer with actuator and sensor", "", 1, 0, 250, 0},
                    {"pipe", "copper 15x0.7", "m", 16, 6, 4, 0},
                    {"valves", "zone valve", "", 1, 0, 30, 0},
                    {"controls", "actuator", "", 2, 0, 40, 0}, // valve and loop
                    {"header", "buffer, bore 300 mm", "", 1, 1, 280, 0},
                    {"pipe", "pex 16x2", "m", 76, 0, 1.1, 0},
                    {"manifolds", "loop port with valve and flow meter", "", 1, 0, 35, 0},
                    {"radiators", "radiator, 1000 W at 75/65/20", "", 1, 1, 130, 0},
                    {"valves", "radiator valve or lockshield", "", 4, 2, 30, 0},
                    {"radiators", "radiator `hall`, output not in the file", "", 1, 0, none, 0},
                    {"valves", "bypass with its valve", "", 1, 0, 110, 0},
                    {"controls", "thermostat", "", 2, 0, 80, 0},
                    {"liquid", "glycol", "l", glycol_l(), 0, 4, 0},
                    {"work", "running pipe", "m", 36, 14, 20, 0.4}, // 20 an m at 50 an hour
                    {"work", "mixer set to work", "", 1, 0, 100, 2},
                    {"work", "laying loops", "m", 76, 0, 2, 0.04},
                    {"work", "balancing", "", 3, 1, 15, 0.3},
                    {"work", "fitting a radiator", "", 2, 1, 100, 2},
                    {"work", "thermostat set to work", "", 2, 0, 25, 0.5},
                });
    CHECK(bill.unpriced ==
          std::vector<std::string>{"high-limit stat", "radiator `hall`, output not in the file"});
}

TEST_CASE(
    "a bill's cost is of what is not there, its whole cost of everything, its hours of work") {
    const solver::Bill bill = solver::bill_of(tests::house_of(house));
    const double parts = 8 * 5.0 + 12 * 6.0 + 300.0 + 250.0 + 10 * 4.0 + 30.0 + 2 * 40.0 +
                         76 * 1.1 + 35.0 + 2 * 30.0 + 110.0 + 2 * 80.0 + glycol_l() * 4.0;
    const double work = 22 * 20.0 + 100.0 + 76 * 2.0 + 2 * 15.0 + 100.0 + 2 * 25.0;
    CHECK_THAT(bill.cost, WithinRel(parts + work, 1e-5));
    const double there =
        8 * 9.0 + 6 * 5.0 + 30.0 + 6 * 4.0 + 280.0 + 130.0 + 2 * 30.0 + 14 * 20.0 + 15.0 + 100.0;
    CHECK_THAT(bill.whole_cost, WithinRel(parts + work + there, 1e-5));
    CHECK_THAT(bill.hours, WithinRel(22 * 0.4 + 2.0 + 76 * 0.04 + 2 * 0.3 + 2.0 + 2 * 0.5, 1e-12));
}

TEST_CASE("a proposal's lines tell what of the house as found it uses, renews and takes out") {
    // Bath's radiator doubles; the zone valve goes, the riser stays old pipe no more than it was.
    const std::string proposal = R"(proposals:
  larger:
    radiators: [{radiator: bath, output: 2000 W}]
  none of it:
    header: none
    pipework:
      - {run: primaries, to: manifold}
      - {run: feed, remove: yes}
      - {run: riser, from: manifold}
)";
    const solver::CostAnswer answer = solver::cost(tests::house_of(house + proposal));
    REQUIRE(answer.bills.size() == 3);
    const auto line = [](const solver::Bill &bill, const std::string &what) {
        const auto at = std::find_if(bill.lines.begin(), bill.lines.end(),
                                     [&](const solver::BillLine &l) { return l.what == what; });
        INFO(what);
        REQUIRE(at != bill.lines.end());
        return *at;
    };
    const solver::Bill &larger = answer.bills[1];
    // Beside what the base buys: a radiator of 2 kW, one more fitted, one taken out at the shipped
    // 60 and so many hours of 50, and balancing of all three anew.
    CHECK(line(larger, "radiator, 2000 W at 75/65/20").cost() == 260.0);
    CHECK(line(larger, "fitting a radiator").to_buy() == 2.0); // bath's and hall's
    CHECK(line(larger, "radiator, 1000 W at 75/65/20, taken out").cost() == 60.0);
    CHECK_THAT(line(larger, "radiator, 1000 W at 75/65/20, taken out").hours(),
               WithinRel(60.0 / 50.0, 1e-12));
    CHECK_THAT(larger.cost - answer.bills[0].cost, WithinRel(260.0 + 100.0 + 60.0 + 15.0, 1e-9));
    CHECK_THAT(larger.hours - answer.bills[0].hours, WithinRel(2.0 + 1.2 + 0.3, 1e-9));
    // The removal is work, not a part of a whole new house; a radiator twice as large is.
    CHECK_THAT(larger.whole_cost - answer.bills[0].whole_cost, WithinRel(130.0, 1e-9));
    const solver::Bill &direct = answer.bills[2];
    CHECK(line(direct, "buffer, bore 300 mm, taken out").quantity == 1.0);
    CHECK(line(direct, "elbow").there == 6.0); // of the old run's, all that it uses
    CHECK(line(direct, "elbow").to_buy() == 0.0);
    CHECK(std::none_of(direct.lines.begin(), direct.lines.end(), [](const solver::BillLine &l) {
        return l.what == "strainer, taken out" || l.what == "copper 28x0.9, taken out";
    }));
}

TEST_CASE("control by zones is priced line by line, and the cheapest way comes first") {
    const solver::CostAnswer answer = solver::cost(tests::house_of(house));
    REQUIRE(answer.choices.size() == 3);
    // The shipped 15 for a setting; a loop's balancing is 15 and 0.3 h.
    CHECK(answer.choices[0].what == "balanced open loops on the source's own weather curve");
    CHECK(answer.choices[0].cost == 15.0 + 15.0);
    CHECK_THAT(answer.choices[0].hours, WithinRel(0.3, 1e-12));
    CHECK(answer.choices[1].cost == 40.0 + 80.0 + 25.0 + 15.0);
    CHECK_THAT(answer.choices[1].hours, WithinRel(0.8, 1e-12));
    CHECK(answer.choices[2].cost == 250.0 + 300.0 + 100.0 + 15.0);
    CHECK_THAT(answer.choices[2].hours, WithinRel(2.3, 1e-12));
    REQUIRE(answer.choices[1].lines.size() == 4);
    const solver::BillLine &thermostat = answer.choices[1].lines[1];
    CHECK(thermostat.group == "controls");
    CHECK(thermostat.quantity == 1.0);
    CHECK_FALSE(thermostat.invented);
    const solver::BillLine &setting = answer.choices[0].lines[0];
    CHECK(setting.invented); // the file's list has none
    const solver::BillLine &work = answer.choices[1].lines[2];
    CHECK(work.group == "work");
    CHECK_FALSE(work.invented);
}
