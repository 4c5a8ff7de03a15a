#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr Range hours_a_year{0.0, 8784.0};

// `[[-3 degC, 20 h], [0 degC, 310 h]]`, each temperature once.
void read_hours(Fields &fields, Year &year, Diagnostics &diagnostics) {
    const auto *items = read_list(fields, "hours", diagnostics);
    if (items == nullptr)
        return;
    double sum = 0.0;
    for (const auto &row : *items) {
        if (!row->is_list() || row->items.size() != 2) {
            diagnostics.error("hours", row->place, "a row of `hours` is `[outdoor, hours]`",
                              "such as `[-3 degC, 20 h]`");
            continue;
        }
        const auto outdoor = read_quantity(*row->items[0], "outdoor", Dimension::Temperature,
                                           {-60.0, 45.0}, diagnostics);
        const auto hours =
            read_quantity(*row->items[1], "hours", Dimension::Duration, hours_a_year, diagnostics);
        if (!outdoor || !hours)
            continue;
        if (std::any_of(
                year.hours.begin(), year.hours.end(),
                [&](const models::TemperatureBin &bin) { return bin.outdoor_c == *outdoor; }))
            diagnostics.error(
                "hours", row->place,
                fmt::format("{} has its hours already", written(*outdoor, Dimension::Temperature)),
                "give each outdoor temperature once");
        year.hours.push_back({*outdoor, *hours});
        sum += *hours;
    }
    if (items->empty() || sum > hours_a_year.most)
        diagnostics.error(
            "hours", fields.key_place("hours"),
            items->empty() ? std::string("`hours` is empty")
                           : fmt::format("{:g} h are more than a year has", sum),
            "the hours a year at each outdoor temperature, such as `[[-3 degC, 20 h]]`");
    std::sort(year.hours.begin(), year.hours.end(),
              [](const auto &a, const auto &b) { return a.outdoor_c < b.outdoor_c; });
}

void read_weather(Fields &fields, Year &year, Diagnostics &diagnostics) {
    static const std::vector<std::string> climates{"average", "warmer", "colder"};
    if (const auto climate = fields.choice("climate", climates))
        year.climate = static_cast<models::ClimateKind>(*climate);
    read_hours(fields, year, diagnostics);
    if (fields.has("climate") && fields.has("hours"))
        diagnostics.error("one-too-many", fields.key_place("hours"),
                          "year takes only one of `climate`, `hours`",
                          "a climate of EN 14825, or the hours at each outdoor temperature");
    year.heating_limit_c = fields.quantity("heating_limit", Dimension::Temperature, {5.0, 25.0});
    year.free_heat = fields.yes_no("free_heat").value_or(true);
    const Range water{15.0, 95.0};
    year.lowest_flow_c = fields.quantity("lowest_flow_temperature", Dimension::Temperature, water);
    year.highest_flow_c =
        fields.quantity("highest_flow_temperature", Dimension::Temperature, water);
    if (year.lowest_flow_c && year.highest_flow_c && *year.lowest_flow_c > *year.highest_flow_c)
        diagnostics.error("out-of-range", fields.child("lowest_flow_temperature")->place,
                          "`lowest_flow_temperature` is above `highest_flow_temperature`",
                          "swap them");
    fields.finish();
}

} // namespace

void read_year(Fields &root, Reading &reading) {
    House &house = reading.house;
    Diagnostics &diagnostics = reading.diagnostics;
    if (const Entry *entry = root.child("year")) {
        Fields fields(entry, root.key_place("year"), "year", diagnostics);
        read_weather(fields, house.year, diagnostics);
    }
    if (const Entry *entry = root.child("cycling")) {
        Fields fields(entry, root.key_place("cycling"), "cycling", diagnostics);
        CycleStore &store = house.cycle_store;
        store.added_water_m3 = fields.quantity("added_water", Dimension::Volume, {0.0, 10.0});
        store.water_swing_k =
            fields.quantity("water_swing", Dimension::TemperatureStep, {0.5, 30.0});
        store.floor_swing_k =
            fields.quantity("floor_swing", Dimension::TemperatureStep, {0.0, 5.0});
        fields.finish();
    }
    if (const Entry *entry = root.child("tariff")) {
        Fields fields(entry, root.key_place("tariff"), "tariff", diagnostics);
        Tariff &tariff = house.tariff;
        const Range price{0.0, 1000.0};
        const Range factor{0.0, 5.0};
        tariff.electricity_per_kwh = fields.quantity("electricity", Dimension::EnergyPrice, price);
        tariff.gas_per_kwh = fields.quantity("gas", Dimension::EnergyPrice, price);
        tariff.electricity_kg_kwh =
            fields.quantity("electricity_co2", Dimension::EmissionFactor, factor);
        tariff.gas_kg_kwh = fields.quantity("gas_co2", Dimension::EmissionFactor, factor);
        if (const auto currency = fields.text("currency"))
            tariff.currency = currency->value;
        fields.finish();
    }
}

} // namespace headroom::networks
