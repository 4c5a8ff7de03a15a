#include "solver/questions/fill.hpp"

#include "models/units.hpp"
#include "networks/protection.hpp"
#include "solver/questions/cautions.hpp"
#include "solver/questions/flushing.hpp"
#include "solver/questions/reheat.hpp"
#include "solver/questions/settings.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Dimension;
using networks::Habit;
using networks::House;
using networks::Network;

// Common practice, no source.
constexpr std::array usual_vessels_l{8, 12, 18, 25, 35, 50, 80, 100, 140, 200, 300, 500};
constexpr double reading_pa = 500.0; // a fill is read to 0.01 bar

bool has_glycol(const House &house) {
    return house.fluid.kind == models::FluidKind::PropyleneGlycol ||
           house.fluid.kind == models::FluidKind::EthyleneGlycol;
}

double habit(const House &house, Habit which, FillAnswer &out) {
    const networks::HabitInfo &info = networks::habit_info(which);
    out.assumed.push_back({std::string(info.name),
                           networks::written(house.habits[which], info.dimension),
                           fmt::format("{} to {}", networks::written(info.low, info.dimension),
                                       networks::written(info.high, info.dimension)),
                           std::string(info.remark)});
    return house.habits[which];
}

double given_or_habit(const std::optional<double> &given, const House &house, Habit which,
                      FillAnswer &out) {
    return given ? *given : habit(house, which, out);
}

networks::Fill fill_of(const House &house) {
    return house.fill.value_or(networks::Fill{});
}

void add_volume(const House &house, FillAnswer &out) {
    out.parts = volumes(house);
    out.other_m3 = fill_of(house).other_m3;
    for (const VolumePart &part : out.parts)
        out.system_m3 += part.volume_m3;
    out.system_m3 += out.other_m3.value_or(0.0);
    if (!out.other_m3)
        out.remarks.emplace_back("the water inside the source, a cylinder coil or a buffer that no "
                                 "run holds is not counted; state it as `other_water` in `fill`");
    const bool radiators = std::any_of(
        house.emitters.begin(), house.emitters.end(), [](const networks::Emitter &emitter) {
            return emitter.kind == networks::Emitter::Kind::Radiator && !emitter.volume_m3;
        });
    if (radiators)
        habit(house, Habit::RadiatorVolume, out);
}

// The highest place of the network, and how far it stands above the vessel.
void add_height(const House &house, const SolvedHouse &design, FillAnswer &out) {
    const Network &network = design.network;
    out.levels_given = house.levels_given;
    double highest = -models::no_limit;
    double lowest = models::no_limit;
    for (const networks::Node &node : network.nodes) {
        if (node.elevation_m > highest) {
            highest = node.elevation_m;
            out.high.where = node.name;
        }
        lowest = std::min(lowest, node.elevation_m);
    }
    const double vessel_m = network.fill ? network.nodes[network.fill->node].elevation_m : lowest;
    out.high.above_vessel_m = std::max(0.0, highest - vessel_m);
    if (!house.levels_given)
        out.remarks.emplace_back("no levels are given, so the system counts as flat; give "
                                 "`levels` for the pressure at its high point");
    if (!network.fill)
        out.remarks.emplace_back(
            "no `fill` is given, so the vessel counts as standing at the lowest "
            "place; say where it joins and what pressure is filled");
    if (!network.fill || !design.solution.absolute)
        return;
    double least = models::no_limit;
    for (std::size_t v = 0; v < network.nodes.size(); ++v)
        if (network.nodes[v].elevation_m >= highest - 0.01 && design.solution.pressure_known[v])
            least = std::min(least, design.solution.pressure_pa[v]);
    if (std::isfinite(least))
        out.high.running_pa = least;
}

double static_pa(const House &house, const FillAnswer &out) {
    return models::fluid_state(house.fluid, out.cold_c).density_kg_m3 * models::gravity_m_per_s2 *
           out.high.above_vessel_m;
}

