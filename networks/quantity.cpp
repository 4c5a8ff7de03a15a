#include "networks/quantity.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <fmt/format.h>
#include <vector>

namespace headroom::networks {
namespace {

struct Unit {
    std::string_view text;
    Dimension dimension;
    double factor;
};

using enum Dimension;
constexpr double hour = models::seconds_per_hour;

// The first unit of a dimension is the one suggested when a unit is missing.
constexpr std::array units{
    Unit{"m", Length, 1.0},
    Unit{"mm", Length, 1e-3},
    Unit{"cm", Length, 1e-2},
    Unit{"m2", Area, 1.0},
    Unit{"m3", Volume, 1.0},
    Unit{"l", Volume, 1e-3},
    Unit{"degC", Temperature, 1.0},
    Unit{"K", TemperatureStep, 1.0},
    Unit{"W", Power, 1.0},
    Unit{"kW", Power, 1e3},
    Unit{"l/min", VolumeFlow, 1e-3 / 60.0},
    Unit{"m3/h", VolumeFlow, 1.0 / hour},
    Unit{"l/h", VolumeFlow, 1e-3 / hour},
    Unit{"l/s", VolumeFlow, 1e-3},
    Unit{"m3/s", VolumeFlow, 1.0},
    Unit{"kPa", Pressure, 1e3},
    Unit{"Pa", Pressure, 1.0},
    Unit{"bar", Pressure, 1e5},
    Unit{"mbar", Pressure, 1e2},
    Unit{"m", Pressure, models::pa_per_metre_head},
    Unit{"m3/h", FlowFactor, 1.0},
    Unit{"l/min", FlowFactor, 0.06},
    Unit{"l/h", FlowFactor, 1e-3},
    Unit{"%", Ratio, 1e-2},
    Unit{"kg/m3", Density, 1.0},
    Unit{"mPa s", Viscosity, 1e-3},
    Unit{"Pa s", Viscosity, 1.0},
    Unit{"mm2/s", KinematicViscosity, 1e-6},
    Unit{"m2/s", KinematicViscosity, 1.0},
    Unit{"W/(m2 K)", Transmittance, 1.0},
    Unit{"W/(m K)", Conductivity, 1.0},
    Unit{"m2 K/W", Resistance, 1.0},
    Unit{"/h", AirChanges, 1.0},
    Unit{"h", Duration, 1.0},
    Unit{"d", Duration, 24.0},
    Unit{"/kWh", EnergyPrice, 1.0},
    Unit{"kg/kWh", EmissionFactor, 1.0},
    Unit{"g/kWh", EmissionFactor, 1e-3},
    Unit{"m/s", Velocity, 1.0},
    Unit{"W/K", Conductance, 1.0},
    Unit{"kW/K", Conductance, 1e3},
};

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ')
        text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ')
        text.remove_suffix(1);
    return text;
}

// "`m`, `mm` or `cm`"
std::string units_of(Dimension dimension) {
    std::vector<std::string_view> of;
    for (const Unit &unit : units)
        if (unit.dimension == dimension)
            of.push_back(unit.text);
    std::string out;
    for (std::size_t i = 0; i < of.size(); ++i)
        out += fmt::format("{}`{}`", i == 0 ? "" : i + 1 < of.size() ? ", " : " or ", of[i]);
    return out;
}

std::string_view usual_unit(Dimension dimension) {
    for (const Unit &unit : units)
        if (unit.dimension == dimension)
            return unit.text;
    return {};
}

// The unit as it is written here: "m³/h" and "KPA" are understood, but not read.
std::string_view usual_spelling(std::string_view unit, Dimension dimension) {
    std::string plain(unit);
    for (const auto &[sign, letters] :
         {std::pair("²", "2"), std::pair("³", "3"), std::pair("°", "deg"), std::pair("·", " ")})
        if (const std::size_t at = plain.find(sign); at != std::string::npos)
            plain.replace(at, std::string_view(sign).size(), letters);
    const auto same = [](char a, char b) {
        return std::tolower(static_cast<unsigned char>(a)) ==
               std::tolower(static_cast<unsigned char>(b));
    };
    for (const Unit &known : units)
        if (known.dimension == dimension &&
            std::equal(plain.begin(), plain.end(), known.text.begin(), known.text.end(), same))
            return known.text;
    return {};
}

} // namespace

