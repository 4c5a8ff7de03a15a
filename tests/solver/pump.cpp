#include "solver/questions/pump.hpp"

#include "solver/questions/season.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"
#include "tests/support/one_radiator.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <fmt/format.h>
#include <string>

using namespace headroom;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {

constexpr double pi = 3.14159265358979323846;

// Loss over flow squared [Pa s2/m6] at 1000 kg/m3, as textbooks print it.
double pipe_r(double factor, double length_m, double bore_m) { // f L/D rho v^2/2, Darcy-Weisbach
    const double area = 0.25 * pi * bore_m * bore_m;
    return factor * length_m / bore_m * 500.0 / (area * area);
}
double zeta_r(double zeta, double bore_m) { // zeta rho v^2/2
    const double area = 0.25 * pi * bore_m * bore_m;
    return zeta * 500.0 / (area * area);
}
double kv_r(double kv_m3_h) { // 1 bar at Kv, IEC 60534-1
    return 1e5 * 3600.0 * 3600.0 / (kv_m3_h * kv_m3_h);
}

constexpr double shutoff_pa = 40e3;
constexpr double fall = 1.2e11; // of the curve: p = shutoff - fall V^2

double curve_pa(double flow_m3_s) {
    return shutoff_pa - fall * flow_m3_s * flow_m3_s;
}

// One radiator behind pipes of a stated friction factor: everything loses as the square of flow.
struct QuadraticHouse {
    std::string pump = "mode: fixed_speed, efficiency: 40 %, eei: 0.19";
    double design_m3_s = 1e-4;  // only shapes the curve's points
    double inner_kv_m3_h = 0.0; // of an exchanger inside the source, if any

    double system_r() const {
        return 2.0 * pipe_r(0.03, 12.0, 0.016) + 2.0 * pipe_r(0.03, 3.0, 0.013) + kv_r(1.2) +
               kv_r(1.5) + zeta_r(3.0, 0.013);
    }
    double inner_r() const { return inner_kv_m3_h > 0.0 ? kv_r(inner_kv_m3_h) : 0.0; }
    double meeting_m3_s() const { return std::sqrt(shutoff_pa / (system_r() + inner_r() + fall)); }
    std::string text() const {
        std::string points = fmt::format("[0 m3/h, {} Pa]", shutoff_pa);
        for (const double flow : {design_m3_s, meeting_m3_s(), 1.2 * meeting_m3_s()})
            points += fmt::format(", [{} m3/h, {} Pa]", flow * 3600.0, curve_pa(flow));
        return "house: all quadratic\n"
               "water: {density: 1000 kg/m3, viscosity: 0.65 mPa s}\n"
               "rooms: {den: {indoor: 20 degC, loss: 2090 W}}\n"
               "design_day: {outdoor: -3 degC}\n"
               "source: {kind: heat_pump, flow_temperature: 40 degC, drop: 5 K, circulator: "
               "{states: " +
               std::string(inner_kv_m3_h > 0.0 ? "gross, " : "external, ") + pump + ", curve: [" +
               points + "]}" +
               (inner_kv_m3_h > 0.0
                    ? fmt::format(", inner: [{{name: exchanger, kv: {} m3/h}}]", inner_kv_m3_h)
                    : "") +
               "}\n"
               "pipework: [{run: feed, from: source, to: landing, pipe: {bore: 16 mm, "
               "friction_factor: 0.03}, length: 12 m}]\n"
               "radiators: [{radiator: den, room: den, from: landing, pipe: {bore: 13 mm, "
               "friction_factor: 0.03}, length: 3 m, valve_kv: 1.2 m3/h, lockshield_kv: 1.5 m3/h, "
               "zeta: 3}]\n"
               "fill: {pressure: 1.5 bar, vessel_at: source.return}\n";
    }
};

// The house's own design flow goes into the curve as a point, so that no interpolation is tested.
QuadraticHouse quadratic_house(double inner_kv_m3_h = 0.0) {
    QuadraticHouse house;
    house.inner_kv_m3_h = inner_kv_m3_h;
    house.design_m3_s = solver::pumps(tests::house_of(house.text())).setting.flow_m3_s;
    return house;
}

const solver::SystemPoint &crossing(const solver::SystemCurve &curve, const std::string &words) {
    const auto found =
        std::find_if(curve.points.begin(), curve.points.end(),
                     [&](const solver::SystemPoint &point) { return point.crossing == words; });
    REQUIRE(found != curve.points.end());
    return *found;
}

// A boiler's primary and one secondary circuit with a radiator, each at a stated flow, around a
// header; pipes of a stated friction factor.
networks::House header_house(double primary_m3_h, double secondary_m3_h, double loss_w) {
    return tests::house_of(fmt::format(
        "house: header by hand\n"
        "water: {{density: 1000 kg/m3, viscosity: 0.65 mPa s}}\n"
        "rooms: {{den: {{indoor: 20 degC, loss: {} W}}}}\n"
        "source: {{kind: boiler, flow_temperature: 45 degC, drop: 10 K, circulator: {{states: "
        "gross, model: generic 8 m, mode: constant_flow, flow: {} m3/h}}, inner: "
        "[{{name: heat exchanger, loss: 5 kPa, at_flow: 1 m3/h}}]}}\n"
        "pipework:\n"
        "  - {{run: primaries, from: source, to: header, pipe: {{bore: 20 mm, friction_factor: "
        "0.03}}, length: 8 m}}\n"
        "  - {{run: feed, from: header, to: landing, pipe: {{bore: 20 mm, friction_factor: 0.03}}, "
        "length: 5 m, pump: {{model: generic 8 m, mode: constant_flow, flow: {} m3/h}}}}\n"
        "header: {{bore: 60 mm, height: 0.5 m}}\n"
        "radiators: [{{radiator: den, room: den, from: landing, pipe: copper 22, length: 3 m, "
        "drop: 10 K, valve_kv: 3 m3/h, lockshield_kv: 3 m3/h}}]\n",
        loss_w, primary_m3_h, secondary_m3_h));
}

} // namespace

