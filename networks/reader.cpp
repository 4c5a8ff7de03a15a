#include "networks/reader.hpp"

#include "networks/overlay.hpp"
#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

void read_fluid(Fields &root, Reading &reading) {
    House &house = reading.house;
    const Entry *entry = root.child("water");
    house.fluid_stated = entry != nullptr;
    if (entry == nullptr)
        return;
    if (entry->is_scalar()) {
        if (entry->scalar != "plain")
            reading.diagnostics.error("unknown-word", entry->place,
                                      fmt::format("`water` cannot be `{}`", entry->scalar),
                                      "write `water: plain`, or `water: {glycol: propylene, share: "
                                      "25 %, by: mass}`");
        return;
    }
    Fields water(entry, root.key_place("water"), "water", reading.diagnostics);
    if (!water.exactly_one({"plain", "glycol", "density"},
                           "plain water at a temperature, a glycol mixture, or a liquid of stated "
                           "density and viscosity")) {
        for (const char *key : {"share", "by", "viscosity", "kinematic_viscosity"})
            water.has(key);
    } else if (water.has("plain")) {
        // Of a network without a source, where nothing else says how warm the water is.
        house.open_water_c =
            water.quantity("plain", Dimension::Temperature, {0.5, 110.0}).value_or(20.0);
    } else if (water.has("glycol")) {
        static const std::vector<std::string> kinds{"propylene", "ethylene"};
        static const std::vector<std::string> ways{"mass", "volume"};
        const auto kind = water.choice("glycol", kinds);
        const double share = water.required_quantity("share", Dimension::Ratio, {0.05, 0.6},
                                                     "such as `share: 25 %`");
        const auto by = water.required_choice(
            "by", ways, "a share by mass or by volume? write `by: mass` or `by: volume`");
        house.fluid.kind = kind.value_or(0) == 0 ? models::FluidKind::PropyleneGlycol
                                                 : models::FluidKind::EthyleneGlycol;
        house.fluid.glycol_mass_share =
            by.value_or(0) == 0 ? share : models::glycol_mass_share(house.fluid.kind, share);
    } else {
        house.fluid.kind = models::FluidKind::Stated;
        house.fluid.stated_density_kg_m3 = water.required_quantity(
            "density", Dimension::Density, {100.0, 3000.0}, "such as `density: 998 kg/m3`");
        if (water.exactly_one({"viscosity", "kinematic_viscosity"},
                              "such as `viscosity: 1.002 mPa s`")) {
            const auto dynamic = water.quantity("viscosity", Dimension::Viscosity, {1e-6, 10.0});
            const auto kinematic =
                water.quantity("kinematic_viscosity", Dimension::KinematicViscosity, {1e-9, 1e-2});
            if (dynamic)
                house.fluid.stated_viscosity_pa_s = *dynamic;
            if (kinematic)
                house.fluid.stated_viscosity_pa_s = *kinematic * house.fluid.stated_density_kg_m3;
        }
    }
    water.finish();
}

void read_levels(Fields &root, Reading &reading) {
    House &house = reading.house;
    if (const Entry *entry = root.child("levels")) {
        if (Fields levels(entry, root.key_place("levels"), "levels", reading.diagnostics);
            levels.usable())
            for (const Pair &pair : entry->pairs)
                if (const auto level = read_quantity(*pair.value, pair.key, Dimension::Length,
                                                     limits::level, reading.diagnostics))
                    house.storeys[pair.key] = *level;
    }
    if (const Entry *entry = root.child("junctions")) {
        Fields junctions(entry, root.key_place("junctions"), "junctions", reading.diagnostics);
        if (junctions.usable())
            for (const Pair &pair : entry->pairs) {
                Fields junction(pair.value.get(), pair.key_place,
                                fmt::format("junction `{}`", pair.key), reading.diagnostics);
                if (const auto level = read_level(junction, "level", reading))
                    house.levels[pair.key] = *level;
                else if (!junction.has("level"))
                    junction.missing({"level"}, "missing-key",
                                     fmt::format("junction `{}` has no `level`", pair.key),
                                     "such as `level: 2.7 m`");
                reading.junction_levels.push_back({pair.key, pair.key_place});
                junction.finish();
            }
    }
}

