// Water, vessel and pressures of a closed system. Volumes and pressures by hand.
#include "solver/questions/fill.hpp"

#include "models/units.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fmt/format.h>

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
  highest_temperature: 40 degC
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

TEST_CASE("Water grows to what the source sends when its control fails, stated or assumed") {
    const auto filled = [](const std::string &highest) {
        std::string house = text("fill: {pressure: 1.5 bar, vessel_at: source.return}");
        const std::string key = "  highest_temperature: 40 degC\n";
        house.replace(house.find(key), key.size(), highest);
        return solver::fill(tests::house_of(house));
    };
    CHECK(filled("  highest_temperature: 55 degC\n").hot_c == 55.0);
    const FillAnswer silent = filled("");
    const auto assumed = [](const FillAnswer &a, const std::string &what) {
        return std::any_of(a.assumed.begin(), a.assumed.end(),
                           [&](const solver::AssumedValue &value) { return value.what == what; });
    };
    CHECK(silent.hot_c == 60.0); // as drill assumes it
    CHECK(assumed(silent, "highest flow temperature of a heat pump"));
    CHECK_FALSE(assumed(filled("  highest_temperature: 55 degC\n"),
                        "highest flow temperature of a heat pump"));
    // Hotter water has grown more, and a larger vessel takes it.
    CHECK(silent.size.volume_m3 > filled("  highest_temperature: 40 degC\n").size.volume_m3);
}

