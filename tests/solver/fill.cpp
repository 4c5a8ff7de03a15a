// Water, vessel and pressures of a closed system. Volumes and pressures by hand.
#include "solver/questions/fill.hpp"

#include "models/units.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using solver::FillAnswer;

namespace {

std::string text(const std::string &fill, const std::string &water = "plain") {
    return R"(
house: Test fill
water: )" + water +
           R"(
cold_start: 10 degC
levels: {ground: 0 m, loft: 5 m}
junctions: {loft: {level: loft}}
rooms: {den: {indoor: 20 degC, loss: 1200 W}}
source:
  kind: heat_pump
  flow_temperature: 40 degC
  drop: 5 K
  level: ground
  circulator: {states: external, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 kPa]]}
pipework:
  - {run: feed, from: source, to: loft, pipe: {bore: 20 mm, roughness: 0.002 mm}, length: 10 m}
radiators:
  - {radiator: den, room: den, from: loft, volume: 10 l}
)" + fill;
}

FillAnswer answer(const std::string &fill, const std::string &water = "plain") {
    return solver::fill(tests::house_of(text(fill, water)));
}

std::string joined(const std::vector<std::string> &lines) {
    std::string all;
    for (const std::string &line : lines)
        all += line + "\n";
    return all;
}

} // namespace

TEST_CASE("The system's volume is that of its pipes, radiators and what is stated beside them") {
    const FillAnswer a =
        answer("fill: {pressure: 1.5 bar, vessel_at: source.return, other_water: 20 l}");
    // Two pipes of 10 m with 0.314159 l a metre, the radiator, the rest.
    CHECK_THAT(a.system_m3 * 1e3, WithinRel(6.28319 + 10.0 + 20.0, 1e-6));
    const FillAnswer without = answer("fill: {pressure: 1.5 bar, vessel_at: source.return}");
    CHECK_THAT(joined(without.remarks), Contains("other_water"));
}

TEST_CASE("Vessel and fill follow from the height above it, its expansion and the safety valve") {
    const FillAnswer a = answer(
        "fill: {pressure: 1.5 bar, vessel_at: source.return, safety_valve: 3 bar, highest: 60 "
        "degC, other_water: 100 l}");
    CHECK_THAT(a.high.above_vessel_m, WithinAbs(5.0, 1e-12));
    // 999.70 kg/m3 x 9.80665 m/s2 x 5 m = 49019 Pa
    CHECK_THAT(a.size.precharge_pa, WithinRel(49019.0 + 0.3e5, 1e-4));
    // 1.6776 % of 116.28 l and the 3 l of reserve; (2.5 + 1) / (2.5 - 0.79019) of their sum
    CHECK_THAT(a.size.volume_m3 * 1e3, WithinRel((1.9507 + 3.0) * 3.5 / (2.5 - 0.79019), 1e-3));
    CHECK_THAT(a.high.still_pa.value(), WithinRel(1.5e5 - 49019.0, 1e-4));
    CHECK(a.pressure.vessel_m3 >= a.size.volume_m3);
    CHECK(a.pressure.range.least_pa < a.pressure.range.most_pa);
}

TEST_CASE(
    "Water grows to the warmest that is sent: to the rooms, or to a cylinder that asks more") {
    const auto hot_c = [](const std::string &hot_water) {
        return answer("fill: {pressure: 1.5 bar, vessel_at: source.return}\n" + hot_water).hot_c;
    };
    const auto cylinder = [](const std::string &sent) {
        return "hot_water: {from: source, coil: {loss: 8 kPa, at_flow: 1.2 m3/h}, flow: 16 l/min, "
               "after_run: heating, flow_temperature: " +
               sent + "}\n";
    };
    CHECK(hot_c("") == 40.0);
    CHECK(hot_c(cylinder("38 degC")) == 40.0);
    CHECK(hot_c(cylinder("58 degC")) == 58.0);
}

TEST_CASE("Where no vessel is stated the least usual one is taken that suits the fill pressure") {
    const auto vessel_l = [](const std::string &pressure) {
        return 1e3 * answer("fill: {pressure: " + pressure + ", vessel_at: source.return}")
                         .pressure.vessel_m3;
    };
    // Least vessel 6.6 l: 8 l wants (0.79 + 1) 8 / (8 - 3) - 1 = 1.86 bar, 12 l 1.39, 18 l 1.15.
    CHECK_THAT(vessel_l("1.9 bar"), WithinAbs(8.0, 1e-9));
    CHECK_THAT(vessel_l("1.5 bar"), WithinAbs(12.0, 1e-9));
    CHECK_THAT(vessel_l("1.2 bar"), WithinAbs(18.0, 1e-9));
}

TEST_CASE("At rest the high point has the static pressure, and running at least what the solved "
          "network has there") {
    const FillAnswer a = answer("fill: {pressure: 1.5 bar, vessel_at: source.return}");
    REQUIRE(a.high.running_pa);
    // The vessel is at the pump's inlet: running, the pump lifts every pressure above it.
    CHECK(*a.high.running_pa > *a.high.still_pa);
    CHECK(*a.high.running_pa < *a.high.still_pa + 60e3);
}