TEST_CASE("the one circulator's free running has zone valves open that the file has shut") {
    const std::string open = quadratic_house().text();
    const std::string with_valve =
        "length: 12 m, parts: [{part: zone_valve, kv: 9 m3/h, zone: up}]}";
    std::string text = open;
    text.replace(text.find("length: 12 m}"), std::string("length: 12 m}").size(), with_valve);
    networks::House house = tests::house_of(text);
    const solver::PumpAnswer opened = solver::pumps(house);
    house.runs[0].parts[0].open = false;
    const solver::PumpAnswer shut = solver::pumps(house);
    REQUIRE(opened.curves.size() == shut.curves.size());
    const auto meets = [](const solver::PumpAnswer &answer) {
        return crossing(answer.curves.back(), "full speed").flow_m3_s;
    };
    CHECK(meets(opened) > 0.0);
    CHECK(meets(shut) == meets(opened));
}

TEST_CASE("free running meets where a quadratic system and the pump curve cross by hand") {
    // R V^2 = p0 - k V^2  gives  V = sqrt(p0/(R + k)). The losses' rounding at rest is below
    // 0.005 Pa each and the pump's meeting point is one of its curve's points.
    const QuadraticHouse house = quadratic_house();
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(house.text()));
    REQUIRE(answer.curves.size() == 2);
    const solver::SystemPoint &meets = crossing(answer.curves.front(), "full speed");
    CHECK_THAT(meets.flow_m3_s, WithinRel(house.meeting_m3_s(), 1e-5));
    CHECK_THAT(meets.needs_pa,
               WithinRel(house.system_r() * std::pow(house.meeting_m3_s(), 2), 1e-5));
    for (const solver::SystemPoint &point : answer.curves.front().points)
        CHECK_THAT(point.needs_pa, // four parts that are quadratic but for 0.005 Pa
                   WithinAbs(house.system_r() * point.flow_m3_s * point.flow_m3_s,
                             0.02 + 1e-6 * point.needs_pa));
}

TEST_CASE("a stated friction factor leaves a cold start where the warm house ran") {
    // Nothing in the house depends on viscosity, so the same crossing.
    const QuadraticHouse house = quadratic_house();
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(house.text()));
    CHECK_THAT(crossing(answer.curves.back(), "full speed").flow_m3_s,
               WithinRel(house.meeting_m3_s(), 1e-5));
}

TEST_CASE("the setting is the system's head at the design flow, its speed that of affinity") {
    // On a system without static head V ~ n, so n is the design flow over the free-running one:
    // affinity laws [Crane2009], eq. 7-33.
    const QuadraticHouse house = quadratic_house();
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(house.text()));
    const solver::CirculatorSetting &s = answer.setting;
    REQUIRE(s.enough);
    CHECK_THAT(s.flow_m3_s, WithinRel(house.design_m3_s, 1e-9));
    // 2090 W at 5 K and 4.18 kJ/(kg K): 0.1 kg/s.
    CHECK_THAT(s.flow_m3_s, WithinRel(1e-4, 2e-3));
    const double needed_pa = house.system_r() * s.flow_m3_s * s.flow_m3_s;
    CHECK_THAT(s.set.head_pa, WithinRel(needed_pa, 1e-5));
    CHECK_THAT(s.set.speed, WithinRel(s.flow_m3_s / house.meeting_m3_s(), 1e-5));
    CHECK_THAT(crossing(answer.curves.front(), "setting").flow_m3_s, WithinRel(s.flow_m3_s, 1e-5));
    CHECK(s.inner_pa == Approx(0.0).margin(1e-9));
}

