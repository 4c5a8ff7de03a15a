#include "networks/quantity.hpp"

#include <catch2/catch.hpp>

#include <utility>
#include <vector>

using namespace headroom::networks;
using Catch::Contains;
using Catch::WithinRel;

namespace {

double value(std::string_view text, Dimension dimension) {
    const auto parsed = parse_quantity(text, dimension);
    INFO(text);
    REQUIRE(std::holds_alternative<double>(parsed));
    return std::get<double>(parsed);
}

QuantityFault fault(std::string_view text, Dimension dimension) {
    const auto parsed = parse_quantity(text, dimension);
    INFO(text);
    REQUIRE(std::holds_alternative<QuantityFault>(parsed));
    return std::get<QuantityFault>(parsed);
}

} // namespace

TEST_CASE("Every unit reads as its share of the SI unit") {
    struct Row {
        const char *text;
        Dimension dimension;
        double si;
    };
    const std::vector<Row> rows{
        {"2 m", Dimension::Length, 2.0},
        {"2 mm", Dimension::Length, 0.002},
        {"2 cm", Dimension::Length, 0.02},
        {"22 m2", Dimension::Area, 22.0},
        {"3 m3", Dimension::Volume, 3.0},
        {"25 l", Dimension::Volume, 0.025},
        {"-3 degC", Dimension::Temperature, -3.0},
        {"-3 °C", Dimension::Temperature, -3.0},
        {"21°C", Dimension::Temperature, 21.0},
        {"5 K", Dimension::TemperatureStep, 5.0},
        {"1180 W", Dimension::Power, 1180.0},
        {"8.5 kW", Dimension::Power, 8500.0},
        {"3.6 m3/h", Dimension::VolumeFlow, 0.001},
        {"60 l/min", Dimension::VolumeFlow, 0.001},
        {"3600 l/h", Dimension::VolumeFlow, 0.001},
        {"1 l/s", Dimension::VolumeFlow, 0.001},
        {"0.001 m3/s", Dimension::VolumeFlow, 0.001},
        {"150 Pa", Dimension::Pressure, 150.0},
        {"6 kPa", Dimension::Pressure, 6000.0},
        {"1.5 bar", Dimension::Pressure, 150000.0},
        {"40 mbar", Dimension::Pressure, 4000.0},
        {"1 m", Dimension::Pressure, 9806.65},
        {"4 m", Dimension::Pressure, 39226.6},
        {"1.6 m3/h", Dimension::FlowFactor, 1.6},
        {"20 l/min", Dimension::FlowFactor, 1.2},
        {"500 l/h", Dimension::FlowFactor, 0.5},
        {"25 %", Dimension::Ratio, 0.25},
        {"998 kg/m3", Dimension::Density, 998.0},
        {"1.002 mPa s", Dimension::Viscosity, 1.002e-3},
        {"0.001 Pa s", Dimension::Viscosity, 1e-3},
        {"1.004 mm2/s", Dimension::KinematicViscosity, 1.004e-6},
        {"1e-6 m2/s", Dimension::KinematicViscosity, 1e-6},
        {"0.45 W/(m2 K)", Dimension::Transmittance, 0.45},
        {"0.35 W/(m K)", Dimension::Conductivity, 0.35},
        {"1.0 /h", Dimension::AirChanges, 1.0},
        {"20 h", Dimension::Duration, 20.0},
        {"2 d", Dimension::Duration, 48.0},
        {"0.27 /kWh", Dimension::EnergyPrice, 0.27},
        {"0.18 kg/kWh", Dimension::EmissionFactor, 0.18},
        {"180 g/kWh", Dimension::EmissionFactor, 0.18},
    };
    for (const Row &row : rows) {
        INFO(row.text);
        // A factor and a rounding of the decimal text: two roundings at most.
        CHECK_THAT(value(row.text, row.dimension), WithinRel(row.si, 1e-15));
    }
}

TEST_CASE("Spaces around a number and its unit mean nothing") {
    CHECK(value("12mm", Dimension::Length) == value("12 mm", Dimension::Length));
    CHECK(value("  12   mm  ", Dimension::Length) == value("12 mm", Dimension::Length));
    CHECK(value("+12 mm", Dimension::Length) == value("12 mm", Dimension::Length));
    CHECK(value("1.2e1 mm", Dimension::Length) == value("12 mm", Dimension::Length));
}

TEST_CASE("The same letters are a length or a head, as the place demands") {
    CHECK(value("4 m", Dimension::Length) == 4.0);
    CHECK_THAT(value("4 m", Dimension::Pressure), WithinRel(4.0 * 9806.65, 1e-15));
}

