// "22 m2", "1.2 m3/h", "4 m" of head: a number with its unit, to SI.
#pragma once

#include <string>
#include <string_view>
#include <variant>

namespace headroom::networks {

enum class Dimension {
    Length,             ///< m
    Area,               ///< m2
    Volume,             ///< m3
    Temperature,        ///< degC
    TemperatureStep,    ///< K
    Power,              ///< W
    VolumeFlow,         ///< m3/s
    Pressure,           ///< Pa; `m` is metres of head
    FlowFactor,         ///< Kv in m3/h
    Ratio,              ///< 1; written in %
    Density,            ///< kg/m3
    Viscosity,          ///< Pa s, dynamic
    KinematicViscosity, ///< m2/s
    Transmittance,      ///< W/(m2 K)
    Conductivity,       ///< W/(m K)
    Resistance,         ///< m2 K/W
    AirChanges,         ///< 1/h
    Duration,           ///< h
    EnergyPrice,        ///< money/kWh
    EmissionFactor,     ///< kg/kWh
    Velocity,           ///< m/s
    Conductance,        ///< W/K
    Coefficient,        ///< 1; a plain number
};

struct QuantityFault {
    enum class Kind { NotANumber, NoUnit, UnknownUnit, WrongDimension, NotFinite };
    Kind kind;
    std::string message;
    std::string help;
};

/// The value in the dimension's SI unit (temperatures in degC, Kv in m3/h, durations in h,
/// energy in kWh), or why not.
std::variant<double, QuantityFault> parse_quantity(std::string_view text, Dimension dimension);

std::string_view dimension_name(Dimension dimension);

/// A value as the user would write it, for messages: "10 mm", "3 K".
std::string written(double value, Dimension dimension);

} // namespace headroom::networks