void read_separator(Fields &root, Reading &reading) {
    const Entry *entry = root.child("header");
    if (entry == nullptr)
        return;
    Fields fields(entry, root.key_place("header"), "header", reading.diagnostics);
    if (!fields.usable()) {
        reading.places_known = false;
        return;
    }
    Separator separator;
    separator.name = "header";
    separator.place = fields.place();
    static const std::vector<std::string> kinds{"vessel", "close_tees", "buffer"};
    separator.kind = static_cast<Separator::Kind>(fields.choice("kind", kinds).value_or(0));
    separator.bore_m = fields.required_quantity("bore", Dimension::Length, limits::bore,
                                                "the inside diameter, such as `bore: 80 mm`");
    separator.height_m = fields.required_quantity(
        "height", Dimension::Length, {0.01, 10.0},
        "between the flow and the return connections, such as `height: 0.6 m`");
    separator.volume_m3 = fields.quantity("volume", Dimension::Volume, limits::water_volume);
    if (const auto level = read_level(fields, "level", reading))
        reading.house.levels["header"] = *level;
    fields.finish();
    reading.house.separator = separator;
}

void read_bypasses(Fields &root, Reading &reading) {
    const auto *items = read_list(root, "bypasses", reading.diagnostics);
    if (items == nullptr)
        return;
    for (const auto &item : *items) {
        Fields fields(item.get(), item->place, "bypass", reading.diagnostics);
        Bypass bypass;
        bypass.place = item->place;
        bypass.name = fields.required_text("bypass", "give it a name").value;
        const Text at = fields.required_text("at", "the place whose flow and return it joins");
        bypass.at = at.value;
        bypass.at_place = at.place;
        bypass.kv_m3_h = fields.required_quantity("kv", Dimension::FlowFactor, limits::kv,
                                                  "such as `kv: 2.5 m3/h`");
        bypass.opens_pa = fields.quantity("opens", Dimension::Pressure, limits::pressure);
        fields.finish();
        reading.house.bypasses.push_back(std::move(bypass));
    }
}

void read_tees(Fields &root, Reading &reading) {
    const auto *items = read_list(root, "tees", reading.diagnostics);
    if (items == nullptr)
        return;
    for (const auto &item : *items) {
        Fields fields(item.get(), item->place, "tee", reading.diagnostics);
        Tee tee;
        tee.place = item->place;
        const auto name = [&](std::string_view key, std::string_view help, std::string &value,
                              Place &place) {
            const Text text = fields.required_text(key, help);
            value = text.value;
            place = text.place;
        };
        name("at", "the place or junction where the three runs meet", tee.at, tee.at_place);
        name("combined", "the run that carries the whole flow", tee.combined, tee.combined_place);
        name("through", "the run straight on", tee.through, tee.through_place);
        name("branch", "the run at a right angle", tee.branch, tee.branch_place);
        tee.bore_m = fields.required_quantity("bore", Dimension::Length, limits::bore,
                                              "of the through way, such as `bore: 20.2 mm`");
        tee.branch_bore_m =
            fields.quantity("branch_bore", Dimension::Length, limits::bore).value_or(tee.bore_m);
        if (tee.branch_bore_m > tee.bore_m || tee.branch_bore_m < 0.3 * tee.bore_m)
            reading.diagnostics.error(
                "out-of-range",
                fields.child(fields.has("branch_bore") ? "branch_bore" : "bore")->place,
                "a tee's branch must be 0.3 to 1 times its through bore",
                "check `bore` and `branch_bore`");
        fields.finish();
        reading.house.tees.push_back(std::move(tee));
    }
}

