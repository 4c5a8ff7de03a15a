#include "solver/questions/drill_work.hpp"
#include "solver/questions/figure_words.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::HighLimit;
using networks::Source;
using networks::Stat;

bool watches(const Stat &stat, std::size_t manifold) {
    return std::find(stat.floors.begin(), stat.floors.end(), manifold) != stat.floors.end();
}

bool has_tripped(const FaultRow &row, const Stat &stat) {
    return std::find(row.tripped.begin(), row.tripped.end(), stat.where) != row.tripped.end();
}

// Adds the fault to the finding of these words, or as a new one.
void gather(std::vector<Finding> &list, const std::string &what, const std::string &help,
            std::string fault) {
    auto at = std::find_if(list.begin(), list.end(),
                           [&](const Finding &finding) { return finding.what == what; });
    if (at == list.end())
        at = list.insert(list.end(), {what, {}, help});
    at->faults.push_back(std::move(fault));
}

// Why no stat keeps this floor from water above its limit.
std::string why_not_stopped(const DrillWork &work, const FaultRow &row, std::size_t manifold) {
    std::string why;
    for (const Stat &stat : work.stats) {
        if (!watches(stat, manifold))
            continue;
        why += fmt::format("{}the high limit of {} ({:g} degC) ", why.empty() ? "" : ", and ",
                           stat.where, stat.limit.at_c);
        if (has_tripped(row, stat))
            why += "trips, but it still comes";
        else if (!stat.blind.empty())
            why += "does not trip: " + stat.blind;
        else
            why += "does not trip";
    }
    return why.empty() ? "no high-limit stat stops it" : why;
}

double most_sent_c(const DrillWork &work) {
    const auto &hot_water = work.house.hot_water;
    return std::max(work.highest_c, hot_water ? hot_water->flow_temperature_c : 0.0);
}

std::string help_for(const DrillWork &work, std::size_t manifold) {
    const auto path = networks::feeding_runs(work.house, work.house.manifolds[manifold].name);
    const bool pumped = std::any_of(path.begin(), path.end(), [&](std::size_t r) {
        return work.house.runs[r].pump.has_value();
    });
    return pumped ? "an independent high-limit stat on its flow pipe, behind mixer and pump, at or "
                    "below its limit, that stops the pump, and a check valve against creeping"
                  : "an independent high-limit stat on its flow pipe that lets a valve fall shut "
                    "and stops the heat, with the source's flow kept";
}

void find_hot_floors(DrillWork &work, FaultRow &row) {
    constexpr double same_k = 0.05;
    const FaultRow &without = work.out.faults.front();
    for (std::size_t m = 0; m < row.floors.size(); ++m) {
        const FloorRow &floor = row.floors[m];
        const FloorWater &water = floor.after ? *floor.after : floor.fault;
        const FloorRow *usual = // none where the house itself could not be solved
            &row != &without && m < without.floors.size() ? &without.floors[m] : nullptr;
        if (floor.unprotected) {
            row.missing = true;
            // What the house does without a fault is told once.
            if (usual && usual->unprotected && *water.water_c <= *usual->fault.water_c + same_k)
                continue;
            gather(work.out.missing,
                   fmt::format("{} gets water above the {:g} degC that loop {} takes, and {}",
                               floor.floor, water.limit_c, water.loop,
                               why_not_stopped(work, row, m)),
                   help_for(work, m),
                   fmt::format("{}: {:.1f} degC, {}", row.fault, *water.water_c,
                               flow_words(work.out.form, water.flow_m3_s)));
        } else if (water.surface_c && *water.surface_c > *water.surface_limit_c + same_k) {
            if (usual && usual->fault.surface_c &&
                *usual->fault.surface_c > *water.surface_limit_c + same_k &&
                *water.surface_c <= *usual->fault.surface_c + same_k)
                continue;
            gather(work.out.warnings,
                   fmt::format("the surface of {} gets warmer than its {:g} degC", floor.floor,
                               *water.surface_limit_c),
                   "a limit on the water does not hold the surface of every covering",
                   fmt::format("{}: {:.1f} degC", row.fault, *water.surface_c));
        }
    }
}

// A stuck mixer or a wild source shows in nothing until the other fails too, so that what the
// source is able to send counts, even where no single fault of these brings it to the floor.
void find_unguarded(DrillWork &work) {
    for (std::size_t m = 0; m < work.house.manifolds.size(); ++m) {
        const networks::Manifold &manifold = work.house.manifolds[m];
        const auto told = [&](const FaultRow &row) {
            return m < row.floors.size() && row.floors[m].unprotected;
        };
        const auto guards = [&](const Stat &stat) {
            return watches(stat, m) && stat.blind.empty();
        };
        if (!networks::can_overheat(work.house, manifold) ||
            std::any_of(work.stats.begin(), work.stats.end(), guards) ||
            std::any_of(work.out.faults.begin(), work.out.faults.end(), told))
            continue;
        work.out.missing.push_back(
            {fmt::format("no high-limit stat of {} keeps from it what the source can send, {:g} "
                         "degC where {:g} degC is its limit: a control that has failed unnoticed "
                         "leaves it to the next fault",
                         manifold.name, most_sent_c(work),
                         networks::manifold_limit_c(work.house, manifold)),
             {},
             help_for(work, m)});
    }
}

