// What the file did not say, and what each such assumption is worth.
#include "networks/levels.hpp"
#include "solver/questions/drive_work.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;

void note(DriveWork &work, std::string what, std::string value) {
    work.out.assumed.push_back({std::move(what), std::move(value), "", {}, {}});
}

// What the laying took for granted.
void use_laying_habits(DriveWork &work) {
    for (const networks::Laying &laying : work.given.layings) {
        if (!laying.loop_head_pa)
            work.used(Habit::LoopHead);
        if (!laying.spacing_m && !laying.closest_m)
            work.used(Habit::ClosestSpacing);
    }
}

void add_habits(DriveWork &work) {
    use_laying_habits(work);
    const auto in_network = work.design.network.used_habits;
    work.used_habits |= in_network;
    for (std::size_t i = 0; i < networks::habit_table.size(); ++i) {
        if (!work.used_habits.test(i))
            continue;
        const auto habit = static_cast<Habit>(i);
        const networks::HabitInfo &info = networks::habit_info(habit);
        AssumptionRow row;
        row.what = std::string(info.name);
        row.value = networks::written(info.value, info.dimension);
        row.range = fmt::format("{} to {}", networks::written(info.low, info.dimension),
                                networks::written(info.high, info.dimension));
        // Those outside the network (cold start, limits, valve range) do not move the headroom.
        if (in_network.test(i)) {
            const auto shift = [&](double value) -> std::optional<double> {
                House changed = work.ideal;
                changed.habits[habit] = value;
                const Headroom moved = headroom_of(changed);
                if (!moved.outcome.converged() || !std::isfinite(moved.pa))
                    return std::nullopt;
                return moved.pa - work.out.headroom_pa;
            };
            row.low_pa = shift(info.low);
            row.high_pa = shift(info.high);
        }
        work.out.assumed.push_back(std::move(row));
    }
}

// Names of what fulfils a condition, shortened to the first few.
template <class Items, class Condition>
std::string names_of(const Items &items, Condition &&condition) {
    std::string names;
    int count = 0;
    for (const auto &item : items)
        if (condition(item) && ++count <= 3)
            names += (names.empty() ? "" : ", ") + item.name;
    if (count > 3)
        names += fmt::format(" and {} more", count - 3);
    return names;
}

bool source_needs_volume(const House &house) {
    return house.source->kind == networks::Source::Kind::Boiler ||
           house.source->least_open_volume_m3;
}

void add_source_notes(DriveWork &work) {
    const networks::Source &source = *work.given.source;
    if (source.circulator.curve.points.size() == 1)
        note(work, "the circulator's curve from one point", "flat up to it, nothing beyond it");
    if (!source.circulator.least_speed && work.out.set_pa > 0.0)
        note(work, "how far the circulator can be turned down", "to the head needed");
    if (!source.least_flow_m3_s)
        note(work, "the source's least flow", "not given, not checked");
    const double water_c = source.flow_temperature_c;
    const double thickness = models::fluid_state(work.given.fluid, water_c).viscosity_pa_s /
                             models::fluid_state({}, water_c).viscosity_pa_s;
    if (thickness > 1.2 && source.states == networks::CurveStates::Gross)
        note(work,
             fmt::format("inner losses of the source, measured with water, with a liquid {:.1f} "
                         "times as thick",
                         thickness),
             "not enlarged");
}

} // namespace

void add_assumed(DriveWork &work) {
    add_habits(work);
    const House &given = work.given;
    if (!given.fluid_stated)
        note(work, "the liquid in the system", "plain water");
    if (!given.levels_given)
        note(work, "buoyancy", "left out, as no levels are given");
    else if (const std::string names = networks::names_without_level(given); !names.empty())
        note(work, fmt::format("level of {}", names), "0 m");
    add_source_notes(work);
    const auto bare = names_of(given.manifolds, [](const networks::Manifold &manifold) {
        return !manifold.bar_bore_m.has_value();
    });
    if (!bare.empty())
        note(work, fmt::format("bars of {}", bare), "without loss");
    const auto plain = names_of(given.runs, [](const networks::Run &run) {
        return !run.one_way && run.flow.fittings.empty() && run.flow.zeta == 0.0;
    });
    if (!plain.empty())
        note(work, fmt::format("fittings of run {}", plain), "none");
    const auto aged = [](const auto &item) { return item.existing; };
    if (const auto names = names_of(given.runs, aged); !names.empty())
        note(work, fmt::format("existing pipe of run {}", names), "rough as aged pipe is");
    if (const auto names = names_of(given.emitters, aged); !names.empty())
        note(work, fmt::format("existing pipe of {}", names), "rough as aged pipe is");
    const auto direct = names_of(given.emitters, [](const networks::Emitter &emitter) {
        return emitter.kind == networks::Emitter::Kind::Radiator && emitter.length_m == 0.0;
    });
    if (!direct.empty())
        note(work, fmt::format("pipe between run and radiator {}", direct), "none");
    const auto exponent = [](const networks::Emitter &emitter) { return emitter.exponent_assumed; };
    if (const auto names = names_of(given.emitters, exponent); !names.empty())
        note(work, fmt::format("exponent of {}", names),
             "radiators 1.3, towel rails 1.2, fans 1.0");
    if (!source_needs_volume(given))
        note(work, "water the source must be able to circulate", "not given, not checked");
    const auto loses = [](const auto &item) { return item.surroundings.has_value(); };
    if (std::none_of(given.runs.begin(), given.runs.end(), loses))
        note(work, "heat lost from pipes", "none");
    else if (const auto names =
                 names_of(given.runs, [&](const networks::Run &run) { return !loses(run); });
             !names.empty())
        note(work, fmt::format("heat lost from run {}", names), "none");
    const auto bare_pipe = [&](const auto &item) {
        return item.surroundings && !item.surroundings->insulation_stated;
    };
    for (const std::string &names :
         {names_of(given.runs, bare_pipe), names_of(given.emitters, bare_pipe)})
        if (!names.empty())
            note(work, fmt::format("insulation of {}", names), "bare pipe");
    if (given.hot_water)
        note(work, "loss of the diverter", "none, or inside the source");
}

} // namespace headroom::solver
