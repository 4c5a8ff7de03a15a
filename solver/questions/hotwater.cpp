#include "solver/questions/hotwater.hpp"

#include "models/units.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/circuit.hpp"
#include "solver/questions/judge.hpp"
#include "solver/questions/reheat.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/source_heat.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using models::CoilInStore;
using networks::Cylinder;
using networks::House;

constexpr double least_flow_kg_s = 1e-6; // less is none: a shut valve's leakage in the equations

double heat_capacity_in_coil(const House &house) {
    const networks::HotWater &hot = *house.hot_water;
    return models::fluid_state(house.fluid, hot.flow_temperature_c - 0.5 * hot.drop_k)
        .heat_capacity_j_kg_k;
}

// Heat capacity of a volume of tap water that is warmed from one temperature to another.
double water_j_k(double volume_m3, double from_c, double to_c) {
    const models::FluidState water = models::fluid_state({}, 0.5 * (from_c + to_c));
    return volume_m3 * water.density_kg_m3 * water.heat_capacity_j_kg_k;
}

// The mass flow through the coil; 0 where none can be had or found.
double add_state(const House &house, HotWaterAnswer &out) {
    const House ideal = with_ideal_balancing(single_circulator(size(house).house));
    const Judgement judged = judge_hot_water(ideal);
    out.outcome = judged.outcome;
    if (!out.outcome.converged())
        return 0.0;
    CoilState &state = out.state;
    const EmitterFlow &coil = judged.emitters.front();
    const double flow_kg_s = std::clamp(coil.flow_kg_s, 0.0, coil.design_kg_s);
    state.wanted_m3_s = house.hot_water->flow_m3_s;
    state.flow_m3_s = state.wanted_m3_s * flow_kg_s / coil.design_kg_s;
    state.driven = judged.all_driven;
    state.can_be_driven = judged.needed.has_value();
    state.least_flow_m3_s = house.source->least_flow_m3_s;
    if (judged.needed) {
        state.needed_pa = judged.needed->pressure_pa;
        state.available_pa = judged.available_pa;
        state.headroom_pa = judged.headroom_pa;
        state.circuit = circuit_steps(ideal, judged.needed->network, judged.needed->solution,
                                      *judged.needed->network.coil);
    }
    return flow_kg_s;
}

void add_coil(const House &house, const CoilInStore &coil, HotWaterAnswer &out) {
    out.ua_w_k = coil.conductance_w_k;
    out.coil_area_m2 = house.hot_water->cylinder.coil_area_m2;
    out.effectiveness = models::coil_effectiveness(coil.conductance_w_k, coil.capacity_rate_w_k);
    out.passes_w = models::coil_pass_w_k(coil) * (coil.allowed_c - out.store_to_c);
    const SourceAt source = source_at(house, coil.allowed_c);
    out.greatest_w = source.greatest_w;
    out.least_w = source.least_w;
    out.coil_too_small = out.passes_w < source.least_w;
    out.set_w = std::clamp(out.passes_w, source.least_w, source.greatest_w);
    out.reached_c = models::held_from_c(coil, source.least_w);
}

void add_reheats(const House &house, const CoilInStore &coil, HotWaterAnswer &out) {
    const Cylinder &cylinder = house.hot_water->cylinder;
    std::vector<double> starts{out.cold_c};
    if (cylinder.reheat_from_c)
        starts.push_back(*cylinder.reheat_from_c);
    else
        out.unknown.emplace_back("the usual reheat, for want of `reheat_from`, the store's "
                                 "temperature at which it is called for");
    for (double from_c : starts) {
        out.reheats.push_back(reheat(house, coil, from_c, out.store_to_c, std::nullopt));
        if (out.set_w < out.greatest_w && !out.coil_too_small)
            out.reheats.push_back(reheat(house, coil, from_c, out.store_to_c, out.set_w));
    }
}

const Reheat *full_output_from(const HotWaterAnswer &out, double from_c) {
    for (const Reheat &row : out.reheats)
        if (!row.output_w && row.from_c == from_c)
            return &row;
    return nullptr;
}

