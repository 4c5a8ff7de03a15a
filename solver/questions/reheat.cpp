#include "solver/questions/reheat.hpp"

#include "models/units.hpp"
#include "solver/questions/source_heat.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using models::CoilInStore;
using networks::House;

constexpr int steps = 120;
constexpr int steps_a_row = 20;

ReheatRow row_at(const House &house, const CoilInStore &coil, double store_c,
                 std::optional<double> output_w) {
    // Output and flow temperature depend on each other, weakly: a kelvin more costs a heat pump a
    // percent of output or so, and that is a tenth of a kelvin less.
    constexpr int rounds = 12;
    ReheatRow row{};
    row.store_c = store_c;
    row.sent_c = coil.allowed_c;
    SourceAt source{};
    for (int i = 0; i < rounds; ++i) {
        source = source_at(house, row.sent_c);
        row.source_w = source.greatest_w;
        const double asked = std::min(row.source_w, output_w.value_or(row.source_w));
        row.heat_w = models::coil_heat_w(coil, store_c, asked);
        row.sent_c = models::coil_sent_c(coil, store_c, row.heat_w);
        row.held = row.heat_w < asked;
    }
    row.back_c = row.sent_c - row.heat_w / coil.capacity_rate_w_k;
    row.cycles = row.heat_w < source.least_w;
    row.within_rating = source.within_rating;
    if (const auto heat = source_heat(house, row.sent_c, row.back_c, row.heat_w))
        row.efficiency = heat->efficiency;
    return row;
}

} // namespace

SourceAt source_at(const House &house, double flow_c) {
    if (const auto *pump = std::get_if<models::HeatPump>(&house.source->heat)) {
        const models::HeatPumpState state =
            models::heat_pump_state(*pump, *house.outdoor_c, flow_c);
        return {state.output_w, state.least_output_w, models::within_rating(state)};
    }
    const auto &boiler = std::get<models::Boiler>(house.source->heat);
    return {boiler.greatest_w, boiler.least_w, true};
}

Reheat reheat(const House &house, const CoilInStore &coil, double from_c, double to_c,
              std::optional<double> output_w) {
    Reheat out{};
    out.from_c = from_c;
    out.to_c = to_c;
    out.output_w = output_w;
    const double step_k = (to_c - from_c) / steps;
    const auto show = [&](double store_c) {
        ReheatRow row = row_at(house, coil, store_c, output_w);
        row.at_s = out.time_s;
        out.rows.push_back(row);
    };
    for (int i = 0; i < steps; ++i) {
        const double start_c = from_c + i * step_k;
        if (i % steps_a_row == 0)
            show(start_c);
        const ReheatRow middle = row_at(house, coil, start_c + 0.5 * step_k, output_w);
        const double asked = std::min(middle.source_w, output_w.value_or(middle.source_w));
        out.time_s += models::heating_time_s(coil, start_c, start_c + step_k, asked);
        const double heat_kwh = coil.store_j_k * step_k / models::j_per_kwh;
        out.heat_kwh += heat_kwh;
        out.input_kwh += heat_kwh / middle.efficiency;
        if (middle.held && !out.held_from_c)
            out.held_from_c = start_c;
        if (middle.cycles && !out.cycles_from_c)
            out.cycles_from_c = start_c;
    }
    show(to_c);
    return out;
}

} // namespace headroom::solver