TEST_CASE("a pump that makes its source's inner loss too is turned to the speed for both") {
    const QuadraticHouse house = quadratic_house(1.5);
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(house.text()));
    const solver::CirculatorSetting &s = answer.setting;
    REQUIRE(s.enough);
    const double squared = s.flow_m3_s * s.flow_m3_s;
    CHECK_THAT(s.inner_pa, WithinRel(kv_r(1.5) * squared, 1e-5));
    CHECK_THAT(s.set.head_pa, WithinRel(house.system_r() * squared, 1e-5));
    CHECK_THAT(s.set.rise_pa, WithinRel((house.system_r() + kv_r(1.5)) * squared, 1e-5));
    CHECK_THAT(s.set.speed, WithinRel(s.flow_m3_s / house.meeting_m3_s(), 1e-5));
}

TEST_CASE("power is pressure times flow over the wire-to-water efficiency of the file") {
    const QuadraticHouse house = quadratic_house();
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(house.text()));
    const solver::CirculatorSetting &s = answer.setting;
    CHECK_THAT(s.full.head_pa, WithinRel(curve_pa(s.flow_m3_s), 1e-9));
    CHECK_THAT(s.full.power.electric_w, WithinRel(curve_pa(s.flow_m3_s) * s.flow_m3_s / 0.4, 1e-9));
    CHECK_THAT(s.set.power.electric_w,
               WithinRel(house.system_r() * std::pow(s.flow_m3_s, 3) / 0.4, 1e-5));
    CHECK_FALSE(s.set.power.assumed);
    REQUIRE(answer.pumps.size() == 1);
    const solver::PumpDuty &duty = answer.pumps.front().duty;
    CHECK_THAT(duty.flow_m3_s, WithinRel(house.meeting_m3_s(), 1e-5));
    CHECK_THAT(duty.speed, WithinRel(1.0, 1e-6));
    // Suction: the vessel joins the source's return, the only place whose pressure is set.
    CHECK(duty.inlet_known);
    CHECK_THAT(duty.inlet_pa, WithinRel(1.5e5, 1e-9));
    CHECK(duty.eei == 0.19);
}

TEST_CASE("the affinity laws give the printed flow, head and power of a slowed pump") {
    // Crane Co., Technical Paper 410 (2009), example 7.33: 400 gpm, 126 ft and 17.5 hp at 3500 rpm
    // become 194.2857 gpm, 29.72571 ft and 2.005306 hp at 1700.
    constexpr double gpm = 3.785411784e-3 / 60.0, foot_pa = 9806.65 * 0.3048, hp = 745.699872;
    const models::PumpCurve curve = models::make_pump_curve(
        {{0.0, 150.0 * foot_pa}, {400.0 * gpm, 126.0 * foot_pa}, {600.0 * gpm, 90.0 * foot_pa}});
    const double speed = solver::speed_for(curve, 194.2857 * gpm, 29.72571 * foot_pa);
    CHECK_THAT(speed, WithinRel(1700.0 / 3500.0, 1e-6));
    networks::House house;
    networks::Pump pump;
    pump.curve = curve;
    pump.electric = {{0.0, 9.0 * hp}, {400.0 * gpm, 17.5 * hp}, {600.0 * gpm, 20.0 * hp}};
    const solver::PumpPower slowed =
        solver::pump_power_at(house, pump, 194.2857 * gpm, 29.72571 * foot_pa, speed);
    CHECK_THAT(slowed.electric_w, WithinRel(2.005306 * hp, 1e-6));
    // The hydraulic power scales alike, so the efficiency stays.
    const solver::PumpPower full = solver::pump_power(house, pump, 400.0 * gpm, 126.0 * foot_pa);
    CHECK_THAT(slowed.efficiency, WithinRel(full.efficiency, 1e-6));
}

TEST_CASE("power given at a pressure setting goes down with the setting") {
    networks::House house;
    networks::Pump pump;
    pump.curve = models::make_pump_curve({{0.0, 60e3}, {1e-3, 10e3}});
    pump.mode = networks::PumpMode::ConstantPressure;
    pump.setting_pa = 30e3;
    pump.electric = {{0.0, 10.0}, {1e-3, 40.0}};
    CHECK(solver::pump_power_at(house, pump, 5e-4, 30e3, 0.9).electric_w == Approx(25.0));
    CHECK(solver::pump_power_at(house, pump, 5e-4, 15e3, 0.7).electric_w == Approx(12.5));
}

