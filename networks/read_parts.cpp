#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {

PipeChoice read_pipe(Fields &fields, Reading &reading) {
    const Entry *entry = fields.child("pipe");
    if (entry == nullptr) {
        fields.missing({"pipe"}, "missing-key", fmt::format("{} has no `pipe`", fields.what()),
                       "such as `pipe: copper 28` or `pipe: pex 16x2`");
        return {};
    }
    if (entry->is_scalar())
        return find_pipe(reading.house.catalogue, {entry->scalar, entry->place},
                         reading.diagnostics)
            .value_or(PipeChoice{});
    Fields pipe(entry, entry->place, "pipe", reading.diagnostics);
    PipeChoice choice;
    choice.bore_m =
        pipe.required_quantity("bore", Dimension::Length, limits::bore, "such as `bore: 13 mm`");
    choice.name = fmt::format("bore {:.4g} mm", choice.bore_m * 1e3);
    const auto factor = pipe.number("friction_factor", {1e-4, 1.0});
    const auto roughness = pipe.quantity("roughness", Dimension::Length, {0.0, 0.05});
    if (factor) {
        choice.constant_friction_factor = *factor;
    } else if (!pipe.has("roughness") && !pipe.has("friction_factor")) {
        pipe.missing({"roughness", "friction_factor"}, "missing-key", "pipe has no `roughness`",
                     "such as `roughness: 0.007 mm` for plastic; or a stated `friction_factor: "
                     "0.02`");
    }
    choice.roughness_m = roughness.value_or(0.0);
    if (choice.roughness_m > 0.05 * choice.bore_m && pipe.usable())
        reading.diagnostics.error("out-of-range", pipe.child("roughness")->place,
                                  "`roughness` is more than a twentieth of the bore",
                                  "Colebrook's law ends there; check the units");
    choice.aged_roughness_m = choice.roughness_m;
    choice.wall_m = pipe.quantity("wall", Dimension::Length, {1e-4, 0.1}).value_or(0.0);
    choice.conductivity_w_m_k =
        pipe.quantity("conductivity", Dimension::Conductivity, {0.01, 1000.0}).value_or(0.0);
    pipe.finish();
    return choice;
}

Resistance read_resistance(Fields &fields, bool must) {
    Resistance resistance;
    resistance.kv_m3_h = fields.quantity("kv", Dimension::FlowFactor, limits::kv);
    resistance.zeta = fields.number("zeta", {0.0, 1e6});
    resistance.loss_pa = fields.quantity("loss", Dimension::Pressure, {0.0, 1e7});
    resistance.at_m3_s =
        fields.quantity("at_flow", Dimension::VolumeFlow, limits::flow).value_or(0.0);
    const int given = static_cast<int>(fields.has("kv")) + static_cast<int>(fields.has("zeta")) +
                      static_cast<int>(fields.has("loss"));
    if (must || given > 1)
        fields.exactly_one(
            {"kv", "loss", "zeta"},
            "give `kv: 5 m3/h`, `zeta: 2`, or `loss: 12 kPa` with `at_flow: 1 m3/h`");
    if (fields.has("loss") != fields.has("at_flow"))
        fields.missing({"loss", "at_flow"}, "missing-key",
                       fmt::format("{} needs `loss` and `at_flow` together", fields.what()),
                       "such as `loss: 12 kPa` with `at_flow: 1 m3/h`");
    return resistance;
}

namespace {

// `power: [[0.2 m3/h, 14 W], [1.2 m3/h, 38 W]]`: what it draws as it is set, flow rising.
void read_electric(Fields &fields, Pump &pump, Diagnostics &diagnostics) {
    const auto *items = read_list(fields, "power", diagnostics);
    if (items == nullptr)
        return;
    if (fields.has("efficiency"))
        diagnostics.error("one-too-many", fields.key_place("power"),
                          fmt::format("{} takes only one of `efficiency`, `power`", fields.what()),
                          "the electric power against flow, or its efficiency");
    for (const auto &row : *items) {
        if (!row->is_list() || row->items.size() != 2) {
            diagnostics.error("power", row->place, "a point of `power` is `[flow, electric power]`",
                              "such as `[1.2 m3/h, 38 W]`");
            continue;
        }
        const auto flow = read_quantity(*row->items[0], "flow", Dimension::VolumeFlow,
                                        {0.0, limits::flow.most}, diagnostics);
        const auto power = read_quantity(*row->items[1], "electric power", Dimension::Power,
                                         {0.1, 1e5}, diagnostics);
        if (!flow || !power)
            continue;
        if (!pump.electric.empty() && *flow <= pump.electric.back().first)
            diagnostics.error("power", row->place, "flow must rise from point to point",
                              "sort the points and remove repeats");
        pump.electric.emplace_back(*flow, *power);
    }
}

} // namespace

