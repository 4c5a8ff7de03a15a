// What the file did not say of the year.
#include "solver/questions/season.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

class Notes {
public:
    Notes(const House &house, SeasonAnswer &out) : house_(house), out_(out) {}
    void habit(Habit habit) {
        const networks::HabitInfo &info = networks::habit_info(habit);
        add(std::string(info.name),
            fmt::format("{} ({} to {})", networks::written(house_.habits[habit], info.dimension),
                        networks::written(info.low, info.dimension),
                        networks::written(info.high, info.dimension)));
    }
    void add(std::string what, std::string value) {
        out_.assumed.push_back({std::move(what), std::move(value)});
    }

private:
    const House &house_;
    SeasonAnswer &out_;
};

void add_emitter_notes(const HeatingHouse &house, Notes &notes) {
    bool loops = false, radiators = false, limits = false;
    for (const HeatingCircuit &circuit : house.circuits) {
        limits = limits || circuit.floor_limit_assumed;
        for (const CurveEmitter &emitter : circuit.emitters)
            if (!emitter.described)
                (house.house.emitters[emitter.emitter].kind == networks::Emitter::Kind::FloorLoop
                     ? loops
                     : radiators) = true;
    }
    if (loops || radiators)
        notes.add("loops and radiators that are not described",
                  "heat ~ excess^exponent, from heat and drop");
    if (loops)
        notes.habit(Habit::FloorExponent);
    if (radiators)
        notes.habit(Habit::RadiatorExponent);
    if (limits)
        notes.habit(Habit::FloorLimit);
}

void add_source_notes(const HeatingHouse &heating, Notes &notes) {
    if (heating.source_assumed) {
        const networks::Source::Kind kind = heating.house.source->kind;
        if (kind == networks::Source::Kind::HeatPump)
            notes.habit(Habit::CarnotShare);
        else if (kind == networks::Source::Kind::Boiler)
            notes.add("the boiler", "condensing, flue 7.5 K above the return");
        notes.add("output of the source", kind == networks::Source::Kind::SolidFuel
                                              ? "what the rooms ask for, which no fire holds to"
                                              : "enough, down to any load: it never cycles");
        return;
    }
    const auto &heat = heating.house.source->heat;
    if (const auto *pump = std::get_if<models::HeatPump>(&heat)) {
        notes.add("COP at part load", "that at full output");
        if (pump->least_output_share > 0.0)
            notes.add("COP below the least output",
                      fmt::format("falls by EN 14825 with C_c {:g}, not measured",
                                  pump->cycling_coefficient));
        else
            notes.add("least output (`least_share`)", "none: it never cycles");
        return;
    }
    if (std::get<models::Boiler>(heat).least_w <= 0.0)
        notes.add("least output (`least_output`)", "none: it never cycles");
    if (!heating.house.source->least_return_c && least_return_c(heating.house))
        notes.habit(Habit::LeastReturn);
}

} // namespace

void add_season_assumed(const HeatingHouse &heating, SeasonAnswer &out) {
    const House &house = heating.house;
    Notes notes(house, out);
    if (!house.year.climate && house.year.hours.empty())
        notes.add("climate of the year", "average climate of EN 14825");
    if (!house.year.heating_limit_c)
        notes.habit(Habit::HeatingLimit);
    if (house.year.free_heat)
        notes.add("free heat of sun and people", "what is lost at the heating limit, all year");
    notes.add("control", "weather curve, valves balanced");
    add_emitter_notes(heating, notes);
    add_source_notes(heating, notes);
    if (heating.pump_efficiency_assumed)
        notes.habit(Habit::PumpEfficiency);
    notes.add("heat lost by pipes on the way", "none: left out of the year");
    if (heating.pump_electric_w)
        notes.add("pumps", "duty as found, whenever there is heating");
    if (out.with_curve.totals.starts > 0.0) {
        if (!house.cycle_store.water_swing_k)
            notes.habit(Habit::WaterSwing);
        if (!house.cycle_store.floor_swing_k && out.store.screed_m3 > 0.0)
            notes.habit(Habit::FloorSwing);
        const auto held_by_habit = [](const networks::Emitter &emitter) {
            return emitter.kind == networks::Emitter::Kind::Radiator && !emitter.volume_m3;
        };
        if (std::any_of(house.emitters.begin(), house.emitters.end(), held_by_habit))
            notes.habit(Habit::RadiatorVolume);
        if (!house.cycle_store.added_water_m3 && !(house.fill && house.fill->other_m3))
            notes.add("water that no part of the house holds", "none");
    }
}

} // namespace headroom::solver