void read_ends(Fields &root, Reading &reading) {
    const auto *items = read_list(root, "ends", reading.diagnostics);
    if (items == nullptr)
        return;
    for (const auto &item : *items) {
        Fields fields(item.get(), item->place, "end", reading.diagnostics);
        const Text at = fields.required_text("at", "the junction where the network ends");
        const Range pressure{-1e5, 1e7};
        const bool clear = fields.exactly_one(
            {"held_pressure", "open_vessel", "fixed_flow"},
            "what holds there: `held_pressure: 1.5 bar`, `open_vessel: {level: 20 "
            "m}` or `fixed_flow: {out: 0.1 l/s}`");
        if (const auto held = fields.quantity("held_pressure", Dimension::Pressure, pressure);
            held && clear)
            reading.house.held.push_back({at.value, *held, at.place});
        if (const Entry *vessel = fields.child("open_vessel")) {
            Fields part(vessel, fields.key_place("open_vessel"), "open vessel",
                        reading.diagnostics);
            const auto level = read_level(part, "level", reading);
            if (!part.has("level"))
                part.missing({"level"}, "missing-key", "open vessel has no `level`",
                             "the height of its water surface, such as `level: 20 m`");
            part.finish();
            if (clear)
                reading.house.vessels.push_back({at.value, level.value_or(0.0), at.place});
        }
        if (const Entry *flow = fields.child("fixed_flow")) {
            Fields part(flow, fields.key_place("fixed_flow"), "fixed flow", reading.diagnostics);
            part.exactly_one({"in", "out"}, "flow into the network or out of it");
            const auto in = part.quantity("in", Dimension::VolumeFlow, limits::flow);
            const auto out = part.quantity("out", Dimension::VolumeFlow, limits::flow);
            part.finish();
            reading.house.fixed.push_back(
                {at.value, in.value_or(0.0) - out.value_or(0.0), at.place});
        }
        fields.finish();
    }
}

void read_fill(Fields &root, Reading &reading) {
    const Entry *entry = root.child("fill");
    if (entry == nullptr)
        return;
    Fields fields(entry, root.key_place("fill"), "fill", reading.diagnostics);
    Fill fill;
    fill.pressure_pa = fields.required_quantity("pressure", Dimension::Pressure, {0.0, 1e6},
                                                "at the expansion vessel, such as `pressure: 1.2 "
                                                "bar`");
    const Text at = fields.required_text(
        "vessel_at", "where the expansion vessel joins, such as `vessel_at: source.return`");
    fill.at = at.value;
    fill.place = at.place;
    fill.safety_valve_pa = fields.quantity("safety_valve", Dimension::Pressure, {0.5e5, 1e6});
    fill.vessel_m3 = fields.quantity("vessel", Dimension::Volume, {1e-3, 2.0});
    fill.other_m3 = fields.quantity("other_water", Dimension::Volume, {0.0, 5.0});
    fill.highest_c = fields.quantity("highest", Dimension::Temperature, {20.0, 110.0});
    fill.inhibitor_share = fields.quantity("inhibitor", Dimension::Ratio, {0.0, 0.1});
    fill.flush_m_s = fields.quantity("flush_velocity", Dimension::Velocity, {0.1, 2.0});
    if (fill.safety_valve_pa && fill.pressure_pa >= *fill.safety_valve_pa)
        reading.diagnostics.error("out-of-range", fields.child("safety_valve")->place,
                                  "the safety valve would open at the fill pressure",
                                  "check both; a house has it at 3 bar and fills to 1 to 1.5");
    if (const auto safety = fields.text("safety_valve_at")) {
        fill.safety_valve_at = safety->value;
        fill.safety_valve_place = safety->place;
    }
    fields.finish();
    reading.house.fill = fill;
}

void read_margin(Fields &root, Reading &reading) {
    const Entry *entry = root.child("margin");
    if (entry == nullptr)
        return;
    Fields fields(entry, root.key_place("margin"), "margin", reading.diagnostics);
    Margin &margin = reading.house.margin;
    margin.stated = true;
    margin.curve = fields.quantity("curve", Dimension::Ratio, {0.0, 0.5}).value_or(margin.curve);
    margin.bore = fields.quantity("bore", Dimension::Ratio, {0.0, 0.1}).value_or(margin.bore);
    margin.filter =
        fields.quantity("filter", Dimension::Ratio, {0.0, 10.0}).value_or(margin.filter);
    margin.length = fields.quantity("length", Dimension::Ratio, {0.0, 0.5}).value_or(margin.length);
    margin.fittings =
        fields.quantity("fittings", Dimension::Ratio, {0.0, 0.9}).value_or(margin.fittings);
    margin.roughness =
        fields.quantity("roughness", Dimension::Ratio, {0.0, 10.0}).value_or(margin.roughness);
    margin.heat_loss =
        fields.quantity("heat_loss", Dimension::Ratio, {0.0, 0.5}).value_or(margin.heat_loss);
    fields.finish();
}

void read_pipe_limits(Fields &root, Reading &reading) {
    const Entry *entry = root.child("pipe_limits");
    if (entry == nullptr)
        return;
    Fields fields(entry, root.key_place("pipe_limits"), "pipe limits", reading.diagnostics);
    PipeLimits &limits = reading.house.pipe_limits;
    limits.velocity_m_s = fields.quantity("velocity", Dimension::Velocity, {0.1, 5.0});
    limits.loss_pa_m = fields.quantity("loss_per_metre", Dimension::Pressure, {10.0, 5000.0});
    fields.finish();
}