TEST_CASE("a year of the pumps is the year's hours at their duty, as in the season's total") {
    for (const std::string file : {"warm-floor.yaml", "header-three-pumps.yaml"}) {
        INFO(file);
        const networks::House house = tests::example_house(file);
        const solver::PumpAnswer answer = solver::pumps(house);
        const solver::SeasonTotals totals = solver::season(house).with_curve.totals;
        double sum = 0.0;
        for (const solver::PumpReport &pump : answer.pumps)
            sum += pump.year_kwh.value();
        CHECK_THAT(sum, WithinRel(totals.pump_kwh.value(), 1e-9));
        CHECK(answer.heating_h == totals.hours);
    }
}

TEST_CASE("a circulator turned down takes less over the year than at full speed") {
    const solver::PumpAnswer answer = solver::pumps(tests::example_house("warm-floor.yaml"));
    REQUIRE(answer.setting.throttled_kwh.has_value());
    CHECK_THAT(answer.setting.set.year_kwh.value(),
               WithinRel(answer.setting.set.power.electric_w * *answer.heating_h * 1e-3, 1e-12));
    CHECK(answer.setting.set.year_kwh < answer.setting.full.year_kwh);
    // The weather never asks for more than the design flow.
    CHECK(*answer.setting.throttled_kwh > 0.0);
    CHECK(*answer.setting.throttled_kwh <= *answer.setting.set.year_kwh * (1.0 + 1e-9));
}

TEST_CASE("without a design day there is no figure for the year, and the answer says why") {
    std::string text = quadratic_house().text();
    const std::string day = "design_day: {outdoor: -3 degC}\n";
    text.erase(text.find(day), day.size());
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(text));
    CHECK_FALSE(answer.year_kwh.has_value());
    CHECK_THAT(answer.no_year, Catch::Contains("design_day"));
    CHECK_FALSE(answer.pumps.front().year_kwh.has_value());
}

TEST_CASE("candidates that suffice come first, the others say what they lack") {
    QuadraticHouse house = quadratic_house();
    std::string text = house.text();
    const double needed_pa = house.system_r() * house.design_m3_s * house.design_m3_s;
    const double flow_m3_h = house.design_m3_s * 3600.0;
    const auto model = [&](const std::string &name, double at_design_pa, const std::string &rest) {
        return fmt::format("    {}: {{{}curve: [[0 m3/h, {} Pa], [{} m3/h, {} Pa], [4 m3/h, 10 "
                           "Pa]]}}\n",
                           name, rest, at_design_pa + 2e3, flow_m3_h, at_design_pa);
    };
    text += "catalogue:\n  circulators:\n" + model("ample", needed_pa + 9e3, "") +
            model("thrifty", needed_pa + 15e3, "efficiency: 45 %, ") +
            model("weak", needed_pa - 3e3, "") +
            fmt::format("    narrow: {{curve: [[0 m3/h, {} Pa], [{} m3/h, {} Pa]]}}\n",
                        needed_pa + 30e3, 0.9 * flow_m3_h, needed_pa + 20e3);
    const solver::PumpAnswer answer = solver::pumps(tests::house_of(text));
    const auto at = [&](const std::string &name) {
        const auto found =
            std::find_if(answer.candidates.begin(), answer.candidates.end(),
                         [&](const solver::Candidate &c) { return c.model == name; });
        REQUIRE(found != answer.candidates.end());
        return found;
    };
    CHECK(answer.candidates.front().model == "thrifty"); // least electric power at the setting
    CHECK_THAT(at("ample")->excess_pa, WithinAbs(9e3, 0.1));
    CHECK(at("ample")->enough);
    CHECK_THAT(at("thrifty")->set.electric_w,
               WithinRel(needed_pa * house.design_m3_s / 0.45, 1e-5));
    CHECK(at("ample")->set.assumed);
    CHECK_FALSE(at("weak")->enough);
    CHECK_THAT(at("weak")->excess_pa, WithinAbs(-3e3, 0.1));
    CHECK(at("narrow")->beyond_curve);
    CHECK_FALSE(at("narrow")->enough);
    CHECK(at("ample") < at("weak"));
}

TEST_CASE("a circulator that is not enough is told its shortfall and gets no setting") {
    const solver::PumpAnswer answer = solver::pumps(tests::example_house("small-bore-long.yaml"));
    CHECK(answer.setting.verdict == solver::Verdict::Marginal);
    CHECK_FALSE(answer.setting.enough);
    CHECK(answer.setting.set.head_pa > answer.setting.full.head_pa);
    CHECK(answer.setting.set.speed > 1.0);
    CHECK_FALSE(answer.setting.set.year_kwh.has_value());
}

