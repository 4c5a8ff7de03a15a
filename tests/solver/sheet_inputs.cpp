// What the sheet repeats of the file: its own figures in its own units, and nothing it leaves out.
#include "solver/questions/sheet.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
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

TEST_CASE("each part of a house with a header has its row, with every figure of the file") {
    const networks::House house = house_of(R"(
house: all parts
water: plain
rooms:
  den: {indoor: 20 degC, loss: 700 W}
  bath: {indoor: 22 degC, loss: 300 W, floor_area: 6 m2}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 90 mm, below: 10 degC}
source: {kind: heat_pump, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 50 kPa], [2 m3/h, 10 kPa]]}}
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 4 m, existing: yes}
  - {run: feed, from: header, to: manifold, pipe: copper 22, length: 6 m, zeta: 3, mixer: {kv: 4 m3/h, set: 35 degC}, pump: {mode: constant_pressure, setting: 20 kPa, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}, high_limit: {at: 45 degC, stops: pump}}
  - {run: riser, from: header, to: landing, pipe: copper 15, length: 5 m, parts: [{part: zone_valve, name: upstairs valve, kv: 3 m3/h, zone: up}]}
header: {bore: 60 mm, height: 0.5 m}
manifolds:
  manifold: {floor: screed, spacing: 150 mm, loops: [{room: den, pipe: pex 16x2, length: 76 m, tails: 4 m}]}
radiators:
  - {radiator: bath, room: bath, from: landing, output: 1000 W, rated_at: 75/65/20}
bypasses: [{bypass: spring, at: landing, kv: 1 m3/h, opens: 25 kPa}]
)");
    const std::vector<std::pair<std::string, std::string>> expected{
        {"room den", "20 degC, loss 700 W, surveyed"},
        {"room bath", "22 degC, loss 300 W, surveyed, floor 6 m2"},
        {"source", "heat pump, drop 5 K"},
        {"circulator, outside the source",
         "curve: 0 m3/h at 50 kPa, 2 m3/h at 10 kPa; fixed speed 100 %"},
        {"run primaries", "source to header: copper 28x0.9, existing; flow 4 m; return 4 m"},
        {"run feed", "header to manifold: copper 22x0.9; flow 6 m, zeta 3; return 6 m, zeta 3; "
                     "mixer Kv 4 m3/h; curve: 0 m3/h at 60 kPa, 2 m3/h at 20 kPa; constant "
                     "pressure 20 kPa; high-limit stat at 45 degC"},
        {"run riser", "header to landing: copper 15x0.7; flow 5 m; return 5 m; upstairs valve"},
        {"header", "bore 60 mm, 500 mm between flow and return"},
        // 72 m at 150 mm
        {"loop den 1", "in den, from manifold, pex 16x2 76 m with 4 m of tails, 10.8 m2 at 150 mm"},
        {"radiator bath", "in bath, from landing"},
        {"bypass spring", "at landing, Kv 1 m3/h, opens at 25 kPa"},
    };
    for (const auto &[where, what] : expected)
        CHECK(said(house, where) == what);
    CHECK(solver::sheet_inputs(house).size() == expected.size() + 1); // and the liquid
    networks::House other = house;
    other.source->inner = {{"mesh", {}, 2.5, {}, 0.0}, {"valve", 4.0, {}, {}, 0.0}};
    const auto rows = solver::sheet_inputs(other);
    CHECK(std::count_if(rows.begin(), rows.end(), [](const solver::InputRow &row) {
              return row.what == "mesh: zeta 2.5" || row.what == "valve: Kv 4 m3/h";
          }) == 2);
    other.bypasses[0].opens_pa.reset();
    CHECK(said(other, "bypass spring") == "at landing, Kv 1 m3/h");
    other.runs[2].one_way = true;
    CHECK(said(other, "run riser") == "header to landing: copper 15x0.7; flow 5 m; upstairs valve");
}
