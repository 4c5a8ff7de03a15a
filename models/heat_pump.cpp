#include "models/heat_pump.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace headroom::models {
namespace {

// Of two neighbours at a and b, the share of the second at `at`.
double share_between(double a, double b, double at) {
    return (at - a) / (b - a);
}

// Index of the last entry at or below `at`, but never the last of several.
template <typename Entries, typename Key>
std::size_t lower_neighbour(const Entries &entries, double at, const Key &key) {
    std::size_t lower = 0;
    while (lower + 2 < entries.size() && key(entries[lower + 1]) <= at)
        ++lower;
    return lower;
}

struct Performance {
    double output_w;
    double cop;
    RangeStatus source;
};

Performance between(const Performance &a, const Performance &b, double share) {
    return {std::lerp(a.output_w, b.output_w, share), std::lerp(a.cop, b.cop, share),
            a.source == RangeStatus::Inside ? b.source : a.source};
}

Performance on_line(const RatedTable::Line &line, double source_c) {
    const std::vector<RatedPoint> &points = line.points;
    const HeldValue source = held_within(source_c, points.front().source_c, points.back().source_c);
    const std::size_t i =
        lower_neighbour(points, source.value, [](const RatedPoint &p) { return p.source_c; });
    const RatedPoint &a = points[i];
    if (points.size() == 1)
        return {a.output_w, a.cop, source.status};
    const RatedPoint &b = points[i + 1];
    const double share = share_between(a.source_c, b.source_c, source.value);
    return {std::lerp(a.output_w, b.output_w, share), std::lerp(a.cop, b.cop, share),
            source.status};
}

HeatPumpState rated_state(const RatedTable &table, double source_c, double flow_c) {
    const std::vector<RatedTable::Line> &lines = table.lines;
    const HeldValue flow = held_within(flow_c, lines.front().flow_c, lines.back().flow_c);
    const std::size_t i = lower_neighbour(lines, flow.value,
                                          [](const RatedTable::Line &line) { return line.flow_c; });
    Performance at = on_line(lines[i], source_c);
    if (lines.size() > 1) {
        const double share = share_between(lines[i].flow_c, lines[i + 1].flow_c, flow.value);
        // On a line, its neighbour has no say, in the value or in the status.
        if (share == 1.0)
            at = on_line(lines[i + 1], source_c);
        else if (share != 0.0)
            at = between(at, on_line(lines[i + 1], source_c), share);
    }
    HeatPumpState state{};
    state.output_w = at.output_w;
    state.cop = at.cop;
    state.source = at.source;
    state.flow = flow.status;
    state.lift = RangeStatus::Inside;
    return state;
}

HeatPumpState rated_state(const CarnotRating &rating, double source_c, double flow_c) {
    const HeldValue source = held_within(source_c, rating.lowest_source_c, rating.highest_source_c);
    const HeldValue flow = held_within(flow_c, rating.lowest_flow_c, rating.highest_flow_c);
    const double least_flow_c = source.value + rating.least_lift_k;
    const bool small_lift = flow.value < least_flow_c;
    HeatPumpState state{};
    state.output_w = rating.output_w;
    state.cop = rating.fraction * carnot_cop(source.value, std::max(flow.value, least_flow_c));
    state.source = source.status;
    state.flow = flow.status;
    state.lift = small_lift ? RangeStatus::Below : RangeStatus::Inside;
    return state;
}

bool usable(const RatedPoint &p) {
    return std::isfinite(p.source_c) && std::isfinite(p.flow_c) && std::isfinite(p.output_w) &&
           std::isfinite(p.cop) && p.output_w > 0.0 && p.cop > 0.0;
}

} // namespace

std::optional<std::size_t> unusable_point(const std::vector<RatedPoint> &points) {
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (!usable(points[i]))
            return i;
        for (std::size_t j = 0; j < i; ++j)
            if (points[j].source_c == points[i].source_c && points[j].flow_c == points[i].flow_c)
                return i;
    }
    return std::nullopt;
}

RatedTable make_rated_table(std::vector<RatedPoint> points) {
    assert(!points.empty() && !unusable_point(points));
    std::sort(points.begin(), points.end(), [](const RatedPoint &a, const RatedPoint &b) {
        return std::pair{a.flow_c, a.source_c} < std::pair{b.flow_c, b.source_c};
    });
    RatedTable table;
    for (const RatedPoint &point : points) {
        if (table.lines.empty() || table.lines.back().flow_c != point.flow_c)
            table.lines.push_back({point.flow_c, {}});
        table.lines.back().points.push_back(point);
    }
    return table;
}

bool within_rating(const HeatPumpState &state) {
    return state.source == RangeStatus::Inside && state.flow == RangeStatus::Inside &&
           state.lift == RangeStatus::Inside;
}

double carnot_cop(double source_c, double flow_c) {
    return (flow_c + 273.15) / (flow_c - source_c);
}

HeatPumpState heat_pump_state(const HeatPump &heat_pump, double source_c, double flow_c) {
    HeatPumpState state =
        std::visit([&](const auto &rating) { return rated_state(rating, source_c, flow_c); },
                   heat_pump.rating);
    const Defrost &defrost = heat_pump.defrost;
    state.electrical_w = state.output_w / state.cop;
    state.defrosting = source_c < defrost.below_c && defrost.output_share_lost > 0.0;
    if (state.defrosting) {
        state.output_w *= 1.0 - defrost.output_share_lost;
        state.cop *= 1.0 - defrost.output_share_lost;
    }
    state.least_output_w = heat_pump.least_output_share * state.output_w;
    return state;
}

HeatPumpLoad heat_pump_load(const HeatPump &heat_pump, const HeatPumpState &state, double heat_w) {
    HeatPumpLoad load{};
    load.load = LoadStatus::Off;
    if (heat_w <= 0.0)
        return load;
    load.load = LoadStatus::Modulates;
    load.cop = state.cop;
    load.output_w = heat_w;
    if (heat_w < state.least_output_w) {
        const double share = heat_w / state.least_output_w;
        const double c = heat_pump.cycling_coefficient;
        load.load = LoadStatus::Cycles;
        load.cop = state.cop * share / (c * share + 1.0 - c);
    } else if (heat_w > state.output_w) {
        load.load = LoadStatus::FallsShort;
        load.output_w = state.output_w;
        load.short_w = heat_w - state.output_w;
    }
    load.electrical_w = load.output_w / load.cop;
    return load;
}

} // namespace headroom::models