TEST_CASE(
    "a header whose primary runs faster lifts the primary's return as mixing by flow has it") {
    // Perfect mixing: return = (ms returned + (mp - ms) sent)/mp. At 45 and 35 degC with 0.30 and
    // 0.20 kg/s by hand 38.33333 degC. The radiator's design flow is the secondary's, so it returns
    // 35 degC at 45.
    networks::House house = header_house(1.08, 0.72, 8360.0);
    const double design_kg_s = networks::design_flow_kg_s(house, house.emitters.front());
    house.runs[1].pump->flow_m3_s = design_kg_s * 1e-3; // at the stated 1000 kg/m3
    house.source->circulator.flow_m3_s = 1.5 * design_kg_s * 1e-3;
    const solver::PumpAnswer answer = solver::pumps(house);
    REQUIRE(answer.header.has_value());
    const solver::HeaderFlows &h = *answer.header;
    CHECK_THAT(h.through_m3_s, WithinRel(0.5 * design_kg_s * 1e-3, 1e-6));
    CHECK_THAT(h.primary_flow_c, WithinAbs(45.0, 1e-6));
    CHECK_THAT(h.secondary_flow_c, WithinAbs(45.0, 1e-6));
    CHECK_THAT(h.secondary_return_c, WithinAbs(35.0, 1e-4));
    CHECK_THAT(h.primary_return_c, WithinAbs(38.33333, 1e-4));
    // V/(pi d^2/4) with d = 60 mm.
    CHECK_THAT(h.whole_velocity_m_s, WithinRel(h.primary_m3_s / (0.25 * pi * 0.06 * 0.06), 1e-9));
    CHECK_FALSE(h.through_m3_s < 0.0);
}

TEST_CASE("a header whose secondary runs faster sends it cooler water as mixing by flow has it") {
    // flow = (mp sent + (ms - mp) returned)/ms and the primary gets the secondary's return.
    networks::House house = header_house(0.72, 1.08, 8360.0);
    const solver::PumpAnswer answer = solver::pumps(house);
    REQUIRE(answer.header.has_value());
    const solver::HeaderFlows &h = *answer.header;
    CHECK_THAT(h.through_m3_s, WithinRel((0.72 - 1.08) / 3600.0, 1e-6));
    const double sent_c = 45.0;
    CHECK_THAT(h.secondary_flow_c,
               WithinAbs((0.72 * sent_c + 0.36 * h.secondary_return_c) / 1.08, 1e-6));
    CHECK_THAT(h.primary_return_c, WithinAbs(h.secondary_return_c, 1e-9));
    CHECK(h.secondary_flow_c < sent_c - 1.0);
    // The loss ends where the primary's pipes, 2 x 8 m of 20 mm at f 0.03, take the secondary's
    // flow: dp = f L/D rho v^2/2, nothing else between the source's connections.
    const double flow = 1.08 / 3600.0;
    REQUIRE(h.balance_pa.has_value());
    CHECK_THAT(*h.balance_pa, WithinRel(2.0 * pipe_r(0.03, 8.0, 0.02) * flow * flow, 1e-4));
    CHECK_THAT(h.balance_m3_s, WithinRel(flow, 1e-5));
    CHECK_THAT(h.balance_flow_c, WithinAbs(sent_c, 1e-3));
}

TEST_CASE("at the head that balances a header as much goes round the primary as the secondary") {
    const networks::House house = tests::example_house("header-three-pumps.yaml");
    const solver::PumpAnswer answer = solver::pumps(house);
    REQUIRE(answer.header.has_value());
    REQUIRE(answer.header->balance_pa.has_value());
    const networks::House balanced =
        solver::with_ideal_rise(solver::size_as_found(house).house, *answer.header->balance_pa);
    const networks::Network network = networks::expand(balanced);
    const solver::Solution solution = solver::solve(network, &balanced);
    REQUIRE(solution.outcome.converged());
    CHECK(std::abs(solution.flow_kg_s[*network.separator]) <
          1e-5 * solution.flow_kg_s[network.source->pump]);
    // As found, heat is conserved over the header: what the primary brings the secondary takes.
    const solver::HeaderFlows &h = *answer.header;
    CHECK_THAT(h.primary_m3_s * (h.primary_flow_c - h.primary_return_c),
               WithinRel(h.secondary_m3_s * (h.secondary_flow_c - h.secondary_return_c), 1e-6));
}