std::string_view dimension_name(Dimension dimension) {
    switch (dimension) {
    case Length:
        return "a length";
    case Area:
        return "an area";
    case Volume:
        return "a volume";
    case Temperature:
        return "a temperature";
    case TemperatureStep:
        return "a temperature difference";
    case Power:
        return "a heat output";
    case VolumeFlow:
        return "a flow";
    case Pressure:
        return "a pressure or head";
    case FlowFactor:
        return "a Kv";
    case Ratio:
        return "a share";
    case Density:
        return "a density";
    case Viscosity:
        return "a dynamic viscosity";
    case KinematicViscosity:
        return "a kinematic viscosity";
    case Transmittance:
        return "a U-value";
    case Conductivity:
        return "a conductivity";
    case Resistance:
        return "a thermal resistance";
    case AirChanges:
        return "an air change rate";
    case Duration:
        return "a time";
    case EnergyPrice:
        return "a price of energy";
    case EmissionFactor:
        return "a CO2 factor of energy";
    case Velocity:
        return "a velocity";
    case Conductance:
        return "a heat conductance";
    case Coefficient:
        return "a plain number";
    }
    return "a value";
}

std::variant<double, QuantityFault> parse_quantity(std::string_view text, Dimension dimension) {
    using Kind = QuantityFault::Kind;
    text = trimmed(text);
    std::string_view number = text;
    if (number.starts_with('+') && !number.starts_with("+-"))
        number.remove_prefix(1);
    double value = 0.0;
    const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), value);
    if (error == std::errc::result_out_of_range)
        return QuantityFault{Kind::NotFinite, fmt::format("`{}` is not a usable number", text),
                             "give a finite value"};
    if (error != std::errc{})
        return QuantityFault{Kind::NotANumber,
                             fmt::format("`{}` is not a number with a unit", text),
                             fmt::format("this is {}, written like `12 {}`",
                                         dimension_name(dimension), usual_unit(dimension))};
    std::string_view unit = trimmed(number.substr(static_cast<std::size_t>(end - number.data())));
    if (unit == "°C")
        unit = "degC";
    if (!std::isfinite(value))
        return QuantityFault{Kind::NotFinite, fmt::format("`{}` is not a usable number", text),
                             "give a finite value"};
    if (unit.empty())
        return QuantityFault{Kind::NoUnit, fmt::format("`{}` has no unit", text),
                             fmt::format("add its unit, such as `{} {}`; this is {}, so use {}",
                                         text, usual_unit(dimension), dimension_name(dimension),
                                         units_of(dimension))};
    for (const Unit &known : units)
        if (known.dimension == dimension && known.text == unit) {
            const double si = value * known.factor;
            if (!std::isfinite(si))
                return QuantityFault{Kind::NotFinite,
                                     fmt::format("`{}` is not a usable number", text),
                                     "give a finite value"};
            return si;
        }
    for (const Unit &known : units)
        if (known.text == unit)
            return QuantityFault{Kind::WrongDimension,
                                 fmt::format("`{}` is {}, but {} is wanted here", text,
                                             dimension_name(known.dimension),
                                             dimension_name(dimension)),
                                 fmt::format("use {}", units_of(dimension))};
    if (unit.front() == ',' || (unit.front() >= '0' && unit.front() <= '9'))
        return QuantityFault{Kind::NotANumber,
                             fmt::format("`{}` is not a number with a unit", text),
                             "write a decimal point, and neither comma nor space inside a number"};
    const std::string_view usual = usual_spelling(unit, dimension);
    return QuantityFault{Kind::UnknownUnit, fmt::format("unknown unit `{}`", unit),
                         usual.empty() ? fmt::format("this is {}; use {}",
                                                     dimension_name(dimension), units_of(dimension))
                                       : fmt::format("write `{}`", usual)};
}

std::string written(double value, Dimension dimension) {
    if (dimension == Length && std::abs(value) < 0.1 && value != 0.0)
        return fmt::format("{:.7g} mm", value * 1e3);
    if (dimension == Volume && std::abs(value) < 1.0 && value != 0.0)
        return fmt::format("{:.7g} l", value * 1e3);
    for (const Unit &unit : units)
        if (unit.dimension == dimension)
            return fmt::format("{:.7g} {}", value / unit.factor, unit.text);
    return fmt::format("{:.7g}", value);
}

} // namespace headroom::networks
