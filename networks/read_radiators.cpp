// Radiators, fan convectors and towel rails.
#include "networks/read_loops.hpp"

#include <array>
#include <cctype>
#include <charconv>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

// `output: 1150 W`, `rated_at: 75/65/20`, `exponent: 1.3`.
std::optional<models::Radiator> read_rating(Fields &fields, Reading &reading) {
    const auto output = fields.quantity("output", Dimension::Power, limits::emitter_heat);
    const auto at = fields.text("rated_at");
    const auto exponent = fields.number("exponent", {1.0, 1.8});
    if (!output) {
        if (!fields.has("output") && (fields.has("rated_at") || fields.has("exponent")))
            fields.missing({"output"}, "missing-key",
                           fmt::format("{} has a rating but no `output`", fields.what()),
                           "such as `output: 1150 W`");
        return std::nullopt;
    }
    models::Radiator radiator;
    radiator.rated_w = *output;
    radiator.exponent = exponent.value_or(0.0); // by its kind
    if (at) {
        std::array<double, 3> values{};
        const char *next = at->value.data();
        const char *end = next + at->value.size();
        bool good = true;
        for (std::size_t i = 0; i < values.size() && good; ++i) {
            const auto parsed = std::from_chars(next, end, values[i]);
            good = parsed.ec == std::errc{} &&
                   (i + 1 < values.size() ? parsed.ptr != end && *parsed.ptr == '/'
                                          : parsed.ptr == end);
            next = parsed.ptr + (good && i + 1 < values.size() ? 1 : 0);
        }
        if (!good || !(values[0] > values[1] && values[1] > values[2] && values[0] <= 120.0 &&
                       values[2] >= 0.0))
            reading.diagnostics.error("rating", at->place,
                                      fmt::format("`{}` is not a rating", at->value),
                                      "flow, return and room temperature in degC, such as "
                                      "`rated_at: 75/65/20`");
        else
            radiator.rated_flow_c = values[0], radiator.rated_return_c = values[1],
            radiator.rated_room_c = values[2];
    }
    return radiator;
}

// Exponents where the file gives none. Common practice, no source: panels are measured near 1.3,
// ladders of tubes between 1.15 and 1.3; a fan's flow of air does not change with temperature.
double usual_exponent(Emitter::Body body) {
    switch (body) {
    case Emitter::Body::Radiator:
        return 1.3;
    case Emitter::Body::FanConvector:
        return 1.0;
    case Emitter::Body::TowelRail:
        return 1.2;
    }
    return 1.3;
}

// Share of the rated output that a way of connecting leaves: a word or a share.
struct Connection {
    std::string_view word;
    double share;
};
constexpr std::array connections{
    Connection{"same_end", 1.0},      // how EN 442-2 rates it
    Connection{"opposite_ends", 1.0}, // flow at the top, return at the bottom of the other end; at
                                      // least as good: common practice, no source
    Connection{"bottom_ends", 0.95},  // both at the bottom: common practice, no source
};

std::optional<double> read_connection(Fields &fields, Reading &reading) {
    const Entry *entry = fields.child("connection");
    if (entry == nullptr)
        return std::nullopt;
    const bool word = entry->is_scalar() && !entry->scalar.empty() &&
                      std::isalpha(static_cast<unsigned char>(entry->scalar.front())) != 0;
    if (!word)
        return read_quantity(*entry, "connection", Dimension::Ratio, {0.3, 1.3},
                             reading.diagnostics);
    std::vector<std::string> words;
    std::string listed;
    for (const Connection &known : connections) {
        if (entry->scalar == known.word)
            return known.share;
        words.emplace_back(known.word);
        listed += fmt::format("{}`{}`", listed.empty() ? "" : ", ", known.word);
    }
    const std::string near = nearest(entry->scalar, words);
    reading.diagnostics.error(
        "unknown-connection", entry->place, fmt::format("unknown connection `{}`", entry->scalar),
        near.empty() ? fmt::format("known: {}; or the share of its rated output that it leaves, "
                                   "such as `connection: 90 %`",
                                   listed)
                     : fmt::format("did you mean `{}`?", near));
    return std::nullopt;
}

// Share of a fan convector's output that is left: less where its fan stands.
double read_fan(Fields &fields, const Emitter &radiator, Reading &reading) {
    static const std::vector<std::string> fans{"running", "stopped"};
    const bool stopped = fields.choice("fan", fans).value_or(0) == 1;
    const auto share = fields.quantity("stopped_share", Dimension::Ratio, {0.01, 1.0});
    if (radiator.body != Emitter::Body::FanConvector)
        for (const char *key : {"fan", "stopped_share"})
            if (fields.has(key))
                reading.diagnostics.error("not-used", fields.key_place(key),
                                          fmt::format("`{}` belongs to a fan convector", key),
                                          "set `kind: fan_convector` or remove it");
    if (stopped && !fields.has("stopped_share"))
        fields.missing({"stopped_share"}, "missing-key",
                       fmt::format("the fan of `{}` stands, but what it then gives is not said",
                                   radiator.name),
                       "the share of its output that its maker states without the fan, such as "
                       "`stopped_share: 15 %`");
    return stopped ? share.value_or(1.0) : 1.0;
}

