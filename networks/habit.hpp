// What the program takes for granted where a file is silent. Each habit is a value between two
// plausible others, so that its effect on the answer can be solved, not guessed. All are common
// practice without a source unless the remark names one.
#pragma once

#include "networks/quantity.hpp"

#include <array>
#include <string_view>

namespace headroom::networks {

enum class Habit {
    CurvedShare,
    BendDiameter,
    LoopValveKv,
    RadiatorValveKv,
    LockshieldKv,
    RadiatorZeta,
    ColdStart,
    GlycolDerating,
    FloorLimit,
    LeastValveKv,
    ThermalBridge,
    SurfaceLimit,
    LoopHead,
    ClosestSpacing,
    HeatingLimit,
    PumpEfficiency,
    FloorExponent,
    RadiatorExponent,
    CarnotShare,
    WaterSwing,
    FloorSwing,
    RadiatorVolume,
    SafetyValve,
    HighPointPressure,
    InhibitorShare,
    FlushVelocity,
    HighestBoiler,
    HighestHeatPump,
    HighestSolidFuel,
    PipeVelocity,
    PipeLossPerMetre,
    MotorEfficiency,
    LeastReturn,
    Count
};

struct HabitInfo {
    std::string_view name;
    std::string_view remark;
    Dimension dimension;
    double value;
    double low;
    double high;
};

inline constexpr std::array<HabitInfo, static_cast<std::size_t>(Habit::Count)> habit_table{{
    {"share of a floor loop that lies in bends", "serpentine at 150 mm spacing", Dimension::Ratio,
     0.25, 0.10, 0.50},
    {"bend diameter of floor loops", "centre line", Dimension::Length, 0.30, 0.15, 0.60},
    {"Kv of a manifold loop's open valve and flow meter", "both in series", Dimension::FlowFactor,
     1.0, 0.7, 1.6},
    {"Kv of an open radiator valve", "thermostatic, at its working lift", Dimension::FlowFactor,
     0.6, 0.4, 0.9},
    {"Kv of a fully open lockshield", "", Dimension::FlowFactor, 0.8, 0.5, 1.5},
    {"loss coefficient of a radiator body", "general engineering tables", Dimension::Coefficient,
     3.0, 2.0, 4.0},
    {"water temperature at cold start", "", Dimension::Temperature, 10.0, 5.0, 15.0},
    {"loss of residual head with glycol", "curve measured with water", Dimension::Ratio, 0.10, 0.0,
     0.20},
    {"highest water temperature a floor takes", "", Dimension::Temperature, 45.0, 40.0, 50.0},
    {"least Kv a balancing valve can be set to", "", Dimension::FlowFactor, 0.05, 0.02, 0.10},
    {"thermal bridges, added to every U-value", "EN 12831-1 default, from memory",
     Dimension::Transmittance, 0.10, 0.02, 0.15},
    {"highest surface temperature of a floor", "EN 1264-2, occupied zone", Dimension::Temperature,
     29.0, 27.0, 33.0},
    {"loss a loop may have that the program lays", "its pipe, at design flow", Dimension::Pressure,
     20e3, 12e3, 30e3},
    {"closest spacing the program lays", "", Dimension::Length, 0.10, 0.05, 0.15},
    {"heating limit", "base of the usual degree-days", Dimension::Temperature, 15.5, 14.0, 17.0},
    {"efficiency of a circulator, electricity to water", "small wet-rotor pump", Dimension::Ratio,
     0.30, 0.15, 0.50},
    {"exponent of floors that are not described", "near linear", Dimension::Coefficient, 1.1, 1.0,
     1.1},
    {"exponent of radiators that are not described", "panels by EN 442", Dimension::Coefficient,
     1.3, 1.2, 1.4},
    {"share of the Carnot COP", "40 to 45 % is typical, from memory", Dimension::Ratio, 0.42, 0.35,
     0.48},
    {"swing of the water while cycling", "around its set temperature", Dimension::TemperatureStep,
     5.0, 3.0, 8.0},
    {"swing of the screed while cycling", "unfelt in the room", Dimension::TemperatureStep, 0.3,
     0.1, 0.5},
    {"water in a radiator for each kW at 75/65/20", "steel panels; old columns hold more",
     Dimension::Volume, 3.5e-3, 2.0e-3, 10.0e-3},
    {"safety valve opens at", "", Dimension::Pressure, 3.0e5, 2.5e5, 6.0e5},
    {"least pressure at the highest point, pump off", "", Dimension::Pressure, 0.3e5, 0.2e5, 0.5e5},
    {"inhibitor, of the volume", "the maker's label decides", Dimension::Ratio, 0.01, 0.005, 0.02},
    {"velocity that carries air and dirt along", "", Dimension::Velocity, 0.5, 0.3, 0.9},
    {"highest flow temperature of a boiler", "its own limit thermostat", Dimension::Temperature,
     80.0, 70.0, 90.0},
    {"highest flow temperature of a heat pump", "", Dimension::Temperature, 60.0, 55.0, 75.0},
    {"highest flow temperature of a solid-fuel source", "nothing stops it below boiling",
     Dimension::Temperature, 95.0, 85.0, 105.0},
    {"highest velocity in pipework", "noise", Dimension::Velocity, 1.0, 0.8, 1.5},
    {"highest loss of a metre of pipework", "", Dimension::Pressure, 300.0, 200.0, 400.0},
    {"efficiency of a circulator's motor", "small wet-rotor pump, with its electronics",
     Dimension::Ratio, 0.65, 0.50, 0.80},
    {"coolest return of a boiler not made for condensate", "gas; its maker says",
     Dimension::Temperature, 55.0, 45.0, 60.0},
}};

inline constexpr const HabitInfo &habit_info(Habit habit) {
    return habit_table[static_cast<std::size_t>(habit)];
}

/// The values in force, one a habit.
class Habits {
public:
    Habits() {
        for (std::size_t i = 0; i < values_.size(); ++i)
            values_[i] = habit_table[i].value;
    }
    double operator[](Habit habit) const { return values_[static_cast<std::size_t>(habit)]; }
    double &operator[](Habit habit) { return values_[static_cast<std::size_t>(habit)]; }

private:
    std::array<double, static_cast<std::size_t>(Habit::Count)> values_{};
};

} // namespace headroom::networks