// UA that passes an output with the store at its end, or nothing where no coil can.
std::optional<double> ua_for(double output_w, double capacity_rate_w_k, double over_k) {
    const double effectiveness = output_w / (capacity_rate_w_k * over_k);
    if (over_k <= 0.0 || effectiveness >= 1.0)
        return std::nullopt;
    return models::coil_conductance_w_k(effectiveness, capacity_rate_w_k);
}

void add_coils(const House &house, const CoilInStore &coil, HotWaterAnswer &out) {
    constexpr double step_k = 2.5;
    constexpr int rows = 8;
    const auto &u_value = house.hot_water->cylinder.coil_u_w_m2_k;
    const auto area = [&](const std::optional<double> &ua) {
        return ua && u_value ? std::optional(*ua / *u_value) : std::nullopt;
    };
    for (int i = 1; i <= rows; ++i) {
        CoilRow row{};
        row.flow_c = out.store_to_c + i * step_k;
        const SourceAt source = source_at(house, row.flow_c);
        row.greatest_w = source.greatest_w;
        row.least_w = source.least_w;
        row.within_rating = source.within_rating;
        if (!row.within_rating && !out.coils.empty() && out.coils.back().within_rating)
            break; // warmer than its figures go
        const double back_c = row.flow_c - row.greatest_w / coil.capacity_rate_w_k;
        if (const auto heat = source_heat(house, row.flow_c, back_c, row.greatest_w))
            row.efficiency = heat->efficiency;
        const double over_k = row.flow_c - out.store_to_c;
        row.ua_greatest_w_k = ua_for(row.greatest_w, coil.capacity_rate_w_k, over_k);
        if (row.least_w > 0.0)
            row.ua_least_w_k = ua_for(row.least_w, coil.capacity_rate_w_k, over_k);
        row.area_greatest_m2 = area(row.ua_greatest_w_k);
        row.area_least_m2 = area(row.ua_least_w_k);
        out.coils.push_back(row);
    }
}

void add_rooms(const House &house, HotWaterAnswer &out) {
    const auto &usual_c = house.hot_water->cylinder.reheat_from_c;
    const Reheat *usual = usual_c ? full_output_from(out, *usual_c) : nullptr;
    const double cold_s = out.reheats.front().time_s;
    bool all_known = true;
    for (const networks::Room &room : house.rooms) {
        RoomCooling row{room.name, room.time_constant_h, std::nullopt, std::nullopt};
        if (room.time_constant_h && house.outdoor_c) {
            // Free cooling towards the outside, no gains.
            const auto falls = [&](double time_s) {
                return -(room.indoor_c - *house.outdoor_c) *
                       std::expm1(-time_s / models::seconds_per_hour / *room.time_constant_h);
            };
            row.falls_k = falls(cold_s);
            if (usual != nullptr)
                row.falls_usual_k = falls(usual->time_s);
        }
        all_known = all_known && row.falls_k;
        out.rooms.push_back(std::move(row));
    }
    if (!all_known)
        out.unknown.emplace_back(house.outdoor_c
                                     ? "how far some rooms cool meanwhile, for want of their "
                                       "`time_constant`"
                                     : "how far rooms cool meanwhile, for want of an outdoor "
                                       "temperature");
}

void add_day(const House &house, HotWaterAnswer &out) {
    const Cylinder &cylinder = house.hot_water->cylinder;
    if (!cylinder.draw) {
        out.unknown.emplace_back("a usual day, for want of `draw`");
        return;
    }
    const networks::Draw &draw = *cylinder.draw;
    UsualDay day{};
    day.draw_m3 = draw.volume_m3;
    day.draw_c = draw.at_c;
    day.heat_kwh = water_j_k(draw.volume_m3, out.cold_c, draw.at_c) * (draw.at_c - out.cold_c) /
                   models::j_per_kwh;
    if (draw.at_c < out.store_to_c) {
        out.at_tap_c = draw.at_c;
        out.at_tap_m3 = out.store_m3 * (out.store_to_c - out.cold_c) / (draw.at_c - out.cold_c);
    }
    if (cylinder.reheat_from_c)
        if (const Reheat *usual = full_output_from(out, *cylinder.reheat_from_c)) {
            day.reheats = day.heat_kwh / usual->heat_kwh;
            day.time_s = *day.reheats * usual->time_s;
            day.input_kwh = *day.reheats * usual->input_kwh;
        }
    out.day = day;
}