// What it is and how it gives its heat.
void read_body(Fields &fields, Emitter &radiator, Reading &reading) {
    static const std::vector<std::string> kinds{"radiator", "fan_convector", "towel_rail"};
    radiator.body = static_cast<Emitter::Body>(fields.choice("kind", kinds).value_or(0));
    auto rating = read_rating(fields, reading);
    const double connection = read_connection(fields, reading).value_or(1.0);
    const double fan = read_fan(fields, radiator, reading);
    if (!rating) {
        for (const char *key : {"connection", "fan"})
            if (fields.has(key) && !fields.has("output"))
                fields.missing(
                    {"output"}, "missing-key",
                    fmt::format("`{}` takes a share of an `output` that is not given", key),
                    "such as `output: 1150 W`");
        return;
    }
    radiator.exponent_assumed = rating->exponent == 0.0;
    if (radiator.exponent_assumed)
        rating->exponent = usual_exponent(radiator.body);
    rating->share = connection * fan;
    radiator.emission = *rating;
}

void read_radiator(const Entry &entry, Reading &reading) {
    Fields fields(&entry, entry.place, "radiator", reading.diagnostics);
    if (!fields.usable()) {
        reading.places_known = false;
        return;
    }
    Emitter radiator;
    radiator.kind = Emitter::Kind::Radiator;
    const Text name =
        fields.required_text("radiator", "give it a name, such as `radiator: landing`");
    radiator.name = name.value;
    radiator.place = name.place;
    const Text from =
        fields.required_text("from", "the place it is fed from, such as `from: upstairs tee`");
    radiator.from = from.value;
    radiator.from_place = from.place;
    if (const auto to = fields.text("to")) {
        radiator.to = to->value;
        radiator.to_place = to->place;
    }
    if (radiator.from.empty() || (fields.has("to") && radiator.to.empty()))
        reading.places_known = false;
    read_duty(fields, radiator, source_drop(reading.house), reading);
    if (fields.has("pipe")) {
        radiator.pipe = read_pipe(fields, reading);
        radiator.length_m = fields.required_quantity(
            "length", Dimension::Length, {0.0, 200.0},
            "the length of one tail; flow and return are doubled, such as `length: 4 m`");
    } else if (fields.has("length")) {
        fields.missing({"pipe"}, "missing-key", "radiator has a `length` of tails but no `pipe`",
                       "such as `pipe: copper 15`, or remove `length`");
    }
    radiator.surroundings = read_surroundings(fields, reading);
    if (radiator.surroundings && !fields.has("pipe"))
        fields.missing({"pipe"}, "missing-key",
                       "radiator has `surroundings` but no `pipe` that loses heat to them",
                       "such as `pipe: copper 15` with the `length` of one tail");
    read_body(fields, radiator, reading);
    radiator.existing = fields.yes_no("existing").value_or(false);
    radiator.valve_kv_m3_h = fields.quantity("valve_kv", Dimension::FlowFactor, limits::kv);
    radiator.lockshield_kv_m3_h =
        fields.quantity("lockshield_kv", Dimension::FlowFactor, limits::kv);
    radiator.body_zeta = fields.number("zeta", {0.0, 1e4});
    radiator.volume_m3 = fields.quantity("volume", Dimension::Volume, limits::water_volume);
    if (const auto kv = fields.quantity("set_kv", Dimension::FlowFactor, limits::kv))
        radiator.balancing = {Balancing::Kind::Kv, *kv};
    if (const Entry *lockshield = fields.child("lockshield"))
        read_lockshield(*lockshield, fields.key_place("lockshield"), radiator, reading);
    if (const auto least = fields.quantity("least_kv", Dimension::FlowFactor, limits::kv))
        radiator.least_kv_m3_h = least;
    if (!fields.yes_no("open").value_or(true))
        radiator.balancing = {Balancing::Kind::Shut, 0.0};
    if (const auto zone = fields.text("zone"))
        radiator.zone = zone->value;
    fields.finish();
    reading.house.emitters.push_back(std::move(radiator));
}

} // namespace

void read_radiators(Fields &root, Reading &reading) {
    if (const auto *items = read_list(root, "radiators", reading.diagnostics))
        for (const auto &item : *items)
            read_radiator(*item, reading);
    else if (root.has("radiators"))
        reading.places_known = false;
}

} // namespace headroom::networks
