#include "solver/questions/drill.hpp"

#include "solver/questions/drill_work.hpp"
#include "solver/questions/size.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;
using networks::Source;

void note_habit(DrillWork &work, Habit habit) {
    const networks::HabitInfo &info = networks::habit_info(habit);
    work.out.assumed.push_back({std::string(info.name),
                                networks::written(work.house.habits[habit], info.dimension),
                                fmt::format("{} to {}", networks::written(info.low, info.dimension),
                                            networks::written(info.high, info.dimension))});
}

void note_assumed(DrillWork &work, const networks::Network &network) {
    const Source &source = *work.house.source;
    if (!source.highest_c)
        note_habit(work, networks::highest_habit(source.kind));
    const auto without_limit = [](const networks::Emitter &emitter) {
        return emitter.kind == networks::Emitter::Kind::FloorLoop && !emitter.flow_limit_c;
    };
    if (std::any_of(work.house.emitters.begin(), work.house.emitters.end(), without_limit))
        note_habit(work, Habit::FloorLimit);
    const auto without_surface = [](const networks::Emitter &emitter) {
        return std::holds_alternative<networks::FloorPart>(emitter.emission) &&
               !emitter.surface_limit_c;
    };
    if (std::any_of(work.house.emitters.begin(), work.house.emitters.end(), without_surface))
        note_habit(work, Habit::SurfaceLimit);
    for (std::size_t i = 0; i < networks::habit_table.size(); ++i)
        if (network.used_habits.test(i))
            note_habit(work, static_cast<Habit>(i));
}

// Solves the house without a fault and takes the loops' flows from it.
DrillState solve_without_fault(DrillWork &work) {
    DrillState state = drill_state(work.house);
    work.out.outcome = state.solution.outcome;
    if (!work.out.outcome.converged())
        return state;
    for (std::size_t r = 0; r < work.house.runs.size(); ++r)
        work.free_run_kg_s.push_back(std::abs(run_flow_kg_s(state, r)));
    work.free_kg_s.assign(work.house.emitters.size(), 0.0);
    for (const networks::EmitterLinks &links : state.network.emitters) {
        const double flow = std::abs(state.solution.flow_kg_s[links.links.front()]);
        // A loop shut in the file is measured by its design flow.
        work.free_kg_s[links.emitter] =
            flow > creep_share * links.design_flow_kg_s ? flow : links.design_flow_kg_s;
    }
    note_assumed(work, state.network);
    return state;
}

// Each stat that feels its temperature acts; what then flows may trip the next.
void let_stats_act(const DrillWork &work, House &house, DrillState &state, FaultRow &row) {
    std::vector<char> tripped(work.stats.size(), 0);
    for (bool again = true; again && row.outcome.converged();) {
        again = false;
        for (std::size_t k = 0; k < work.stats.size(); ++k) {
            const networks::Stat &stat = work.stats[k];
            if (tripped[k] != 0 || felt_c(stat, state) < stat.limit.at_c)
                continue;
            tripped[k] = 1;
            again = true;
            house = with_stat_tripped(std::move(house), stat);
            row.tripped.push_back(stat.where);
            row.heat_stops = row.heat_stops || (stat.limit.stops_heat &&
                                                house.source->kind != Source::Kind::SolidFuel);
            for (std::size_t m : stat.floors)
                row.floors[m].behind.push_back(stat.where);
        }
        if (again) {
            state = drill_state(house);
            row.outcome = state.solution.outcome;
        }
    }
}

// Cold without a fault, and hardly colder now.
bool as_cold_before(const DrillWork &work, const RoomShare &room) {
    constexpr double hardly = 0.02;
    if (work.out.faults.empty())
        return false;
    const auto &before = work.out.faults.front().cold;
    return std::any_of(before.begin(), before.end(), [&](const RoomShare &other) {
        return other.room == room.room && room.share > other.share - hardly;
    });
}

// What the fault comes to, once every stat has acted.
void settle_row(DrillWork &work, const FaultyHouse &faulty, const DrillState &state,
                FaultRow &row) {
    for (std::size_t m = 0; m < row.floors.size(); ++m) {
        FloorRow &floor = row.floors[m];
        if (!row.tripped.empty())
            floor.after = floor_water(work, state, m);
        floor.unprotected =
            floor.after ? floor.after->too_hot && !row.heat_stops : floor.fault.too_hot;
    }
    if (!row.tripped.empty())
        row.source_after_m3_s = source_flow_m3_s(state);
    row.below_least = work.out.least_flow_m3_s &&
                      row.source_after_m3_s.value_or(row.source_m3_s) < *work.out.least_flow_m3_s;
    if (faulty.standing) {
        const double flow = run_flow_kg_s(state, *faulty.standing);
        row.creep_m3_s = flow / state.network.reference_density_kg_m3;
        row.creeps = std::abs(flow) > creep_share * work.free_run_kg_s[*faulty.standing];
    }
    const std::vector<RoomShare> shares = room_shares(work, state);
    work.out.rooms = shares.size();
    for (const RoomShare &room : shares) {
        if (room.share < cold_share && !faulty.at_rest && !as_cold_before(work, room))
            row.cold.push_back(room);
    }
    if (work.house.source->kind == Source::Kind::SolidFuel)
        row.taken_w = heat_taken_w(state, row.sent_c);
}

} // namespace

void add_row(DrillWork &work, const FaultyHouse &faulty, DrillState state) {
    FaultRow row;
    row.fault = faulty.fault;
    row.remark = faulty.remark;
    House house = faulty.house;
    row.sent_c = house.condition.sent_c      ? *house.condition.sent_c
                 : house.condition.hot_water ? house.hot_water->flow_temperature_c
                                             : house.source->flow_temperature_c;
    row.outcome = state.solution.outcome;
    if (row.outcome.converged()) {
        row.source_m3_s = source_flow_m3_s(state);
        for (std::size_t m = 0; m < work.house.manifolds.size(); ++m)
            row.floors.push_back(
                {work.house.manifolds[m].name, floor_water(work, state, m), {}, {}, false});
    }
    let_stats_act(work, house, state, row);
    if (row.outcome.converged())
        settle_row(work, faulty, state, row);
    else
        row.floors.clear(); // what stops them, if anything, is not known
    work.out.faults.push_back(std::move(row));
}

DrillAnswer drill(const House &given) {
    DrillWork work;
    const Sizing sizing = size_as_found(given);
    work.house = sizing.house;
    work.house.condition.buoyancy = true;
    work.house.condition.rooms_float = true;
    const Source &source = *work.house.source;
    work.stats = networks::high_limit_stats(work.house);
    work.highest_c = networks::highest_sent_c(work.house);
    DrillAnswer &out = work.out;
    out.house = given.name;
    out.form = given.text_form;
    out.fluid = models::fluid_name(given.fluid);
    out.sent_c = source.flow_temperature_c;
    out.highest_c = work.highest_c;
    out.least_flow_m3_s = source.least_flow_m3_s;
    out.buoyancy = given.levels_given;
    out.stats = work.stats.size();
    out.outcome = sizing_outcome(sizing);
    if (!out.outcome.converged())
        return std::move(out);
    DrillState as_it_is = solve_without_fault(work);
    if (!out.outcome.converged())
        return std::move(out);
    work.mixers = as_it_is.solution.mixers;
    add_row(work, {"no fault", "", work.house}, std::move(as_it_is));
    for (const FaultyHouse &faulty : single_faults(work))
        add_row(work, faulty, drill_state(faulty.house));
    find_missing(work);
    return std::move(out);
}

} // namespace headroom::solver