void add_pasteurising(const House &house, const CoilInStore &coil, HotWaterAnswer &out) {
    const Cylinder &cylinder = house.hot_water->cylinder;
    if (!cylinder.pasteurising) {
        out.unknown.emplace_back("the pasteurising cycle, for want of `pasteurise`");
        return;
    }
    const networks::Pasteurising &cycle = *cylinder.pasteurising;
    PasteurisingAnswer row{};
    row.from_c = out.store_to_c;
    row.to_c = cycle.to_c;
    row.every_h = cycle.every_h;
    row.source_to_c = cycle.source_to_c.value_or(out.store_to_c);
    if (row.source_to_c > row.from_c) {
        const Reheat source = reheat(house, coil, row.from_c, row.source_to_c, std::nullopt);
        row.source_kwh = source.heat_kwh;
        row.source_s = source.time_s;
        row.source_input_kwh = source.input_kwh;
    }
    const double direct_j = coil.store_j_k * (row.to_c - row.source_to_c);
    row.direct_kwh = direct_j / models::j_per_kwh;
    if (cylinder.immersion_w)
        row.direct_s = direct_j / *cylinder.immersion_w;
    else if (direct_j > 0.0)
        out.unknown.emplace_back("the time of its electric part, for want of `immersion`");
    const double cycles_a_year = 365.0 * 24.0 / cycle.every_h;
    row.year_heat_kwh = cycles_a_year * (row.source_kwh + row.direct_kwh);
    row.year_input_kwh = cycles_a_year * (row.source_input_kwh + row.direct_kwh);
    out.pasteurising = row;
}

} // namespace

std::vector<std::string> missing_for_hot_water(const House &house) {
    if (!house.source)
        return {"`source`"};
    if (!house.hot_water)
        return {"`hot_water`"};
    std::vector<std::string> out;
    const Cylinder &cylinder = house.hot_water->cylinder;
    const auto want = [&](bool there, const char *key) {
        if (!there)
            out.emplace_back(key);
    };
    want(cylinder.volume_m3.has_value(), "`store` in `hot_water`");
    want(cylinder.cold_c.has_value(), "`cold` in `hot_water`");
    want(cylinder.store_to_c.has_value(), "`store_to` in `hot_water`");
    want(cylinder.coil_ua_w_k.has_value(), "`ua`, or `area` and `conductance`, in its `coil`");
    const bool boiler = house.source->kind == networks::Source::Kind::Boiler;
    want(!std::holds_alternative<std::monostate>(house.source->heat),
         boiler ? "`greatest_output` in `source`" : "`performance` or `carnot` in `source`");
    want(boiler || house.outdoor_c.has_value(), "`outdoor` in `design_day`");
    return out;
}

HotWaterAnswer hot_water(const House &house) {
    const networks::HotWater &hot = *house.hot_water;
    const Cylinder &cylinder = hot.cylinder;
    HotWaterAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.fluid = models::fluid_name(house.fluid);
    out.heat_pump = house.source->kind == networks::Source::Kind::HeatPump;
    out.outdoor_c = house.outdoor_c;
    out.store_m3 = *cylinder.volume_m3;
    out.cold_c = *cylinder.cold_c;
    out.store_to_c = *cylinder.store_to_c;
    out.allowed_c = hot.flow_temperature_c;
    out.cautions = cautions(house);
    const double flow_kg_s = add_state(house, out);
    if (flow_kg_s < least_flow_kg_s)
        return out;
    const CoilInStore coil{water_j_k(out.store_m3, out.cold_c, out.store_to_c),
                           *cylinder.coil_ua_w_k, flow_kg_s * heat_capacity_in_coil(house),
                           out.allowed_c};
    out.store_kwh = coil.store_j_k * (out.store_to_c - out.cold_c) / models::j_per_kwh;
    add_coil(house, coil, out);
    add_reheats(house, coil, out);
    add_coils(house, coil, out);
    add_rooms(house, out);
    add_day(house, out);
    add_pasteurising(house, coil, out);
    return out;
}

} // namespace headroom::solver
