#include "solver/questions/season.hpp"

#include "solver/questions/volume.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

std::string climate_words(const networks::Year &year) {
    if (!year.hours.empty())
        return "hours of the file";
    switch (year.climate.value_or(models::ClimateKind::Average)) {
    case models::ClimateKind::Warmer:
        return "warmer climate of EN 14825";
    case models::ClimateKind::Colder:
        return "colder climate of EN 14825";
    case models::ClimateKind::Average:
        break;
    }
    return "average climate of EN 14825";
}

std::string room_of(const HeatingHouse &house, const CurveEmitter &emitter) {
    const networks::Emitter &of = house.house.emitters[emitter.emitter];
    return of.room.empty() ? of.name : of.room;
}

void add_names(const HeatingHouse &house, SeasonAnswer &out) {
    for (const HeatingCircuit &circuit : house.circuits) {
        out.circuits.push_back(
            {circuit.name, circuit.mixer_run.has_value(), circuit.design_c, circuit.highest_c});
        for (const CurveEmitter &emitter : circuit.emitters)
            if (const std::string room = room_of(house, emitter);
                std::find(out.rooms.begin(), out.rooms.end(), room) == out.rooms.end())
                out.rooms.push_back(room);
    }
}

CurvePoint curve_point(const HeatingHouse &house, const SeasonAnswer &names,
                       const WeatherState &state) {
    CurvePoint point{state.outdoor_c, state.source_c, state.return_c, {}, {}, {}};
    point.room_need_w.resize(names.rooms.size());
    point.room_gets_w.resize(names.rooms.size());
    for (std::size_t i = 0; i < house.circuits.size(); ++i) {
        const CircuitState &circuit = state.circuits[i];
        point.circuits.push_back(
            {circuit.flow_c, circuit.return_c,
             house.circuits[i].mixer_run ? std::optional<double>(circuit.hot_share) : std::nullopt,
             circuit.held_low, circuit.held_high});
        for (std::size_t e = 0; e < circuit.emitters.size(); ++e) {
            const std::string room = room_of(house, house.circuits[i].emitters[e]);
            const auto at = static_cast<std::size_t>(
                std::find(names.rooms.begin(), names.rooms.end(), room) - names.rooms.begin());
            point.room_need_w[at] += circuit.emitters[e].need_w;
            point.room_gets_w[at] += circuit.emitters[e].gets_w;
        }
    }
    return point;
}

// The design day, then every 3 K up to the heating limit.
void add_curve(const HeatingHouse &house, SeasonAnswer &out) {
    constexpr double step_k = 3.0;
    double outdoor_c = out.design_outdoor_c;
    while (outdoor_c < out.heating_limit_c) {
        const WeatherState state = at_outdoor(house, outdoor_c, {});
        if (state.on)
            out.curve.push_back(curve_point(house, out, state));
        outdoor_c = step_k * (std::floor(outdoor_c / step_k) + 1.0);
    }
}

void add_turned_down_rooms(const HeatingHouse &house, SeasonAnswer &out) {
    const WeatherState state =
        at_outdoor(house, out.design_outdoor_c, {true, -turned_down_k, false});
    if (!state.on)
        return;
    const CurvePoint point = curve_point(house, out, state);
    for (std::size_t i = 0; i < out.rooms.size(); ++i) {
        const auto room =
            std::find_if(house.house.rooms.begin(), house.house.rooms.end(),
                         [&](const networks::Room &r) { return r.name == out.rooms[i]; });
        if (room == house.house.rooms.end() || room->indoor_c <= out.design_outdoor_c)
            continue;
        const double settles = settles_c(house, room->name, state);
        out.turned_down_rooms.push_back({room->name, room->indoor_c, point.room_need_w[i],
                                         point.room_gets_w[i], std::min(settles, room->indoor_c)});
    }
}

// Cool water corrodes a boiler that is not made for condensate.
void add_cold_return(const House &house, const SeasonTotals &totals, SeasonAnswer &out) {
    const std::optional<double> least_c = least_return_c(house);
    double cold_h = 0.0, coolest_c = models::no_limit;
    for (const SeasonBin &bin : totals.bins)
        if (least_c && bin.return_c < *least_c) {
            cold_h += bin.hours;
            coolest_c = std::min(coolest_c, bin.return_c);
        }
    if (cold_h > 0.0)
        out.warnings.push_back(fmt::format("for {:.0f} h a year on the weather curve the return is "
                                           "too cool; at its coolest {}",
                                           cold_h, cold_return(house, coolest_c)));
}

