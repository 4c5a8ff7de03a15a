#include "networks/read_parts.hpp"

#include <fmt/format.h>

namespace headroom::networks {
namespace {

Part read_part(const Entry &entry, Reading &reading) {
    Fields fields(&entry, entry.place, "part", reading.diagnostics);
    Part part;
    static const std::vector<std::string> kinds{"check_valve", "zone_valve", "balancing_valve",
                                                "flow_limiter", "resistance"};
    const auto kind = fields.required_choice("part", kinds,
                                             "one of `check_valve`, `zone_valve`, "
                                             "`balancing_valve`, `flow_limiter`, `resistance`");
    part.kind = kind ? static_cast<Part::Kind>(*kind) : Part::Kind::Plain;
    const auto name = fields.text("name");
    part.name = name ? name->value : kind ? kinds[static_cast<std::size_t>(*kind)] : "";
    for (char &c : part.name)
        if (c == '_')
            c = ' ';
    static const std::vector<std::string> sides{"flow", "return"};
    part.side = fields.choice("side", sides).value_or(0) == 1 ? Side::Return : Side::Flow;
    if (!kind) {
        // Which keys belong to it is unknown, so that those of any part pass.
        for (const char *key :
             {"kv", "zeta", "loss", "at_flow", "opens", "open", "zone", "kvs", "travel",
              "characteristic", "rangeability", "limit", "without_power"})
            fields.has(key);
        fields.finish();
        return part;
    }
    switch (part.kind) {
    case Part::Kind::Check:
        part.resistance = read_resistance(fields, true);
        part.opens_pa =
            fields.quantity("opens", Dimension::Pressure, limits::pressure).value_or(0.0);
        break;
    case Part::Kind::Zone: {
        part.resistance = read_resistance(fields, true);
        part.open = fields.yes_no("open").value_or(true);
        const auto zone = fields.text("zone");
        part.zone = zone ? zone->value : "";
        static const std::vector<std::string> without_power{"as_it_stands", "shut"};
        part.falls_shut = fields.choice("without_power", without_power).value_or(0) == 1;
        break;
    }
    case Part::Kind::Balancing: {
        part.kvs_m3_h = fields.required_quantity("kvs", Dimension::FlowFactor, limits::kv,
                                                 "the Kv when fully open, such as `kvs: 2.5 m3/h`");
        part.travel = fields.quantity("travel", Dimension::Ratio, {0.0, 1.0}).value_or(1.0);
        static const std::vector<std::string> laws{"linear", "equal_percentage"};
        part.characteristic =
            static_cast<models::Characteristic>(fields.choice("characteristic", laws).value_or(0));
        part.rangeability = fields.number("rangeability", {2.0, 500.0}).value_or(50.0);
        break;
    }
    case Part::Kind::Limiter:
        part.resistance = read_resistance(fields, true);
        part.limit_m3_s = fields.required_quantity("limit", Dimension::VolumeFlow, limits::flow,
                                                   "the most it lets pass, such as `limit: 12 "
                                                   "l/min`");
        break;
    case Part::Kind::Plain:
        part.resistance = read_resistance(fields, true);
        break;
    }
    fields.finish();
    return part;
}

void override_side(Fields &run, std::string_view key, RunSide &side, Reading &reading) {
    const Entry *entry = run.child(key);
    if (entry == nullptr)
        return;
    Fields fields(entry, run.key_place(key), fmt::format("`{}` side of the run", key),
                  reading.diagnostics);
    side.length_m =
        fields.quantity("length", Dimension::Length, limits::length).value_or(side.length_m);
    if (fields.has("fittings"))
        side.fittings = read_fittings(fields, reading);
    side.zeta = fields.number("zeta", {0.0, 1e6}).value_or(side.zeta);
    fields.finish();
}

Run read_run(const Entry &entry, Reading &reading) {
    Fields fields(&entry, entry.place, "run", reading.diagnostics);
    Run run;
    const Text name = fields.required_text("run", "give the run a name, such as `run: primaries`");
    run.name = name.value;
    run.place = name.place;
    const Text from = fields.required_text("from", "where the run starts, such as `from: source`");
    run.from = from.value;
    run.from_place = from.place;
    const Text to = fields.required_text("to", "where the run ends, such as `to: ground manifold`");
    run.to = to.value;
    run.to_place = to.place;
    if (run.from.empty() || run.to.empty())
        reading.places_known = false;
    if (!run.from.empty() && run.from == run.to) {
        reading.places_known = false;
        reading.diagnostics.error("same-ends", run.to_place,
                                  fmt::format("run `{}` ends where it starts", run.name),
                                  "give it two different ends");
    }
    run.one_way = fields.yes_no("one_way").value_or(false);
    run.pipe = read_pipe(fields, reading);
    run.existing = fields.yes_no("existing").value_or(false);
    run.surroundings = read_surroundings(fields, reading);
    run.flow.length_m = fields.required_quantity("length", Dimension::Length, limits::length,
                                                 "the length of one pipe, such as `length: 7 m`");
    run.flow.fittings = read_fittings(fields, reading);
    run.flow.zeta = fields.number("zeta", {0.0, 1e6}).value_or(0.0);
    run.back = run.flow;
    override_side(fields, "flow", run.flow, reading);
    override_side(fields, "return", run.back, reading);
    if (run.one_way && fields.has("return"))
        reading.diagnostics.error("not-used", fields.key_place("return"),
                                  "a one-way run has no return pipe", "remove `return`");
    if (const auto *parts = read_list(fields, "parts", reading.diagnostics))
        for (const auto &part : *parts) {
            run.parts.push_back(read_part(*part, reading));
            if (run.one_way && run.parts.back().side == Side::Return)
                reading.diagnostics.error("not-used", part->find("side")->place,
                                          "a one-way run has no return side",
                                          "remove `side: return`");
        }
    if (const Entry *mixer = fields.child("mixer")) {
        Fields valve(mixer, fields.key_place("mixer"), "mixer", reading.diagnostics);
        Mixer out;
        out.kv_m3_h = valve.required_quantity("kv", Dimension::FlowFactor, limits::kv,
                                              "its Kv, such as `kv: 4 m3/h`");
        valve.exactly_one({"position", "set"},
                          "how far it stands towards the hot port, such as `position: 60 %`, or "
                          "the temperature it holds, such as `set: 40 degC`");
        out.position = valve.quantity("position", Dimension::Ratio, {0.0, 1.0}).value_or(0.5);
        out.set_c = valve.quantity("set", Dimension::Temperature, {15.0, 95.0});
        static const std::vector<std::string> ends{"from", "to"};
        out.at_start = valve.choice("end", ends).value_or(1) == 0;
        out.end_assumed = !valve.has("end");
        valve.finish();
        run.mixer = out;
        if (run.one_way)
            reading.diagnostics.error("not-used", fields.key_place("mixer"),
                                      "a one-way run has no return for a mixer to draw from",
                                      "put the mixer on a flow-and-return run");
    }
    if (const Entry *pump = fields.child("pump")) {
        Fields part(pump, fields.key_place("pump"), fmt::format("pump of run `{}`", run.name),
                    reading.diagnostics);
        if (part.usable())
            run.pump = read_pump(part, reading);
        part.finish();
    }
    run.high_limit = read_high_limit(fields, true, reading);
    if (run.one_way && run.high_limit && run.high_limit->side == Side::Return)
        reading.diagnostics.error("not-used", run.high_limit->place,
                                  "a one-way run has no return pipe for a stat",
                                  "put it on the run that feeds the floor");
    fields.finish();
    return run;
}

} // namespace

void read_runs(Fields &root, Reading &reading) {
    const auto *items = read_list(root, "pipework", reading.diagnostics);
    if (items == nullptr) {
        reading.places_known = false;
        if (!root.has("pipework"))
            root.missing({"pipework"}, "missing-key", "the house has no `pipework`",
                         "list the runs of pipe between source, manifolds and radiators");
        return;
    }
    for (const auto &item : *items)
        reading.house.runs.push_back(read_run(*item, reading));
}

} // namespace headroom::networks
