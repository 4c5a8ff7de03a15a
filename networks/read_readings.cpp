// What was read on site: flow meters, pumps' displays, pressure differences, temperatures.
#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr Range read_flow{0.0, 10.0};
constexpr Range flow_accuracy{1e-8, 1.0};
constexpr Range read_pressure{-1e6, 1e6};
constexpr Range pressure_accuracy{1.0, 1e6};

// The value under `key` and its accuracy, which has the same dimension but for temperatures.
void read_value(Fields &fields, std::string_view key, Dimension dimension, const Range &range,
                Dimension step, const Range &accuracy, SiteReading &out) {
    out.value = fields.required_quantity(key, dimension, range, "what was read, with its unit");
    out.accuracy = fields.required_quantity(
        "accuracy", step, accuracy,
        "how far the reading may be off (one standard deviation), in its own unit");
}

void read_flow_value(Fields &fields, SiteReading &out) {
    read_value(fields, "flow", Dimension::VolumeFlow, read_flow, Dimension::VolumeFlow,
               flow_accuracy, out);
}

void read_pump_value(Fields &fields, SiteReading &out) {
    if (!fields.exactly_one({"flow", "head"}, "what the pump shows: `flow: 13 l/min` or `head: 3.1 "
                                              "m`, each with its `accuracy`")) {
        fields.has("accuracy");
        return;
    }
    if (fields.has("flow")) {
        read_flow_value(fields, out);
    } else {
        out.kind = SiteReading::Kind::PumpHead;
        read_value(fields, "head", Dimension::Pressure, read_pressure, Dimension::Pressure,
                   pressure_accuracy, out);
    }
}

void read_two_points(Fields &fields, SiteReading &out, Diagnostics &diagnostics) {
    const Entry *points = fields.child("pressure_between");
    if (points->is_list() && points->items.size() == 2 && points->items[0]->is_scalar() &&
        points->items[1]->is_scalar()) {
        out.at = points->items[0]->scalar;
        out.at_place = points->items[0]->place;
        out.other = points->items[1]->scalar;
        out.other_place = points->items[1]->place;
    } else {
        diagnostics.error("two-points", points->place,
                          "`pressure_between` names the two points of the gauge",
                          "such as `pressure_between: [ground manifold.flow, ground "
                          "manifold.return]`");
    }
    read_value(fields, "difference", Dimension::Pressure, read_pressure, Dimension::Pressure,
               pressure_accuracy, out);
}

} // namespace

void read_readings(Fields &root, Reading &reading) {
    const auto *items = read_list(root, "readings", reading.diagnostics);
    if (items == nullptr)
        return;
    for (const auto &item : *items) {
        Fields fields(item.get(), item->place, "reading", reading.diagnostics);
        if (!fields.usable())
            continue;
        SiteReading out;
        const auto at = [&](std::string_view key) {
            if (const auto text = fields.text(key)) {
                out.at = text->value;
                out.at_place = text->place;
            }
        };
        if (!fields.exactly_one({"meter", "pump", "pressure_between", "temperature_at"},
                                "where it was read: `meter: kitchen 1`, `pump: source`, "
                                "`pressure_between: [a, b]` or `temperature_at: source.return`")) {
            for (const char *key : {"flow", "head", "difference", "temperature", "accuracy"})
                fields.has(key);
        } else if (fields.has("meter")) {
            at("meter");
            read_flow_value(fields, out);
        } else if (fields.has("pump")) {
            out.kind = SiteReading::Kind::PumpFlow;
            at("pump");
            read_pump_value(fields, out);
        } else if (fields.has("pressure_between")) {
            out.kind = SiteReading::Kind::PressureBetween;
            read_two_points(fields, out, reading.diagnostics);
        } else {
            out.kind = SiteReading::Kind::TemperatureAt;
            at("temperature_at");
            read_value(fields, "temperature", Dimension::Temperature, limits::water_c,
                       Dimension::TemperatureStep, {0.01, 20.0}, out);
        }
        fields.finish();
        reading.house.readings.push_back(std::move(out));
    }
}

namespace {

// Loops that the program lays get their names, of a laying and a number, only then.
bool loop_to_be_laid(const House &house, const std::string &name) {
    return std::any_of(house.layings.begin(), house.layings.end(),
                       [&](const Laying &laying) { return name.starts_with(laying.name + " "); });
}

void check_name(const SiteReading &reading, const std::vector<std::string> &known,
                std::string message, std::string otherwise, Diagnostics &diagnostics) {
    if (reading.at.empty() || std::find(known.begin(), known.end(), reading.at) != known.end())
        return;
    const std::string near = nearest(reading.at, known);
    diagnostics.error("unknown-reading", reading.at_place, std::move(message),
                      near.empty() ? std::move(otherwise)
                                   : fmt::format("did you mean `{}`?", near));
}

} // namespace

void check_readings(const House &house, const Names &names, Diagnostics &diagnostics) {
    std::vector<std::string> emitters;
    for (const Emitter &emitter : house.emitters)
        emitters.push_back(emitter.name);
    std::vector<std::string> pumps;
    if (house.source)
        pumps.push_back("source");
    for (const Run &run : house.runs)
        if (run.pump)
            pumps.push_back(run.name);
    for (const SiteReading &reading : house.readings)
        switch (reading.kind) {
        case SiteReading::Kind::MeterFlow:
            if (loop_to_be_laid(house, reading.at))
                break;
            check_name(
                reading, emitters, fmt::format("there is no loop or radiator `{}`", reading.at),
                "name one as the file or the answers name it, such as `kitchen 1`", diagnostics);
            break;
        case SiteReading::Kind::PumpFlow:
        case SiteReading::Kind::PumpHead:
            check_name(reading, pumps, fmt::format("no pump stands at `{}`", reading.at),
                       "write `source`, or the name of a run that has a `pump`", diagnostics);
            break;
        case SiteReading::Kind::PressureBetween:
            check_junction(reading.at, reading.at_place, names, diagnostics);
            check_junction(reading.other, reading.other_place, names, diagnostics);
            break;
        case SiteReading::Kind::TemperatureAt:
            check_junction(reading.at, reading.at_place, names, diagnostics);
            break;
        }
}

} // namespace headroom::networks