void add_expansion(const House &house, FillAnswer &out) {
    out.cold_c = given_or_habit(house.cold_start_c, house, Habit::ColdStart, out);
    const auto &highest = fill_of(house).highest_c;
    out.hot_c = networks::highest_sent_c(house);
    out.hot_by = house.source->highest_c ? "the source's `highest_temperature`"
                                         : "the highest that such a source sends, assumed";
    if (house.hot_water && house.hot_water->flow_temperature_c > out.hot_c) {
        out.hot_c = house.hot_water->flow_temperature_c;
        out.hot_by = "the flow temperature for hot water";
    }
    if (highest) {
        out.hot_c = *highest;
        out.hot_by = "`highest` in the file";
    } else if (!house.source->highest_c) {
        habit(house, networks::highest_habit(house.source->kind), out);
        out.remarks.emplace_back("what the source sends when its control fails sizes the vessel; "
                                 "state it as `highest_temperature` of the source");
    }
    out.expansion_share =
        std::max(0.0, models::expansion_share(house.fluid, out.cold_c, out.hot_c));
    if (house.fluid.kind == models::FluidKind::Stated)
        out.faults.emplace_back("the liquid's density is stated as one figure, so its growth is "
                                "not known and the vessel below is for the reserve alone");
}

bool suits(double fill_pa, const models::FillRange &range) {
    return fill_pa >= range.least_pa - reading_pa && fill_pa <= range.most_pa + reading_pa;
}

// The least usual size that is enough and, if one does, takes the stated fill pressure.
double usual_vessel_m3(const models::VesselSize &size, const std::optional<double> &fill_pa) {
    std::optional<double> enough;
    for (const int litres : usual_vessels_l) {
        const double vessel_m3 = litres * 1e-3;
        if (vessel_m3 < size.volume_m3)
            continue;
        if (!fill_pa || suits(*fill_pa, models::fill_range(size, vessel_m3)))
            return vessel_m3;
        enough = enough.value_or(vessel_m3);
    }
    return enough.value_or(size.volume_m3);
}

void add_vessel(const House &house, FillAnswer &out) {
    const networks::Fill fill = fill_of(house);
    out.safety_valve_pa = given_or_habit(fill.safety_valve_pa, house, Habit::SafetyValve, out);
    out.size = models::vessel_size(
        {out.system_m3, out.expansion_share, static_pa(house, out), out.safety_valve_pa});
    FillPressure &pressure = out.pressure;
    pressure.vessel_given = fill.vessel_m3.has_value();
    if (house.fill)
        pressure.given_pa = fill.pressure_pa;
    if (!std::isfinite(out.size.volume_m3)) {
        out.faults.push_back(fmt::format(
            "the precharge of {:.2f} bar is not below the final pressure of {:.2f} bar, so no "
            "vessel fits: put it higher up, or take a safety valve that opens later",
            out.size.precharge_pa * 1e-5, out.size.final_pa * 1e-5));
        return;
    }
    pressure.vessel_m3 =
        fill.vessel_m3 ? *fill.vessel_m3 : usual_vessel_m3(out.size, pressure.given_pa);
    if (const double least_m3 = usual_vessel_m3(out.size, std::nullopt);
        !pressure.vessel_given && least_m3 < pressure.vessel_m3) {
        pressure.smaller_m3 = least_m3;
        pressure.smaller_range = models::fill_range(out.size, least_m3);
    }
    pressure.vessel_enough = pressure.vessel_m3 >= out.size.volume_m3;
    if (!pressure.vessel_enough)
        out.faults.push_back(fmt::format("the vessel of {:.3g} l is too small; it takes {:.1f} l",
                                         pressure.vessel_m3 * 1e3, out.size.volume_m3 * 1e3));
    if (pressure.vessel_m3 > out.size.reserve_m3)
        pressure.range = models::fill_range(out.size, pressure.vessel_m3);
    if (!pressure.given_pa || !pressure.vessel_enough)
        return;
    pressure.hot_pa =
        models::pressure_when_hot_pa(out.size, pressure.vessel_m3, *pressure.given_pa);
    if (*pressure.given_pa < pressure.range.least_pa - reading_pa)
        out.faults.push_back(fmt::format("a fill pressure of {:.2f} bar leaves too little water in "
                                         "the vessel; at least {:.2f} bar",
                                         *pressure.given_pa * 1e-5,
                                         pressure.range.least_pa * 1e-5));
    if (*pressure.given_pa > pressure.range.most_pa + reading_pa)
        out.faults.push_back(fmt::format("a fill pressure of {:.2f} bar is too much: hot, the "
                                         "vessel passes {:.2f} bar; at most {:.2f} bar cold",
                                         *pressure.given_pa * 1e-5, out.size.final_pa * 1e-5,
                                         pressure.range.most_pa * 1e-5));
}