// A stat that lets a valve fall shut must leave the source its flow.
void find_lost_flow(DrillWork &work, FaultRow &row) {
    if (!row.source_after_m3_s)
        return;
    for (const Stat &stat : work.stats) {
        if (stat.limit.stops != HighLimit::Stops::Valve || !has_tripped(row, stat))
            continue;
        const double least =
            work.out.least_flow_m3_s.value_or(creep_share * work.out.faults.front().source_m3_s);
        if (*row.source_after_m3_s >= least)
            continue;
        row.missing = true;
        gather(work.out.missing,
               fmt::format("when the high limit of {} has shut its valve, the source is left with "
                           "less flow than {}",
                           stat.where, flow_words(work.out.form, least)),
               "keep its flow by a bypass or an emitter that cannot be shut",
               fmt::format("{}: {}", row.fault, flow_words(work.out.form, *row.source_after_m3_s)));
    }
}

void find_uncontrolled(DrillWork &work, FaultRow &row) {
    // The reader asks for it; without it no leak takes enough.
    const double least = work.house.source->slumber_w.value_or(models::no_limit);
    if (!row.taken_w || *row.taken_w >= least)
        return;
    row.missing = true;
    gather(work.out.missing,
           fmt::format("the solid-fuel source cannot be stopped, but the water takes less than its "
                       "{:.0f} W from it",
                       least),
           "let the heat leak take more by gravity: wider pipe, more height, a larger radiator",
           fmt::format("{}: {:.0f} W", row.fault, std::max(*row.taken_w, 0.0)));
}

void find_in(DrillWork &work, FaultRow &row) {
    const auto in_words = [](const std::string &part) { return part.empty() ? "" : ": " + part; };
    if (!row.outcome.converged()) {
        gather(work.out.unsolved, "could not be solved, so that nothing is known of it",
               "simplify the house around the fault, or judge it by hand",
               row.fault + in_words(row.outcome.worst_equation) +
                   in_words(row.outcome.explanation));
        return;
    }
    find_hot_floors(work, row);
    find_lost_flow(work, row);
    find_uncontrolled(work, row);
    if (row.creeps)
        gather(work.out.warnings, "water creeps through a run whose pump stands",
               "a check valve there, or a sound one",
               fmt::format("{}: {}", row.fault, flow_words(work.out.form, *row.creep_m3_s)));
    if (row.below_least)
        gather(work.out.warnings,
               fmt::format("the source is left below its least flow of {}",
                           flow_words(work.out.form, *work.out.least_flow_m3_s)),
               "it will lock out or cycle; a bypass or an emitter that cannot be shut keeps its "
               "flow",
               fmt::format(
                   "{}: {}", row.fault,
                   flow_words(work.out.form, row.source_after_m3_s.value_or(row.source_m3_s))));
}

void find_stats(DrillWork &work) {
    const bool solid_fuel = work.house.source->kind == Source::Kind::SolidFuel;
    for (const Stat &stat : work.stats) {
        const auto miss = [&](std::string what, std::string help) {
            work.out.missing.push_back(
                {fmt::format("high limit of {}: {}", stat.where, what), {}, std::move(help)});
        };
        if (!stat.blind.empty())
            miss(stat.blind, "strap it to the flow pipe of the floor, behind mixer and pump");
        if (stat.limit.stops == HighLimit::Stops::Valve && stat.valve &&
            !work.house.runs[stat.valve->first].parts[stat.valve->second].falls_shut)
            miss(fmt::format("its valve {} does not fall shut without power", stat.limit.valve),
                 "a spring-return valve, in the file `without_power: shut`");
        if (stat.limit.stops == HighLimit::Stops::Valve && !stat.limit.stops_heat)
            miss("it shuts a valve but does not stop the heat input",
                 "wire it to stop the heat too, with the source's flow kept: `stops_heat: yes`");
        if (stat.limit.stops_heat && solid_fuel)
            miss(
                "a solid-fuel source cannot be stopped",
                "leave its heat a way out by the heat leak, and let the stat stop the floor alone");
        if (has_tripped(work.out.faults.front(), stat))
            work.out.warnings.push_back(
                {fmt::format("high limit of {}: it trips without a fault", stat.where),
                 {},
                 "lower the floor's water temperature, or check the stat's setting and place"});
    }
}

void find_parted(DrillWork &work) {
    const networks::House &house = work.house;
    for (const networks::Parted &parted : networks::parted_from_source(house)) {
        std::string runs;
        for (const std::string &run : parted.runs)
            runs += (runs.empty() ? "" : ", ") + run;
        if (parted.by_isolating_valves)
            work.out.warnings.push_back(
                {fmt::format("isolating valves ({}) stand between the source and {} at {}", runs,
                             parted.what, parted.at),
                 {},
                 "lock them open, or join it to the source without them"});
        else
            work.out.missing.push_back(
                {fmt::format("valves can part the source from {} at {}", parted.what, parted.at),
                 {},
                 "join it to the source without a valve between, such as at source.return"});
    }
    if (!house.fill || house.fill->safety_valve_at.empty())
        work.out.warnings.push_back(
            {"where the safety valve joins is not given, so that its way is not checked",
             {},
             "`safety_valve_at:` in `fill:`, such as source.flow"});
    for (const std::string &run : networks::draining_glycol(house))
        work.out.warnings.push_back(
            {fmt::format("the anti-freeze valves of run {} would drain the glycol", run),
             {},
             "use one or the other against frost"});
}

} // namespace

void find_missing(DrillWork &work) {
    find_stats(work);
    find_parted(work);
    for (FaultRow &row : work.out.faults)
        find_in(work, row);
    find_unguarded(work);
}

} // namespace headroom::solver
