#include "networks/read_parts.hpp"

#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr Range output{100.0, 1e6};

// `[outdoor, flow temperature, output, COP]` a row.
void read_points(const Entry &entry, models::HeatPump &pump, Reading &reading, bool &good) {
    std::vector<models::RatedPoint> points;
    if (!entry.is_list() || entry.items.empty()) {
        reading.diagnostics.error(
            "performance", entry.place, "`performance` is a list of rated points",
            "such as `[[-7 degC, 35 degC, 5.2 kW, 2.9], [7 degC, 35 degC, 6.4 "
            "kW, 4.6]]`: outdoor, flow temperature, output, COP");
        return;
    }
    good = true;
    for (const auto &row : entry.items) {
        if (!row->is_list() || row->items.size() != 4) {
            reading.diagnostics.error("performance", row->place,
                                      "a rated point is `[outdoor, flow temperature, output, COP]`",
                                      "such as `[-7 degC, 35 degC, 5.2 kW, 2.9]`");
            good = false;
            continue;
        }
        Diagnostics &faults = reading.diagnostics;
        const auto outdoor =
            read_quantity(*row->items[0], "outdoor", Dimension::Temperature, {-40.0, 45.0}, faults);
        const auto flow = read_quantity(*row->items[1], "flow temperature", Dimension::Temperature,
                                        {15.0, 90.0}, faults);
        const auto heat = read_quantity(*row->items[2], "output", Dimension::Power, output, faults);
        const auto cop = read_number(*row->items[3], "COP", {0.5, 15.0}, faults);
        if (!outdoor || !flow || !heat || !cop) {
            good = false;
            continue;
        }
        points.push_back({*outdoor, *flow, *heat, *cop});
        if (models::unusable_point(points) == points.size() - 1) {
            reading.diagnostics.error("performance", row->place,
                                      "this rated point repeats the temperatures of another",
                                      "keep one of them");
            good = false;
        }
    }
    if (good)
        pump.rating = models::make_rated_table(std::move(points));
}

void read_carnot(const Entry &entry, Place place, models::HeatPump &pump, Reading &reading) {
    Fields fields(&entry, place, "carnot", reading.diagnostics);
    models::CarnotRating rating{};
    rating.output_w =
        fields.required_quantity("output", Dimension::Power, output, "such as `output: 7 kW`");
    rating.fraction = fields.required_quantity("fraction", Dimension::Ratio, {0.05, 0.9},
                                               "share of the Carnot COP, such as `fraction: 42 %`");
    fields.finish();
    pump.rating = rating;
}

void read_heat_pump(Fields &fields, Source &source, Reading &reading) {
    models::HeatPump pump;
    bool described = false;
    if (const Entry *points = fields.child("performance"))
        read_points(*points, pump, reading, described);
    if (const Entry *carnot = fields.child("carnot")) {
        if (fields.has("performance"))
            reading.diagnostics.error("one-too-many", fields.key_place("carnot"),
                                      "source takes only one of `performance`, `carnot`",
                                      "rated points, or a share of Carnot");
        read_carnot(*carnot, fields.key_place("carnot"), pump, reading);
        described = true;
    }
    pump.least_output_share =
        fields.quantity("least_share", Dimension::Ratio, {0.0, 1.0}).value_or(0.0);
    if (const Entry *defrost = fields.child("defrost")) {
        Fields part(defrost, fields.key_place("defrost"), "defrost", reading.diagnostics);
        pump.defrost.below_c = part.required_quantity("below", Dimension::Temperature,
                                                      {-10.0, 15.0}, "such as `below: 5 degC`");
        pump.defrost.output_share_lost = part.required_quantity(
            "lost", Dimension::Ratio, {0.0, 0.5}, "share of output, such as `lost: 8 %`");
        part.finish();
    }
    if (described)
        source.heat = std::move(pump);
}

void read_boiler(Fields &fields, Source &source, Reading &reading) {
    const auto greatest = fields.quantity("greatest_output", Dimension::Power, output);
    const auto least = fields.quantity("least_output", Dimension::Power, {0.0, 1e6});
    const auto condensing = fields.yes_no("condensing");
    source.least_return_c = fields.quantity("least_return", Dimension::Temperature, {20.0, 80.0});
    if (fields.has("least_return") && condensing.value_or(true))
        reading.diagnostics.error("not-used", fields.key_place("least_return"),
                                  "`least_return` is for a boiler that is not made for condensate",
                                  "remove it, or say `condensing: no`");
    if (!greatest) {
        if (!fields.has("greatest_output") &&
            (fields.has("least_output") || fields.has("condensing")))
            fields.missing({"greatest_output"}, "missing-key",
                           "the boiler is described but has no `greatest_output`",
                           "such as `greatest_output: 18 kW`");
        return;
    }
    if (least && *least > *greatest)
        reading.diagnostics.error("out-of-range", fields.child("least_output")->place,
                                  "`least_output` is above `greatest_output`", "swap them");
    models::Boiler boiler{};
    boiler.greatest_w = *greatest;
    boiler.least_w = least.value_or(0.0);
    boiler.condensing = condensing.value_or(true);
    if (!boiler.condensing)
        boiler.approach_k = 60.0; // a flue well above its dew point
    source.heat = boiler;
}

} // namespace

void read_heat(Fields &fields, Source &source, Reading &reading) {
    if (source.kind == Source::Kind::HeatPump)
        read_heat_pump(fields, source, reading);
    else if (source.kind == Source::Kind::Boiler)
        read_boiler(fields, source, reading);
}

} // namespace headroom::networks
