// What a pump draws at a duty, straight from the figures of its file.
#include "solver/questions/pump_duty.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinRel;

namespace {

constexpr double exact = 1e-12;

networks::Pump pump_with(networks::PumpMode mode) {
    networks::Pump pump;
    pump.mode = mode;
    pump.electric = {{1e-4, 10.0}, {3e-4, 30.0}, {4e-4, 34.0}}; // m3/s, W
    return pump;
}

} // namespace

TEST_CASE("a power curve is straight between its points and held at its ends") {
    const networks::House house;
    const networks::Pump pump = pump_with(networks::PumpMode::FixedSpeed);
    const auto electric_w = [&](double flow_m3_s) {
        return pump_power(house, pump, flow_m3_s, 20e3).electric_w;
    };
    CHECK(electric_w(0.0) == 10.0);
    CHECK_THAT(electric_w(1.5e-4), WithinRel(15.0, exact));
    CHECK_THAT(electric_w(3.5e-4), WithinRel(32.0, exact));
    CHECK(electric_w(9e-4) == 34.0);
    const PumpPower power = pump_power(house, pump, 2e-4, 20e3);
    CHECK_THAT(power.hydraulic_w, WithinRel(4.0, exact));
    CHECK_THAT(power.efficiency, WithinRel(4.0 / 20.0, exact));
    CHECK_THAT(power.shaft_w,
               WithinRel(20.0 * house.habits[networks::Habit::MotorEfficiency], exact));
    CHECK_FALSE(power.assumed);
    CHECK(pump_power(house, pump, 2e-4, -20e3).hydraulic_w == 0.0); // pushed through by others
}

TEST_CASE("without a power curve a pump draws its hydraulic power over its efficiency") {
    const networks::House house;
    networks::Pump pump;
    const PumpPower assumed = pump_power(house, pump, 2e-4, 20e3);
    CHECK(assumed.assumed);
    CHECK_THAT(assumed.electric_w,
               WithinRel(4.0 / house.habits[networks::Habit::PumpEfficiency], exact));
    pump.efficiency = 0.5;
    const PumpPower stated = pump_power_at(house, pump, 2e-4, 20e3, 0.3);
    CHECK_FALSE(stated.assumed);
    CHECK_THAT(stated.electric_w, WithinRel(8.0, exact));
    CHECK_THAT(stated.efficiency, WithinRel(0.5, exact));
}

TEST_CASE("at another speed a fixed-speed pump's power follows the affinity laws") {
    // From speed 0.8 to 0.4: an eighth of what it draws at twice the flow, 1.5e-4 -> 3e-4 m3/s.
    const networks::House house;
    networks::Pump pump = pump_with(networks::PumpMode::FixedSpeed);
    pump.speed = 0.8;
    const PumpPower power = pump_power_at(house, pump, 1.5e-4, 4e3, 0.4);
    CHECK_THAT(power.electric_w, WithinRel(30.0 / 8.0, exact));
    CHECK_THAT(power.hydraulic_w, WithinRel(0.6, exact));
    CHECK_THAT(power.efficiency, WithinRel(0.6 / 3.75, exact));
}

TEST_CASE("at another setting a pump of constant pressure draws in proportion to its rise") {
    const networks::House house;
    for (const auto mode :
         {networks::PumpMode::ConstantPressure, networks::PumpMode::ProportionalPressure}) {
        networks::Pump pump = pump_with(mode);
        pump.setting_pa = 20e3;
        CHECK_THAT(pump_power_at(house, pump, 2e-4, 5e3, 0.5).electric_w, WithinRel(5.0, exact));
    }
    networks::Pump flow = pump_with(networks::PumpMode::ConstantFlow);
    flow.setting_pa = 20e3;
    CHECK_THAT(pump_power_at(house, flow, 2e-4, 5e3, 0.5).electric_w, WithinRel(20.0, exact));
}

TEST_CASE("the speed for a duty is that of the affinity laws") {
    // A flat curve: pressure goes with the speed squared. A falling one of 10 kPa less 1e8 Pa s/m3:
    // at twice the speed and flow four times the pressure.
    const models::PumpCurve flat = models::make_pump_curve({{0.0, 10e3}, {1e-3, 10e3}});
    CHECK_THAT(speed_for(flat, 2e-4, 40e3), WithinRel(2.0, 1e-6));
    CHECK_THAT(speed_for(flat, 2e-4, 2.5e3), WithinRel(0.5, 1e-6));
    const models::PumpCurve falling = models::make_pump_curve({{0.0, 10e3}, {1e-4, 0.0}});
    CHECK_THAT(speed_for(falling, 1e-4, 4.0 * 5e3), WithinRel(2.0, 1e-6));
}