// True if `key` is absent, but a key that looks like it stands there.
bool misspelt(Fields &root, const Entry &document, std::string_view key) {
    if (root.has(key))
        return false;
    return std::any_of(document.pairs.begin(), document.pairs.end(), [&](const Pair &pair) {
        return !nearest(pair.key, {std::string(key)}).empty();
    });
}

void read_sections(const Entry &document, Reading &reading) {
    House &house = reading.house;
    Diagnostics &diagnostics = reading.diagnostics;
    Fields root(&document, {}, "the house", diagnostics);
    house.name =
        root.required_text("house", "give it a name, such as `house: Quayside Cottage`").value;
    if (const auto note = root.text("note"))
        house.note = note->value;
    if (const Entry *entry = root.child("catalogue")) {
        Fields catalogue(entry, root.key_place("catalogue"), "catalogue", diagnostics);
        read_catalogue(catalogue, house.catalogue, diagnostics);
        catalogue.finish();
    }
    read_fluid(root, reading);
    if (const Entry *entry = root.child("design_day")) {
        Fields day(entry, root.key_place("design_day"), "design day", diagnostics);
        house.outdoor_c = day.quantity("outdoor", Dimension::Temperature, {-60.0, 30.0});
        reading.outdoor_place = day.has("outdoor") ? day.child("outdoor")->place : day.place();
        reading.outdoor_known = !day.has("outdoor") || house.outdoor_c.has_value();
        // What an air change carries: the standard's 0.34 Wh/(m3 K), or the older British third.
        static const std::vector<std::string> air{"standard", "british"};
        if (day.choice("air_heat", air).value_or(0) == 1)
            house.air_heat = models::air_heat_british;
        day.finish();
    }
    house.cold_start_c = root.quantity("cold_start", Dimension::Temperature, {0.5, 40.0});
    read_levels(root, reading);
    reading.rooms_known = !misspelt(root, document, "rooms");
    read_rooms(root, reading);
    read_floors(root, reading);
    reading.source_known = !misspelt(root, document, "source");
    if (reading.source_known && !root.has("source"))
        reading.head = limits::pressure;
    if (const Entry *entry = root.child("source"))
        read_source(*entry, root.key_place("source"), reading);
    else if (!root.has("ends")) {
        reading.source_known = false;
        root.missing({"source", "ends"}, "nothing-drives",
                     "the house has no `source`, and the network no `ends`",
                     "add a `source:` with its circulator");
    }
    read_separator(root, reading);
    read_runs(root, reading);
    if (const Entry *entry = root.child("manifolds"))
        read_manifolds(*entry, reading);
    read_radiators(root, reading);
    share_room_losses(reading);
    for (Emitter &emitter : house.emitters)
        emitter.room_heat_w = emitter.heat_w;
    check_drops(reading);
    read_bypasses(root, reading);
    if (const Entry *entry = root.child("hot_water"))
        read_hot_water(*entry, root.key_place("hot_water"), reading);
    read_tees(root, reading);
    read_ends(root, reading);
    read_fill(root, reading);
    read_margin(root, reading);
    read_pipe_limits(root, reading);
    read_prices(root, house.prices, diagnostics);
    root.has("proposals"); // read once the base is
    read_year(root, reading);
    read_readings(root, reading);
    house.levels_given = !house.levels.empty();
    // A misspelt section may hold places.
    if (!root.finish())
        reading.places_known = false;
}

} // namespace

House read_document(const Entry &document, Diagnostics &diagnostics) {
    House house;
    house.catalogue = shipped_catalogue();
    Reading reading{house, diagnostics};
    read_sections(document, reading);
    if (check_size(reading))
        validate(reading);
    return house;
}

std::optional<House> read_house(const std::string &text, Diagnostics &diagnostics) {
    try {
        const auto document = parse_document(text, diagnostics);
        if (!document)
            return std::nullopt;
        House house = read_document(*document, diagnostics);
        read_proposals(*document, house, diagnostics);
        if (!diagnostics.has_errors())
            return house;
    } catch (const TooManyFaults &) {
        return std::nullopt;
    }
    return std::nullopt;
}

} // namespace headroom::networks
