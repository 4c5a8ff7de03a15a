#include "networks/read_parts.hpp"

#include <fmt/format.h>
#include <limits>

namespace headroom::networks {
namespace {

void read_inner(Fields &fields, Source &source, Reading &reading) {
    const auto *items = read_list(fields, "inner", reading.diagnostics);
    if (items == nullptr)
        return;
    for (const auto &item : *items) {
        Fields part(item.get(), item->place, "inner part", reading.diagnostics);
        const Text name = part.required_text("name", "such as `name: plate exchanger`");
        Resistance resistance = read_resistance(part, true);
        if (resistance.zeta)
            reading.diagnostics.error(
                "zeta-without-bore", part.key_place("zeta"),
                "`zeta` needs a bore, and inside the source there is none",
                "give `kv: 5 m3/h`, or `loss: 12 kPa` with `at_flow: 1 m3/h`");
        resistance.name = name.value;
        source.inner.push_back(std::move(resistance));
        part.finish();
    }
}

} // namespace

void read_source(const Entry &entry, Place place, Reading &reading) {
    Fields fields(&entry, place, "source", reading.diagnostics);
    if (!fields.usable()) {
        reading.source_known = false;
        reading.places_known = false;
        return;
    }
    Source source;
    source.place = place;
    static const std::vector<std::string> kinds{"boiler", "heat_pump", "solid_fuel"};
    const auto kind = fields.required_choice(
        "kind", kinds, "`kind: heat_pump`, `kind: boiler` or `kind: solid_fuel`");
    source.kind = static_cast<Source::Kind>(kind.value_or(0));
    // Left out, it is found from what the emitters need; validate() sees that they can tell.
    source.flow_temperature_given = fields.has("flow_temperature");
    const auto sent = fields.quantity("flow_temperature", Dimension::Temperature, {15.0, 95.0});
    if (source.flow_temperature_given)
        source.flow_temperature_c = sent.value_or(std::numeric_limits<double>::quiet_NaN());
    source.drop_k = fields.quantity("drop", Dimension::TemperatureStep, limits::drop);
    if (fields.has("drop") && !source.drop_k)
        reading.source_known = false;
    source.least_flow_m3_s = fields.quantity("least_flow", Dimension::VolumeFlow, limits::flow);
    source.greatest_drop_k =
        fields.quantity("greatest_drop", Dimension::TemperatureStep, limits::drop);
    source.least_open_volume_m3 =
        fields.quantity("least_open_volume", Dimension::Volume, limits::water_volume);
    if (const auto level = read_level(fields, "level", reading))
        reading.house.levels["source"] = *level;
    read_source_safety(fields, source, reading);
    read_heat(fields, source, reading);
    std::optional<int> states; // unknown until the circulator has said so
    if (const Entry *circulator = fields.child("circulator")) {
        Fields pump(circulator, fields.key_place("circulator"), "circulator", reading.diagnostics);
        if (pump.usable()) {
            states = pump.required_choice(
                "states", {"gross", "external"},
                "`states: gross` if the curve is the pump's alone, so that the source's inner loss "
                "is still to come off; `states: external` if the maker prints residual head "
                "outside the casing");
            if (states)
                source.states = static_cast<CurveStates>(*states);
            source.circulator = read_pump(pump, reading);
            if (source.circulator.mode == PumpMode::Stopped)
                reading.diagnostics.error("circulator-stopped", pump.key_place("mode"),
                                          "the source's own circulator cannot be stopped here",
                                          "describe how it runs on the design day");
            source.derating = pump.quantity("derating", Dimension::Ratio, {0.0, 0.9});
            if (source.derating && reading.house.fluid.kind == models::FluidKind::Water)
                reading.diagnostics.error("not-used", pump.key_place("derating"),
                                          "`derating` is for a liquid thicker than water",
                                          "remove it, or say what the liquid is under `water:`");
            pump.finish();
        }
    } else {
        fields.missing({"circulator"}, "missing-key", "source has no `circulator`",
                       "such as `circulator: {states: external, curve: [[0 m3/h, 6 m], [1.5 m3/h, "
                       "4.5 m]]}`");
    }
    read_inner(fields, source, reading);
    if (states && source.states == CurveStates::Gross && !fields.has("inner"))
        fields.missing(
            {"inner"}, "missing-inner-loss",
            "the circulator's curve is gross, but the source's inner loss is not given",
            "add `inner: [{name: exchanger, loss: 15 kPa, at_flow: 1 m3/h}]`, or use the external "
            "residual head");
    if (states && source.states == CurveStates::External && fields.has("inner"))
        reading.diagnostics.error("not-used", fields.key_place("inner"),
                                  "`inner` losses are already inside an external residual head",
                                  "remove `inner`, or state the curve as `gross`");
    fields.finish();
    reading.house.source = std::move(source);
}

void read_hot_water(const Entry &entry, Place place, Reading &reading) {
    Fields fields(&entry, place, "hot water", reading.diagnostics);
    if (!fields.usable())
        return;
    HotWater hot_water;
    hot_water.place = place;
    const auto from = fields.text("from");
    hot_water.from = from ? from->value : "source";
    hot_water.from_place = from ? from->place : place;
    if (const Entry *coil = fields.child("coil")) {
        Fields part(coil, fields.key_place("coil"), "coil", reading.diagnostics);
        hot_water.coil = read_resistance(part, true);
        if (hot_water.coil.zeta)
            reading.diagnostics.error(
                "zeta-without-bore", part.key_place("zeta"),
                "`zeta` needs a bore, and a coil's is not known here",
                "give `kv: 3 m3/h`, or `loss: 12 kPa` with `at_flow: 1 m3/h`");
        hot_water.coil.name = "cylinder coil";
        read_coil_heat(part, hot_water.cylinder, reading);
        part.finish();
    } else {
        fields.missing({"coil"}, "missing-key", "hot water has no `coil`",
                       "such as `coil: {loss: 15 kPa, at_flow: 1.2 m3/h}`");
    }
    hot_water.flow_m3_s = fields.required_quantity(
        "flow", Dimension::VolumeFlow, limits::flow,
        "the flow the source needs while it heats the cylinder, such as `flow: 18 l/min`");
    hot_water.flow_temperature_c =
        fields.required_quantity("flow_temperature", Dimension::Temperature, {30.0, 95.0},
                                 "such as `flow_temperature: "
                                 "60 degC`");
    hot_water.drop_k =
        fields.quantity("drop", Dimension::TemperatureStep, limits::drop).value_or(5.0);
    static const std::vector<std::string> after{"coil", "heating"};
    hot_water.after_run_to_floors =
        fields
            .required_choice("after_run", after,
                             "where the hot water left in the source goes when the cylinder is "
                             "done: `after_run: coil` or `after_run: heating`")
            .value_or(0) == 1;
    read_cylinder(fields, hot_water, reading);
    fields.finish();
    reading.house.hot_water = std::move(hot_water);
}

} // namespace headroom::networks