TEST_CASE("Too small a vessel, too little and too much fill pressure and air at the top are "
          "faults, each by its figure") {
    const auto faults = [](const std::string &fill) { return joined(answer(fill).faults); };
    CHECK_THAT(faults("fill: {pressure: 1.2 bar, vessel_at: source.return, vessel: 4 l}"),
               Contains("too small"));
    CHECK_THAT(faults("fill: {pressure: 0.9 bar, vessel_at: source.return, vessel: 12 l}"),
               Contains("too little"));
    // A larger system: hot, it would pass 2.5 bar.
    CHECK_THAT(faults("fill: {pressure: 2.4 bar, vessel_at: source.return, vessel: 12 l, "
                      "other_water: 100 l}"),
               Contains("too much"));
    CHECK_THAT(faults("fill: {pressure: 0.6 bar, vessel_at: source.return}"),
               Contains("draws air"));
    CHECK_THAT(faults("fill: {pressure: 1.5 bar, vessel_at: source.return, vessel: 12 l}"),
               !Contains("vessel") && !Contains("draws air"));
}

TEST_CASE("Glycol takes its share of the volume and brings its inhibitor, plain water needs one") {
    const std::string section = "fill: {pressure: 1.5 bar, vessel_at: source.return}";
    const FillAnswer glycol = answer(section, "{glycol: propylene, share: 30 %, by: volume}");
    REQUIRE(glycol.glycol_m3);
    CHECK_THAT(*glycol.glycol_m3, WithinRel(0.3 * glycol.system_m3, 1e-12));
    CHECK_FALSE(glycol.inhibitor_m3);
    const FillAnswer plain = answer(section);
    CHECK_FALSE(plain.glycol_m3);
    CHECK_THAT(plain.inhibitor_m3.value(), WithinRel(0.01 * plain.system_m3, 1e-12));
    CHECK(glycol.expansion_share > plain.expansion_share);
    const FillAnswer stated =
        answer("fill: {pressure: 1.5 bar, vessel_at: source.return, inhibitor: 2 %}");
    CHECK_THAT(stated.inhibitor_m3.value(), WithinRel(0.02 * stated.system_m3, 1e-12));
    CHECK(stated.assumed.size() + 1 == plain.assumed.size());
}

TEST_CASE("A liquid of one stated density has no known growth, which is said first") {
    const FillAnswer a = answer("fill: {pressure: 1.5 bar, vessel_at: source.return}",
                                "{density: 998 kg/m3, viscosity: 1.002 mPa s}");
    REQUIRE_FALSE(a.faults.empty());
    CHECK_THAT(a.faults.front(), Contains("growth is not known"));
}

TEST_CASE("Flushing takes the velocity asked for times the bore, in every pipe") {
    const FillAnswer a =
        answer("fill: {pressure: 1.5 bar, vessel_at: source.return, flush_velocity: 0.6 m/s}");
    REQUIRE(a.flushing.size() == 1);
    const solver::FlushRow &row = a.flushing.front();
    // 0.6 m/s in 20 mm: 11.3097 l/min. 1200 W at 5 K through it: 3.47 l/min, 0.184 m/s.
    CHECK_THAT(row.flush_m3_s * 6e4, WithinRel(11.3097, 1e-5));
    CHECK_THAT(row.velocity_m_s, WithinRel(0.184, 5e-3));
    CHECK_FALSE(row.carries_air);
    CHECK(row.flush_loss_pa > 0.0);
}

TEST_CASE("A heat pump's open volume is what its maker says, or by habit from its output") {
    const std::string section = "fill: {pressure: 1.5 bar, vessel_at: source.return}";
    const FillAnswer habit = answer(section);
    // No figures of the heat pump: 15 to 20 l for each kW of 1.2 kW.
    CHECK_THAT(habit.open.wanted_low_m3.value(), WithinRel(0.018, 1e-9));
    CHECK_THAT(habit.open.wanted_high_m3.value(), WithinRel(0.024, 1e-9));
    CHECK_THAT(joined(habit.faults), Contains("common practice"));
    std::string stated = text(section);
    stated.replace(stated.find("drop: 5 K"), 9, "least_open_volume: 12 l\n  drop: 5 K");
    const FillAnswer maker = solver::fill(tests::house_of(stated));
    CHECK_THAT(maker.open.wanted_low_m3.value(), WithinRel(0.012, 1e-12));
    CHECK(maker.open.always_m3 > 0.012);
    CHECK(maker.faults.empty());
}

TEST_CASE("A house without levels or a fill says what it takes for granted") {
    std::string house = text("");
    const auto erase = [&](const std::string &part) { house.erase(house.find(part), part.size()); };
    erase("levels: {ground: 0 m, loft: 5 m}\n");
    erase("junctions: {loft: {level: loft}}\n");
    erase("  level: ground\n");
    const FillAnswer a = solver::fill(tests::house_of(house));
    CHECK_THAT(joined(a.remarks), Contains("levels") && Contains("`fill`"));
    CHECK_FALSE(a.high.still_pa);
    CHECK(a.size.volume_m3 > 0.0);
}
