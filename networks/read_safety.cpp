#include "networks/read_parts.hpp"

#include <cmath>

namespace headroom::networks {

void read_source_safety(Fields &fields, Source &source, Reading &reading) {
    source.highest_c =
        fields.quantity("highest_temperature", Dimension::Temperature, {20.0, 110.0});
    if (source.highest_c && source.flow_temperature_given &&
        *source.highest_c < source.flow_temperature_c)
        reading.diagnostics.error("out-of-range", fields.key_place("highest_temperature"),
                                  "`highest_temperature` is below `flow_temperature`",
                                  "it is what the source sends at most, when its control fails");
    if (source.kind != Source::Kind::SolidFuel)
        return;
    const Text leak = fields.required_text(
        "heat_leak", "the run to a radiator that takes its heat by gravity when no pump runs, such "
                     "as `heat_leak: gravity pair`");
    source.heat_leak = leak.value;
    source.heat_leak_place = leak.place;
    const double slumber_w = fields.required_quantity(
        "slumber", Dimension::Power, {10.0, 1e5},
        "the heat it gives to the water when it is shut down, by its maker, such as `slumber: 800 "
        "W`; where nobody knows it, its full output: that much the heat leak must take");
    if (std::isfinite(slumber_w))
        source.slumber_w = slumber_w;
}

std::optional<HighLimit> read_high_limit(Fields &fields, bool of_run, Reading &reading) {
    const Entry *entry = fields.child("high_limit");
    if (entry == nullptr)
        return std::nullopt;
    Fields stat(entry, fields.key_place("high_limit"), "high limit", reading.diagnostics);
    HighLimit out;
    out.place = stat.place();
    if (!stat.usable())
        return std::nullopt;
    out.at_c = stat.required_quantity("at", Dimension::Temperature, {25.0, 90.0},
                                      "the temperature it stops the water at, such as `at: 45 "
                                      "degC`");
    static const std::vector<std::string> actions{"pump", "valve"};
    const auto stops = stat.required_choice(
        "stops", actions,
        "`stops: pump`, or without a floor pump `stops: valve` with the `valve:` it lets fall shut "
        "and `stops_heat: yes`");
    out.stops = stops.value_or(0) == 1 ? HighLimit::Stops::Valve : HighLimit::Stops::Pump;
    if (const auto pump = stat.text("pump_of")) {
        out.pump_run = pump->value;
        out.pump_place = pump->place;
    }
    if (const auto valve = stat.text("valve")) {
        out.valve = valve->value;
        out.valve_place = valve->place;
    }
    const auto heat = stat.yes_no("stops_heat");
    out.stops_heat = heat.value_or(false);
    static const std::vector<std::string> sides{"flow", "return"};
    out.side = stat.choice("side", sides).value_or(0) == 1 ? Side::Return : Side::Flow;
    if (of_run) {
        static const std::vector<std::string> ends{"from", "to"};
        out.at_start = stat.choice("end", ends).value_or(1) == 0;
    }
    if (stops && out.stops == HighLimit::Stops::Valve) {
        if (!stat.has("valve"))
            stat.missing({"valve"}, "missing-key", "high limit stops a valve but names no `valve`",
                         "the `name:` of a zone valve in the run that feeds the floor");
        if (!stat.has("stops_heat"))
            stat.missing({"stops_heat"}, "missing-key",
                         "high limit stops a valve but does not say whether the heat input stops",
                         "`stops_heat: yes` if it is wired to stop the source too, else `no`");
        if (stat.has("pump_of"))
            reading.diagnostics.error("not-used", stat.key_place("pump_of"),
                                      "`pump_of` belongs to `stops: pump`", "remove it");
    } else if (stops && stat.has("valve")) {
        reading.diagnostics.error("not-used", stat.key_place("valve"),
                                  "`valve` belongs to `stops: valve`", "remove it");
    }
    stat.finish();
    return out;
}

} // namespace headroom::networks