void add_warnings(const HeatingHouse &house, SeasonAnswer &out) {
    const SeasonTotals &totals = out.with_curve.totals;
    if (!house.unsettled.empty())
        out.warnings.push_back(house.unsettled);
    if (totals.short_kwh >= 0.5) // as shown
        out.warnings.push_back(fmt::format(
            "the source falls {:.0f} kWh a year short; no other heat is counted in its place",
            totals.short_kwh));
    constexpr double share_that_matters = 0.001;
    if (totals.room_kwh < (1.0 - share_that_matters) * totals.need_kwh)
        out.warnings.push_back(fmt::format(
            "rooms get {:.0f} kWh a year less than they need, as the curve is held at its end",
            totals.need_kwh - totals.room_kwh));
    double beyond_h = 0.0;
    for (const SeasonBin &bin : totals.bins)
        if (!bin.within_rating)
            beyond_h += bin.hours;
    if (beyond_h > 0.0)
        out.warnings.push_back(fmt::format(
            "for {:.0f} h a year the source's figures are held at the end of what they cover",
            beyond_h));
    add_cold_return(house.house, totals, out);
    for (const HeatingCircuit &circuit : house.circuits)
        if (const double sent_c = std::max(circuit.design_c, circuit.found_c.value_or(0.0));
            circuit.highest_c && sent_c > *circuit.highest_c + 1e-6)
            out.warnings.push_back(fmt::format(
                "without a weather curve {} is sent {:.1f} degC, above the {:g} its floors take",
                circuit.name, sent_c, *circuit.highest_c));
    if (!house.pump_electric_w)
        out.warnings.push_back("the pumps' duty could not be solved; their energy is left out");
}

} // namespace

std::string why_no_season(const House &house) {
    if (!house.source)
        return "the network has no source, so there is no year to work out";
    if (!house.outdoor_c)
        return "the file has no `design_day: {outdoor: ...}`, so losses cannot follow the weather";
    if (*house.outdoor_c >= heating_limit_c(house))
        return fmt::format("the design day's {:g} degC is not below the heating limit of {:g} degC",
                           *house.outdoor_c, heating_limit_c(house));
    const bool heats =
        std::any_of(house.emitters.begin(), house.emitters.end(),
                    [](const networks::Emitter &emitter) { return emitter.room_heat_w > 0.0; });
    return heats ? "" : "no loop or radiator has heat to give";
}

SeasonAnswer season(const House &given) {
    const HeatingHouse house = heating_house(given);
    SeasonAnswer out;
    out.house = given.name;
    out.form = given.text_form;
    out.heat_pump = given.source->kind == networks::Source::Kind::HeatPump;
    out.climate = climate_words(given.year);
    out.design_outdoor_c = *given.outdoor_c;
    out.heating_limit_c = heating_limit_c(given);
    out.loss_w = house.design_w;
    out.needed_c = house.needed_c;
    if (given.source->flow_temperature_given)
        out.stated_c = given.source->flow_temperature_c;
    out.currency = given.tariff.currency;
    out.pump_electric_w = house.pump_electric_w;
    add_names(house, out);
    add_curve(house, out);
    const bool free_heat = given.year.free_heat;
    out.with_curve = {"weather curve", {true, 0.0, free_heat}, {}};
    out.turned_down = {
        fmt::format("{:g} K lower", turned_down_k), {true, -turned_down_k, free_heat}, {}};
    out.fixed = {"fixed, blended", {false, 0.0, free_heat}, {}};
    for (SeasonScenario *scenario : {&out.with_curve, &out.turned_down, &out.fixed})
        scenario->totals = season_totals(house, scenario->operation);
    add_turned_down_rooms(house, out);
    out.store = stored_heat(house.house, held_water_m3(house.house), house.needed_c);
    add_season_assumed(house, out);
    add_warnings(house, out);
    return out;
}

std::string flattered_words(const SeasonTotals &totals) {
    constexpr double least_share = 0.001; // of the year's heat
    if (totals.flattered_kwh <= least_share * totals.heat_kwh)
        return {};
    return fmt::format("{:.0f} of the {:.0f} kWh of heat lie beyond what the source's figures "
                       "cover, warmer or with colder air: there they are held at their end, and "
                       "the true cost is higher",
                       totals.flattered_kwh, totals.heat_kwh);
}

std::optional<SeasonTotals> year_on_curve(const House &house) {
    if (!why_no_season(house).empty())
        return std::nullopt;
    return season(house).with_curve.totals;
}

std::string year_note(const House &house, const std::string &which, double sent_c,
                      double needed_c) {
    constexpr double shown_k = 0.05; // less does not show in the figures
    if (needed_c <= sent_c + shown_k || !why_no_season(house).empty())
        return {};
    return fmt::format("the year {} is that of a weather curve which heats every room: {:.1f} degC "
                       "on the design day, not {:.1f}",
                       which, needed_c, sent_c);
}

} // namespace headroom::solver