TEST_CASE("A bare number is refused with a unit to add") {
    const QuantityFault f = fault("9", Dimension::Length);
    CHECK(f.kind == QuantityFault::Kind::NoUnit);
    CHECK(f.message == "`9` has no unit");
    CHECK(f.help == "add its unit, such as `9 m`; this is a length, so use `m`, `mm` or `cm`");
}

TEST_CASE("A unit of another dimension is refused by the name of both") {
    const QuantityFault f = fault("9 kPa", Dimension::Length);
    CHECK(f.kind == QuantityFault::Kind::WrongDimension);
    CHECK(f.message == "`9 kPa` is a pressure or head, but a length is wanted here");
    CHECK(f.help == "use `m`, `mm` or `cm`");
    CHECK(fault("5 K", Dimension::Temperature).kind == QuantityFault::Kind::WrongDimension);
    CHECK(fault("5 degC", Dimension::TemperatureStep).kind == QuantityFault::Kind::WrongDimension);
}

TEST_CASE("A unit nobody knows is refused with those that are known") {
    const QuantityFault f = fault("20 ft", Dimension::Length);
    CHECK(f.kind == QuantityFault::Kind::UnknownUnit);
    CHECK(f.message == "unknown unit `ft`");
    CHECK(f.help == "this is a length; use `m`, `mm` or `cm`");
}

TEST_CASE("A unit in another spelling is refused with the spelling to use") {
    const std::vector<std::tuple<const char *, Dimension, const char *>> rows{
        {"1 m³/h", Dimension::VolumeFlow, "write `m3/h`"},
        {"22 m²", Dimension::Area, "write `m2`"},
        {"6 KPA", Dimension::Pressure, "write `kPa`"},
        {"12 L/min", Dimension::VolumeFlow, "write `l/min`"},
        {"0.45 W/(m²·K)", Dimension::Transmittance, "write `W/(m2 K)`"},
    };
    for (const auto &[text, dimension, help] : rows) {
        INFO(text);
        CHECK(fault(text, dimension).kind == QuantityFault::Kind::UnknownUnit);
        CHECK(fault(text, dimension).help == help);
    }
}

TEST_CASE("Commas and spaces inside a number are never guessed at") {
    for (const char *text : {"2,6 m", "1,180 m", "1 180 m"}) {
        const QuantityFault f = fault(text, Dimension::Length);
        CHECK(f.kind == QuantityFault::Kind::NotANumber);
        CHECK(f.help == "write a decimal point, and neither comma nor space inside a number");
    }
}

TEST_CASE("What is no number is refused with an example") {
    for (const char *text : {"", "m", "about nine metres", ".inf m", "- 9 m", "++9 m", "+-9 m"}) {
        const QuantityFault f = fault(text, Dimension::Length);
        INFO(text);
        CHECK(f.kind == QuantityFault::Kind::NotANumber);
        CHECK_THAT(f.help, Contains("`12 m`"));
    }
}

TEST_CASE("Numbers that are not finite are refused") {
    for (const char *text : {"nan m", "inf m", "-inf m", "1e999 m", "infinity m"})
        CHECK(fault(text, Dimension::Length).kind == QuantityFault::Kind::NotFinite);
    CHECK(fault("1e308 bar", Dimension::Pressure).kind == QuantityFault::Kind::NotFinite);
}

TEST_CASE("A number too small to tell from zero is refused") {
    CHECK(fault("1e-999 m", Dimension::Length).kind == QuantityFault::Kind::NotFinite);
}

TEST_CASE("A value is written as its author would write it") {
    CHECK(written(0.01, Dimension::Length) == "10 mm");
    CHECK(written(7.0, Dimension::Length) == "7 m");
    CHECK(written(0.0, Dimension::Length) == "0 m");
    CHECK(written(3.0, Dimension::TemperatureStep) == "3 K");
    CHECK(written(0.25, Dimension::Ratio) == "25 %");
    CHECK(written(1e6, Dimension::Power) == "1000000 W");
    CHECK(written(6000.0, Dimension::Pressure) == "6 kPa");
}

TEST_CASE("What is written reads back as the same value") {
    for (const auto &[si, dimension] :
         std::vector<std::pair<double, Dimension>>{{0.0136, Dimension::Length},
                                                   {92.0, Dimension::Length},
                                                   {21.0, Dimension::Temperature},
                                                   {1180.0, Dimension::Power},
                                                   {2.5e-4, Dimension::VolumeFlow},
                                                   {52000.0, Dimension::Pressure},
                                                   {0.35, Dimension::Ratio}})
        // Seven digits are written.
        CHECK_THAT(value(written(si, dimension), dimension), WithinRel(si, 1e-6));
}

TEST_CASE("Every dimension has a name to say what is wanted") {
    for (int i = 0; i <= static_cast<int>(Dimension::AirChanges); ++i)
        CHECK(dimension_name(static_cast<Dimension>(i)) != "a value");
}
