// Lockshields by their makers' tables, and the scales of flow meters.
#include "networks/read_parts.hpp"

#include <utility>

namespace headroom::networks {

void read_lockshield(const Entry &entry, Place place, Emitter &radiator, Reading &reading) {
    Fields fields(&entry, place, "lockshield", reading.diagnostics);
    std::vector<std::pair<double, double>> table;
    if (const auto *rows = read_list(fields, "table", reading.diagnostics))
        for (const auto &row : *rows) {
            std::optional<double> turns, kv;
            if (row->is_list() && row->items.size() == 2) {
                turns = read_number(*row->items[0], "turns", {0.0, 50.0}, reading.diagnostics);
                kv = read_quantity(*row->items[1], "kv", Dimension::FlowFactor, limits::kv,
                                   reading.diagnostics);
            } else {
                reading.diagnostics.error("lockshield-row", row->place,
                                          "a row of a lockshield's table is `[turns, Kv]`",
                                          "such as `[1.5, 0.32 m3/h]`");
            }
            if (!turns || !kv)
                continue;
            if (!table.empty() && (*turns <= table.back().first || *kv <= table.back().second))
                reading.diagnostics.error("lockshield-row", row->place,
                                          "turns and Kv must both rise from row to row",
                                          "sort the table and remove repeats");
            table.emplace_back(*turns, *kv);
        }
    else if (!fields.has("table") && fields.usable())
        reading.diagnostics.error("missing-key", place, "lockshield has no `table`",
                                  "such as `table: [[0.5, 0.12 m3/h], [3, 0.8 m3/h]]`");
    const auto turns = fields.number("turns", {0.0, 50.0});
    fields.finish();
    if (table.empty())
        return;
    radiator.lockshield_kv_m3_h = table.back().second;
    radiator.least_kv_m3_h = table.front().second;
    if (turns)
        radiator.balancing = {Balancing::Kind::Kv, models::kv_at_turns(table, *turns)};
    radiator.lockshield_table = std::move(table);
}

std::optional<MeterRange> read_meter(Fields &fields, Reading &reading) {
    const Entry *entry = fields.child("meter");
    if (entry == nullptr)
        return std::nullopt;
    Fields meter(entry, fields.key_place("meter"), "meter", reading.diagnostics);
    const char *help = "the ends of its scale, such as `meter: {from: 0.5 l/min, to: 5 l/min}`";
    const double from =
        meter.required_quantity("from", Dimension::VolumeFlow, {0.0, limits::flow.most}, help);
    const double to = meter.required_quantity("to", Dimension::VolumeFlow, limits::flow, help);
    meter.finish();
    if (from >= to)
        reading.diagnostics.error("meter-range", fields.key_place("meter"),
                                  "the meter's scale ends before it begins", help);
    return MeterRange{from, to};
}

} // namespace headroom::networks