TEST_CASE("Where no vessel is stated the least usual one is taken that suits the fill pressure") {
    const auto vessel_l = [](const std::string &pressure) {
        return 1e3 * answer("fill: {pressure: " + pressure + ", vessel_at: source.return}")
                         .pressure.vessel_m3;
    };
    // Least vessel 6.4 l: 8 l wants (0.79 + 1) 8 / (8 - 3) - 1 = 1.86 bar, 12 l 1.39, 18 l 1.15.
    CHECK_THAT(vessel_l("1.9 bar"), WithinAbs(8.0, 1e-9));
    CHECK_THAT(vessel_l("1.5 bar"), WithinAbs(12.0, 1e-9));
    CHECK_THAT(vessel_l("1.2 bar"), WithinAbs(18.0, 1e-9));
    // A smaller one that holds the growth too is named, with the pressure it wants.
    const auto pressure_of = [](const std::string &pressure) {
        return answer("fill: {pressure: " + pressure + ", vessel_at: source.return}").pressure;
    };
    CHECK_FALSE(pressure_of("1.9 bar").smaller_m3.has_value());
    const solver::FillPressure low = pressure_of("1.2 bar");
    CHECK_THAT(low.smaller_m3.value(), WithinAbs(8.0e-3, 1e-12));
    CHECK_THAT(low.smaller_range.least_pa, WithinAbs(1.86e5, 0.01e5));
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

TEST_CASE("a fill pressure is taken to half a hundredth of a bar past its range, and no further") {
    const auto asked = [](double pressure_pa) {
        return answer("fill: {vessel_at: source.return, vessel: 12 l, pressure: " +
                      std::to_string(pressure_pa) + " Pa}");
    };
    const models::FillRange range = asked(1.5e5).pressure.range;
    CHECK(joined(asked(range.least_pa - 400.0).faults).find("too little") == std::string::npos);
    CHECK_THAT(joined(asked(range.least_pa - 600.0).faults), Contains("too little"));
    const double low_pa = range.least_pa - 0.1e5;
    CHECK_THAT(joined(asked(low_pa).faults),
               Contains(fmt::format("a fill pressure of {:.2f} bar leaves", low_pa * 1e-5)));
    CHECK(joined(asked(range.most_pa + 400.0).faults).find("too much") == std::string::npos);
    CHECK_THAT(joined(asked(range.most_pa + 600.0).faults), Contains("too much"));
    // The vessel taken where none is stated suits by the same margin: the 12 l one, or the next.
    const auto taken_l = [](double pressure_pa) {
        return 1e3 * answer("fill: {vessel_at: source.return, pressure: " +
                            std::to_string(pressure_pa) + " Pa}")
                         .pressure.vessel_m3;
    };
    CHECK_THAT(taken_l(range.least_pa - 400.0), WithinAbs(12.0, 1e-9));
    CHECK_THAT(taken_l(range.least_pa - 600.0), WithinAbs(18.0, 1e-9));
}

TEST_CASE("hot, the vessel's gas has shrunk by what the water grew, as Boyle and Mariotte say") {
    const FillAnswer a = answer("fill: {pressure: 1.5 bar, vessel_at: source.return, vessel: 12 l, "
                                "highest: 60 degC, other_water: 100 l}");
    // 1.6776 % of 116.28 l; the gas of 12 l at 0.79019 bar fills 8.592 l at 1.5 bar
    const double gas_l = 12.0 * 1.79019 / 2.5;
    CHECK_THAT(a.pressure.hot_pa.value() * 1e-5 + 1.0,
               WithinRel(2.5 * gas_l / (gas_l - 1.9507), 1e-3));
    CHECK(a.hot_c == 60.0);
    CHECK(a.hot_by == "`highest` in the file");
    CHECK(a.pressure.vessel_given);
    CHECK(a.pressure.vessel_enough);
}

TEST_CASE("faults give their figures in bar and litres") {
    // 0.6 - 0.49 bar is left at the top, where 0.3 are wanted (common practice, no source).
    const std::string low =
        joined(answer("fill: {pressure: 0.6 bar, vessel_at: source.return}").faults);
    CHECK_THAT(low,
               Contains("0.11 bar at the high point `loft.") && Contains("fill to 0.19 bar more"));
    // From 10 to 40 degC 16.28 l grow by 0.755 %, 0.123 l; with the reserve times 3.5/1.71.
    const FillAnswer a = answer("fill: {pressure: 1.5 bar, vessel_at: source.return, vessel: 4 l}");
    CHECK_THAT(joined(a.faults), Contains("the vessel of 4 l is too small; it takes 6.4 l"));
    // 16.3 l in pipes and radiator; 15 l for each of 1.2 kW are 18.
    CHECK_THAT(joined(a.faults), Contains("16 l circulate with every zone shut, where 18 l are "
                                          "wanted") &&
                                     Contains("or add 2 l in a volumiser"));
    CHECK_FALSE(a.pressure.hot_pa);
    const FillAnswer none = answer("fill: {pressure: 0.4 bar, vessel_at: source.return, "
                                   "safety_valve: 1.2 bar}");
    CHECK_THAT(joined(none.faults),
               Contains("the precharge of 0.79 bar is not below the final pressure of 0.70 bar"));
}

TEST_CASE("flushing each pipe loses what Darcy and Weisbach say for cold water") {
    std::string house = text("fill: {pressure: 1.5 bar, vessel_at: source.return, flush_velocity: "
                             "0.18 m/s}");
    const std::string pipe = "roughness: 0.002 mm";
    house.replace(house.find(pipe), pipe.size(), "friction_factor: 0.03");
    const std::string radiator = "from: loft, ";
    house.replace(house.find(radiator), radiator.size(),
                  "from: loft, pipe: {bore: 13 mm, friction_factor: 0.04}, length: 3 m, ");
    const FillAnswer a = solver::fill(tests::house_of(house));
    REQUIRE(a.flushing.size() == 2);
    // 999.7 kg/m3 at 10 degC: f L/D rho v^2/2 over one pipe of the run, both of the radiator's or
    // one
    CHECK_THAT(a.flushing[0].flush_loss_pa,
               WithinRel(0.03 * 10.0 / 0.020 * 999.7 * 0.5 * 0.18 * 0.18, 1e-4));
    CHECK(a.flushing[0].carries_air); // 0.184 m/s on the design day
    CHECK_THAT(a.flushing[0].flow_m3_s * 6e4, WithinRel(3.47, 5e-3));
    CHECK_THAT(a.flushing[1].velocity_m_s,
               WithinRel(a.flushing[0].velocity_m_s * (20.0 * 20.0) / (13.0 * 13.0), 1e-6));
    CHECK_THAT(a.flushing[1].flush_m3_s * 6e4,
               WithinRel(0.18 * 0.25 * 3.14159265 * 1.69e-4 * 6e4, 1e-6));
}