std::optional<PipeSurroundings> read_surroundings(Fields &fields, Reading &reading) {
    const auto air = fields.quantity("surroundings", Dimension::Temperature, {-30.0, 60.0});
    PipeSurroundings out;
    if (const Entry *entry = fields.child("insulation")) {
        out.insulation_stated = true;
        if (!(entry->is_scalar() && entry->scalar == "bare")) {
            Fields part(entry, fields.key_place("insulation"), "insulation", reading.diagnostics);
            out.insulation_m = part.required_quantity("thickness", Dimension::Length, {0.0, 0.3},
                                                      "such as `thickness: 19 mm`");
            out.insulation_w_m_k =
                part.required_quantity("conductivity", Dimension::Conductivity, {0.01, 1.0},
                                       "such as `conductivity: 0.035 W/(m K)`");
            part.finish();
        }
        if (!fields.has("surroundings"))
            fields.missing({"surroundings"}, "missing-key",
                           fmt::format("{} has `insulation` but no `surroundings`", fields.what()),
                           "the temperature round the pipe, such as `surroundings: 15 degC`");
    }
    if (!air)
        return std::nullopt;
    out.air_c = *air;
    return out;
}

Pump read_pump(Fields &fields, Reading &reading) {
    Pump pump;
    pump.place = fields.place();
    Diagnostics &diagnostics = reading.diagnostics;
    std::vector<models::CurvePoint> points;
    fields.exactly_one({"model", "curve"},
                       "name a circulator of the catalogue with `model:` or give its `curve:`");
    if (const auto model = fields.text("model")) {
        if (const CirculatorModel *known = reading.house.catalogue.circulator(model->value)) {
            pump.model = known->name;
            points = known->curve;
        } else {
            const auto names = reading.house.catalogue.circulator_names();
            const std::string near = nearest(model->value, names);
            std::string listed;
            for (const std::string &name : names)
                listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", name);
            diagnostics.error(
                "unknown-circulator", model->place,
                fmt::format("unknown circulator `{}`", model->value),
                fmt::format("{}known: {}; or give its `curve:`",
                            near.empty() ? "" : fmt::format("did you mean `{}`? ", near), listed));
        }
    }
    if (const Entry *curve = fields.child("curve"))
        points = read_curve(*curve, reading.head, diagnostics);
    if (!points.empty())
        pump.curve = models::make_pump_curve(points);

    static const std::vector<std::string> modes{
        "fixed_speed", "constant_pressure", "proportional_pressure", "constant_flow", "stopped"};
    const auto mode = fields.choice("mode", modes);
    const bool mode_known = mode || !fields.has("mode");
    if (mode)
        pump.mode = static_cast<PumpMode>(*mode);
    pump.speed = fields.quantity("speed", Dimension::Ratio, {0.05, 1.5}).value_or(1.0);
    pump.least_speed = fields.quantity("least_speed", Dimension::Ratio, {0.01, 1.0});
    pump.efficiency = fields.quantity("efficiency", Dimension::Ratio, {0.02, 0.9});
    read_electric(fields, pump, diagnostics);
    pump.eei = fields.number("eei", {0.05, 1.0});
    const auto setting = fields.quantity("setting", Dimension::Pressure, reading.head);
    const auto flow = fields.quantity("flow", Dimension::VolumeFlow, limits::flow);
    const bool pressure_mode =
        pump.mode == PumpMode::ConstantPressure || pump.mode == PumpMode::ProportionalPressure;
    if (pressure_mode && !fields.has("setting"))
        fields.missing({"setting"}, "missing-key",
                       fmt::format("{} runs at {} but has no `setting`", fields.what(),
                                   pump.mode == PumpMode::ConstantPressure
                                       ? "constant pressure"
                                       : "proportional pressure"),
                       "such as `setting: 3 m`");
    if (mode_known && !pressure_mode && fields.has("setting"))
        diagnostics.error("not-used", fields.key_place("setting"),
                          "`setting` belongs to the pressure modes only",
                          "set `mode: constant_pressure` or remove it");
    if (pump.mode == PumpMode::ConstantFlow && !fields.has("flow"))
        fields.missing({"flow"}, "missing-key",
                       fmt::format("{} runs at constant flow but has no `flow`", fields.what()),
                       "such as `flow: 0.9 m3/h`");
    if (mode_known && pump.mode != PumpMode::ConstantFlow && fields.has("flow"))
        diagnostics.error("not-used", fields.key_place("flow"),
                          "`flow` belongs to `mode: constant_flow` only",
                          "set `mode: constant_flow` or remove it");
    double most = 0.0;
    for (const models::CurvePoint &point : points)
        most = std::max(most, point.pressure_pa * pump.speed * pump.speed);
    if (pressure_mode && setting && !points.empty() && *setting > most)
        diagnostics.warning("setting-too-high", fields.child("setting")->place,
                            fmt::format("the pump gives {} at most, so that it never reaches this "
                                        "`setting`",
                                        written(most, Dimension::Pressure)),
                            "check the unit; the pump will follow its curve");
    pump.setting_pa = setting.value_or(0.0);
    pump.flow_m3_s = flow.value_or(0.0);
    return pump;
}

