// What the sheet repeats of the file: its own figures in its own units, and nothing it leaves out.
#include "solver/questions/sheet.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom;
using tests::house_of;

namespace {

std::string house_text(const std::string &pump) {
    return R"(
house: inputs
design_day: {outdoor: -3 degC}
water: plain
rooms:
  den: {floor_area: 20 m2, indoor: 20 degC, loss: 1200 W}
source:
  kind: boiler
  flow_temperature: 60 degC
  drop: 15 K
  least_flow: 4 l/min
  circulator: {states: gross, curve: [[0 m3/h, 6 m], [2 m3/h, 1 m]], )" +
           pump + R"(}
  inner: [{name: exchanger, loss: 12 kPa, at_flow: 0.9 m3/h}]
pipework:
  - {run: riser, from: source, to: landing, pipe: copper 22, length: 7.5 m, fittings: {elbow: 3}}
radiators:
  - {radiator: hall, room: den, from: landing, pipe: copper 15, length: 2.25 m, valve_kv: 0.6 m3/h}
hot_water: {from: source, coil: {loss: 8 kPa, at_flow: 1.2 m3/h}, flow: 16 l/min, flow_temperature: 65 degC,
            after_run: heating}
fill: {pressure: 1.3 bar, vessel_at: source.return}
)";
}

std::string said(const networks::House &house, const std::string &where) {
    for (const solver::InputRow &row : solver::sheet_inputs(house))
        if (row.where == where)
            return row.what;
    return "";
}

bool has(const std::string &text, const std::string &part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("the sheet repeats the file's figures in the file's units") {
    const networks::House house = house_of(house_text("mode: fixed_speed, speed: 80 %"));
    CHECK(has(said(house, "design day"), "-3 degC"));
    CHECK(has(said(house, "source"), "60 degC"));
    CHECK(has(said(house, "source"), "15 K"));
    CHECK(has(said(house, "source"), "4 l/min"));
    CHECK(has(said(house, "circulator, the pump's own"), "80 %"));
    CHECK(has(said(house, "inside the source"), "12 kPa at 0.9 m3/h"));
    CHECK(has(said(house, "run riser"), "7.5 m, 3 elbow; return 7.5 m, 3 elbow"));
    CHECK(has(said(house, "radiator hall"), "2.25 m"));
    CHECK(has(said(house, "radiator hall"), "Kv 0.6 m3/h"));
    CHECK(has(said(house, "hot water"), "16 l/min at 65 degC"));
    CHECK(has(said(house, "fill"), "1.3 bar"));
}

TEST_CASE("the sheet tells each pump's mode with the setting that belongs to it") {
    const auto pump = [](const std::string &mode) {
        return said(house_of(house_text(mode)), "circulator, the pump's own");
    };
    CHECK(has(pump("mode: constant_flow, flow: 0.72 m3/h"), "constant flow 0.72 m3/h"));
    CHECK(has(pump("mode: constant_pressure, setting: 22 kPa"), "constant pressure 22 kPa"));
    CHECK(
        has(pump("mode: proportional_pressure, setting: 31 kPa"), "proportional pressure 31 kPa"));
}

TEST_CASE("a loop without tails and a radiator without pipe are told without them") {
    networks::House house = house_of(house_text("mode: fixed_speed"));
    house.emitters.front().pipe.bore_m = 0.0;
    CHECK_FALSE(has(said(house, "radiator hall"), "2.25 m"));
    house.emitters.front().pipe.bore_m = 0.013;
    house.emitters.front().kind = networks::Emitter::Kind::FloorLoop;
    CHECK_FALSE(has(said(house, "loop hall"), "tails"));
    house.emitters.front().tails_m = 0.5;
    CHECK(has(said(house, "loop hall"), "with 0.5 m of tails"));
}
