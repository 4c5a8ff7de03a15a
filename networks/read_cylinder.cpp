#include "networks/read_parts.hpp"

#include <fmt/format.h>

namespace headroom::networks {
namespace {

std::optional<Draw> read_draw(Fields &fields, const Cylinder &cylinder, Reading &reading) {
    const Entry *entry = fields.child("draw");
    if (entry == nullptr)
        return std::nullopt;
    Fields part(entry, fields.key_place("draw"), "draw", reading.diagnostics);
    Draw draw;
    draw.volume_m3 = part.required_quantity("volume", Dimension::Volume, {1e-3, 5.0},
                                            "warm water a day, such as `volume: 150 l`");
    draw.at_c = part.required_quantity("at", Dimension::Temperature, {30.0, 60.0},
                                       "at the tap, such as `at: 40 degC`");
    if (cylinder.cold_c && draw.at_c <= *cylinder.cold_c)
        reading.diagnostics.error(
            "out-of-range", part.key_place("at"),
            fmt::format("water drawn at {} is no warmer than `cold`, {}",
                        written(draw.at_c, Dimension::Temperature),
                        written(*cylinder.cold_c, Dimension::Temperature)),
            "`cold` is the water that enters the store, `at` what is wanted at the tap");
    if (cylinder.store_to_c && draw.at_c > *cylinder.store_to_c)
        reading.diagnostics.error(
            "out-of-range", part.key_place("at"),
            fmt::format("water drawn at {} is warmer than the store is kept, {}",
                        written(draw.at_c, Dimension::Temperature),
                        written(*cylinder.store_to_c, Dimension::Temperature)),
            "lower `at`, such as `at: 40 degC`, or raise `store_to`; a rare pasteurising cycle "
            "does not count");
    part.finish();
    return draw;
}

std::optional<Pasteurising> read_pasteurising(Fields &fields, const HotWater &hot_water,
                                              Reading &reading) {
    const Cylinder &cylinder = hot_water.cylinder;
    const Entry *entry = fields.child("pasteurise");
    if (entry == nullptr)
        return std::nullopt;
    Fields part(entry, fields.key_place("pasteurise"), "pasteurise", reading.diagnostics);
    Pasteurising out;
    out.to_c =
        part.required_quantity("to", Dimension::Temperature, {55.0, 90.0}, "such as `to: 60 degC`");
    out.every_h =
        part.required_quantity("every", Dimension::Duration, {1.0, 2400.0}, "such as `every: 7 d`");
    out.source_to_c = part.quantity("source_to", Dimension::Temperature, {30.0, 90.0});
    if (cylinder.store_to_c && out.to_c <= *cylinder.store_to_c)
        reading.diagnostics.error("not-used", part.key_place("to"),
                                  "the store is kept this warm anyway, so there is nothing to "
                                  "pasteurise",
                                  "remove `pasteurise`, or check `store_to`");
    const bool cooler = cylinder.store_to_c && out.source_to_c < *cylinder.store_to_c;
    if (out.source_to_c && (*out.source_to_c > out.to_c || cooler))
        reading.diagnostics.error("out-of-range", part.key_place("source_to"),
                                  "`source_to` must lie between `store_to` and the pasteurising "
                                  "temperature",
                                  "it is how far the source itself heats the store in that cycle");
    else if (out.source_to_c && *out.source_to_c >= hot_water.flow_temperature_c)
        reading.diagnostics.error(
            "too-cold", part.key_place("source_to"),
            fmt::format("water at {} cannot warm a store to {}",
                        written(hot_water.flow_temperature_c, Dimension::Temperature),
                        written(*out.source_to_c, Dimension::Temperature)),
            "lower `source_to`; the immersion heater does the rest");
    part.finish();
    return out;
}

} // namespace

void read_coil_heat(Fields &coil, Cylinder &cylinder, Reading &reading) {
    cylinder.coil_area_m2 = coil.quantity("area", Dimension::Area, {0.05, 20.0});
    cylinder.coil_u_w_m2_k = coil.quantity("conductance", Dimension::Transmittance, {20.0, 5000.0});
    cylinder.coil_ua_w_k = coil.quantity("ua", Dimension::Conductance, {10.0, 50000.0});
    if (coil.has("ua") && coil.has("conductance"))
        reading.diagnostics.error("one-too-many", coil.key_place("ua"),
                                  "a coil takes only one of `ua` and `conductance`",
                                  "`ua` is `area` times `conductance`; keep one");
    if (coil.has("conductance") && !coil.has("area"))
        coil.missing({"area"}, "missing-key", "a coil's `conductance` needs its `area`",
                     "such as `area: 1.8 m2`");
    if (cylinder.coil_area_m2 && cylinder.coil_u_w_m2_k)
        cylinder.coil_ua_w_k = *cylinder.coil_area_m2 * *cylinder.coil_u_w_m2_k;
}

void read_cylinder(Fields &fields, HotWater &hot_water, Reading &reading) {
    Cylinder &cylinder = hot_water.cylinder;
    Diagnostics &diagnostics = reading.diagnostics;
    cylinder.volume_m3 = fields.quantity("store", Dimension::Volume, {0.01, 5.0});
    cylinder.cold_c = fields.quantity("cold", Dimension::Temperature, {1.0, 30.0});
    cylinder.store_to_c = fields.quantity("store_to", Dimension::Temperature, {35.0, 90.0});
    cylinder.reheat_from_c = fields.quantity("reheat_from", Dimension::Temperature, {10.0, 85.0});
    cylinder.immersion_w = fields.quantity("immersion", Dimension::Power, {200.0, 50e3});
    cylinder.draw = read_draw(fields, cylinder, reading);
    cylinder.pasteurising = read_pasteurising(fields, hot_water, reading);
    if (cylinder.store_to_c && *cylinder.store_to_c >= hot_water.flow_temperature_c)
        diagnostics.error("too-cold", fields.key_place("store_to"),
                          fmt::format("water at {} cannot warm a store to {}",
                                      written(hot_water.flow_temperature_c, Dimension::Temperature),
                                      written(*cylinder.store_to_c, Dimension::Temperature)),
                          "raise `flow_temperature` of the hot water, or lower `store_to`; a coil "
                          "needs some 5 K between them");
    const bool above = cylinder.store_to_c && cylinder.reheat_from_c >= *cylinder.store_to_c;
    const bool below =
        cylinder.cold_c && cylinder.reheat_from_c && *cylinder.reheat_from_c <= *cylinder.cold_c;
    if (cylinder.reheat_from_c && (above || below))
        diagnostics.error("out-of-range", fields.key_place("reheat_from"),
                          "`reheat_from` must lie between `cold` and `store_to`",
                          "the store's temperature at which its reheat is called for");
}

} // namespace headroom::networks