void add_high_point(const House &house, FillAnswer &out) {
    HighPoint &high = out.high;
    high.wanted_pa = habit(house, Habit::HighPointPressure, out);
    if (!house.fill)
        return;
    high.still_pa = house.fill->pressure_pa - static_pa(house, out);
    const double least = std::min(*high.still_pa, high.running_pa.value_or(*high.still_pa));
    if (least < high.wanted_pa)
        out.faults.push_back(fmt::format("{:.2f} bar at the high point `{}` draws air in; fill to "
                                         "{:.2f} bar more",
                                         least * 1e-5, high.where,
                                         (high.wanted_pa - least) * 1e-5));
}

void add_open_volume(const House &house, FillAnswer &out) {
    OpenVolume &open = out.open;
    open.always_m3 = open_volume_m3(house, {});
    const WantedVolume wanted = wanted_volume(house);
    open.wanted_low_m3 = wanted.low_m3;
    open.wanted_high_m3 = wanted.high_m3;
    open.wanted_by = wanted.by;
    if (open.wanted_low_m3 && open.always_m3 < *open.wanted_low_m3)
        out.faults.push_back(fmt::format("{:.0f} l circulate with every zone shut, where {:.0f} l "
                                         "are wanted ({}): leave loops open, or add {:.0f} l in a "
                                         "volumiser",
                                         open.always_m3 * 1e3, *open.wanted_low_m3 * 1e3,
                                         open.wanted_by,
                                         (*open.wanted_low_m3 - open.always_m3) * 1e3));
}

void add_additives(const House &house, FillAnswer &out) {
    const auto &stated = fill_of(house).inhibitor_share;
    if (has_glycol(house)) {
        out.glycol_volume_share =
            models::glycol_volume_share(house.fluid.kind, house.fluid.glycol_mass_share);
        out.glycol_m3 = *out.glycol_volume_share * out.system_m3;
        if (!stated)
            return; // ready-mixed glycol brings its own
    }
    out.inhibitor_share = given_or_habit(stated, house, Habit::InhibitorShare, out);
    out.inhibitor_m3 = *out.inhibitor_share * out.system_m3;
}

} // namespace

std::string why_not_filled(const House &house) {
    if (!house.source)
        return "the file has no `source`, so there is no closed heating system to fill";
    if (!house.held.empty() || !house.vessels.empty())
        return "the network's pressure is held at its `ends`, so it is not a closed system";
    return {};
}

FillAnswer fill(const House &given) {
    const House house = size(given).house;
    FillAnswer out;
    out.house = house.name;
    out.form = house.text_form;
    out.fluid = models::fluid_name(house.fluid);
    const SolvedHouse design = solved(with_ideal_balancing(house));
    out.outcome = design.solution.outcome;
    if (!out.outcome.converged())
        return out;
    add_volume(house, out);
    add_height(house, design, out);
    add_expansion(house, out);
    add_vessel(house, out);
    add_high_point(house, out);
    add_open_volume(house, out);
    add_additives(house, out);
    out.flush_m_s = given_or_habit(fill_of(house).flush_m_s, house, Habit::FlushVelocity, out);
    out.flushing = flush_rows(house, design, out.flush_m_s);
    out.cautions = cautions(house);
    return out;
}

} // namespace headroom::solver