std::vector<FittingCount> read_fittings(Fields &fields, Reading &reading) {
    std::vector<FittingCount> out;
    const Entry *entry = fields.child("fittings");
    if (entry == nullptr)
        return out;
    Fields counts(entry, entry->place, "fittings", reading.diagnostics);
    if (!counts.usable())
        return out;
    for (const Pair &pair : entry->pairs) {
        const FittingType *known = reading.house.catalogue.fitting(pair.key);
        if (known == nullptr) {
            const auto names = reading.house.catalogue.fitting_names();
            const std::string near = nearest(pair.key, names);
            std::string listed;
            for (const std::string &name : names)
                listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", name);
            reading.diagnostics.error("unknown-fitting", pair.key_place,
                                      fmt::format("unknown fitting `{}`", pair.key),
                                      near.empty() ? fmt::format("known: {}", listed)
                                                   : fmt::format("did you mean `{}`?", near));
            continue;
        }
        if (const auto count = counts.count(pair.key, 0, 1000); count && *count > 0)
            out.push_back({pair.key, *count});
    }
    return out;
}

std::optional<double> read_level(Fields &fields, std::string_view key, Reading &reading) {
    const Entry *entry = fields.child(key);
    if (entry == nullptr)
        return std::nullopt;
    if (entry->is_scalar())
        if (const auto storey = reading.house.storeys.find(entry->scalar);
            storey != reading.house.storeys.end())
            return storey->second;
    const bool numeric =
        entry->is_scalar() && !entry->scalar.empty() &&
        std::string_view("+-.0123456789").find(entry->scalar.front()) != std::string_view::npos;
    if (entry->is_scalar() && !numeric) {
        std::vector<std::string> names;
        std::string listed;
        for (const auto &[name, level] : reading.house.storeys) {
            names.push_back(name);
            listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", name);
        }
        const std::string near = nearest(entry->scalar, names);
        reading.diagnostics.error(
            "unknown-level", entry->place, fmt::format("unknown level `{}`", entry->scalar),
            !near.empty()    ? fmt::format("did you mean `{}`?", near)
            : listed.empty() ? "give metres, such as `2.7 m`, or name storeys under `levels:`"
                             : fmt::format("known levels: {}; or give metres", listed));
        return std::nullopt;
    }
    return read_quantity(*entry, key, Dimension::Length, limits::level, reading.diagnostics);
}

} // namespace headroom::networks
