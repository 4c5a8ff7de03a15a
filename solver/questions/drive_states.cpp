// The states of the house beside the design day: settings, hot water, zones, cold start, as found.
#include "networks/protection.hpp"
#include "solver/questions/circulating.hpp"
#include "solver/questions/drive_work.hpp"
#include "solver/questions/variants.hpp"
#include "solver/questions/volume.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Balancing;
using networks::Habit;
using networks::House;

constexpr double setting_tolerance = 0.01; // design flow within 1 % with the computed settings
constexpr double way_share = 1e-3;         // of the design flow; less means that no way is left

std::string judged_by_least_flow(const House &house) {
    return house.source->least_flow_m3_s ? "least flow" : "shown only";
}

// Zone states are judged by whatever the source asks for.
std::string judged_by_zones(const House &house) {
    const bool flow = house.source->least_flow_m3_s.has_value();
    const bool volume = house.source->least_open_volume_m3.has_value();
    return flow && volume ? "flow, volume" : volume ? "open volume" : judged_by_least_flow(house);
}

double cold_water_c(const DriveWork &work) {
    return work.given.cold_start_c.value_or(work.given.habits[Habit::ColdStart]);
}

// The least water that can circulate among the zone sets that leave the source a way.
struct LeastVolume {
    double volume_m3 = models::no_limit;
    std::string state;
};

void judge_volume(const DriveWork &work, const LeastVolume &least, StateRow &row) {
    row.remark +=
        fmt::format("; {:.0f} l can circulate at least ({})", least.volume_m3 * 1e3, least.state);
    const auto &wanted = work.given.source->least_open_volume_m3;
    if (!wanted || least.volume_m3 >= *wanted)
        return;
    row.fault += fmt::format("{}{:.0f} l of open water ({}) are less than the {:.0f} l that the "
                             "source needs: a buffer or loops that stay open must add to them",
                             row.fault.empty() ? "" : "; ", least.volume_m3 * 1e3, least.state,
                             *wanted * 1e3);
}

} // namespace

// The settings that take each circuit's surplus with the circulator turned down, and the
// free-running house with them.
void add_settings(DriveWork &work) {
    if (!work.design.all_driven)
        return;
    const HeadNeeded &needed = *work.design.needed;
    work.out.set_pa = turned_down_pa(work.ideal, needed);
    if (work.out.set_pa > needed.pressure_pa)
        work.out.remarks.push_back(
            fmt::format("even at its least speed of {:.0f} % the circulator gives {} more "
                        "than is needed; the valves must take it",
                        100.0 * *work.given.source->circulator.least_speed,
                        pressure_words(work.out.form, work.out.set_pa - needed.pressure_pa)));
    const House turned_down = with_ideal_rise(work.ideal, work.out.set_pa);
    Settings settings = work.out.set_pa == needed.pressure_pa
                            ? valve_settings(turned_down, {needed.network, needed.solution})
                            : valve_settings(turned_down);
    if (!settings.outcome.converged())
        return work.not_solved(settings.outcome, settings.state);
    for (std::size_t i = 0; i < settings.valves.size(); ++i) {
        const ValveSetting &valve = settings.valves[i];
        EmitterRow &row = work.out.emitters[i];
        if (!valve.is_set)
            continue;
        row.valve_kv_m3_h = valve.kv_m3_h;
        row.valve_in_range = valve.in_range();
        if (valve.finest_assumed)
            work.used(Habit::LeastValveKv);
        if (!row.valve_in_range)
            work.out.reasons.push_back(
                fmt::format("the balancing valve of `{}` would have to stand "
                            "at Kv {:.3f} m3/h; its finest is {:.3f}",
                            row.name, valve.kv_m3_h, valve.finest_kv_m3_h));
    }
    work.out.worst_setting_error = settings.worst_error;
    if (work.out.worst_setting_error > setting_tolerance)
        work.out.reasons.push_back(
            fmt::format("the computed settings leave a flow {:.1f} % from its design flow",
                        100.0 * work.out.worst_setting_error));
    work.as_set = std::move(settings.set);
}

void add_hot_water(DriveWork &work) {
    if (!work.given.hot_water)
        return;
    StateRow row;
    row.state = "hot water, coil on the diverter";
    const Judgement hot = judge_hot_water(work.ideal);
    if (!hot.outcome.converged())
        return work.not_solved(hot.outcome, row.state);
    if (!hot.needed) {
        row.fault =
            "no head at the source drives the coil's flow; a part on the way is shut, turned "
            "against the flow, or limits it";
    } else {
        const networks::LinkId pump = hot.needed->network.source->pump;
        row.source_l_min = litres_per_minute(hot.needed->source_flow_kg_s,
                                             hot.needed->solution.fluid[pump].density_kg_m3);
        row.needed_pa = hot.needed->pressure_pa;
        row.available_pa = hot.available_pa;
        row.headroom_pa = hot.headroom_pa;
        add_band(work, row, true);
        if (work.failed())
            return;
        if (const auto least = least_flow_l_min(work.given); least && row.source_l_min < *least)
            row.fault = below_least_flow(work.out.form, row.source_l_min, *least);
    }
    work.out.states.push_back(std::move(row));
}

// Bypass valves that the head the circulator is set to can never open.
std::string shut_bypasses(const DriveWork &work) {
    std::string out;
    for (const networks::Bypass &bypass : work.given.bypasses)
        if (bypass.opens_pa && *bypass.opens_pa > work.out.set_pa)
            out += fmt::format("; `{}` opens at {}, more than the {} that the circulator is turned "
                               "down to: set the bypass lower, or state the circulator's "
                               "`least_speed` where it stays higher",
                               bypass.name, pressure_words(work.out.form, *bypass.opens_pa),
                               pressure_words(work.out.form, work.out.set_pa));
    return out;
}

std::string only_open(const std::vector<std::string> &zones) {
    if (zones.empty())
        return "all zones shut";
    return fmt::format("only zone{} {} open", zones.size() > 1 ? "s" : "",
                       fmt::join(zones, " and "));
}

// Flow only falls as zones close, so the least is with no zone open where loops without a zone or a
// bypass leave a way, or else with as few as serve anything. Circulator and valves as set.
void add_zones(DriveWork &work) {
    const std::vector<std::string> zones = zone_names(work.ideal);
    if (zones.empty() || !work.as_set)
        return;
    StateRow row;
    row.judged_by = judged_by_zones(work.given);
    row.source_l_min = models::no_limit;
    LeastVolume least_volume;
    const auto passes = [&](const std::vector<std::string> &open) {
        const std::string state = only_open(open);
        const SolvedHouse house = solved(with_zones(*work.as_set, open));
        if (!house.solution.outcome.converged())
            work.not_solved(house.solution.outcome, state);
        const double flow = house.source_l_min();
        if (work.failed() || flow < way_share * work.out.source_l_min)
            return false; // nothing calls for heat: the source stops
        if (const double volume = open_volume_m3(*work.as_set, open);
            volume < least_volume.volume_m3)
            least_volume = {volume, state};
        if (flow < row.source_l_min) {
            row.source_l_min = flow;
            row.state = state;
        }
        return true;
    };
    if (!passes({}) && !work.failed())
        for (const auto &set : least_zone_sets(work.ideal))
            if (!set.empty() && set.size() < zones.size() && !work.failed())
                passes(set);
    if (work.failed())
        return;
    if (!std::isfinite(row.source_l_min))
        return;
    row.remark = fmt::format("the least flow of all zone sets; a shut valve must hold up to {}",
                             pressure_words(work.out.form, work.out.set_pa, 0));
    if (const auto limit = least_flow_l_min(work.given); limit && row.source_l_min < *limit)
        row.fault = below_least_flow(work.out.form, row.source_l_min, *limit) +
                    ": a bypass, a buffer or loops that stay open must carry the rest" +
                    shut_bypasses(work);
    else if (!limit)
        row.remark += "; the source's least flow is not given";
    judge_volume(work, least_volume, row);
    work.out.states.push_back(std::move(row));
}

void add_cold_start(DriveWork &work) {
    if (!work.given.cold_start_c)
        work.used(Habit::ColdStart);
    const double cold = cold_water_c(work);
    StateRow row;
    row.state = fmt::format("cold start, water at {:g} degC", cold);
    row.all_emitters = true;
    row.judged_by = judged_by_least_flow(work.given);
    // It runs free as set for the design day.
    House free_house = work.as_set ? *work.as_set : work.ideal;
    free_house.condition.all_water_c = cold;
    const SolvedHouse free = solved(free_house);
    if (!free.solution.outcome.converged())
        return work.not_solved(free.solution.outcome, row.state);
    row.source_l_min = free.source_l_min();
    for (std::size_t i = 0; i < free.network.emitters.size(); ++i)
        work.out.emitters[i].cold_share = free.share(free.network.emitters[i]);
    row.remark = fmt::format("runs at {:.0f} % of the design flow, valves and circulator as set",
                             100.0 * row.source_l_min / work.out.source_l_min);
    if (const auto least = least_flow_l_min(work.given); least && row.source_l_min < *least)
        row.fault = below_least_flow(work.out.form, row.source_l_min, *least);
    work.out.states.push_back(std::move(row));
}

// What the state asks for, which decides nothing: the house runs free.
void add_cold_head(DriveWork &work) {
    StateRow &row = work.out.states.back();
    House house = work.ideal;
    house.condition.all_water_c = cold_water_c(work);
    const Judgement judged = judge(house);
    if (!judged.outcome.converged())
        return work.not_solved(judged.outcome, row.state);
    if (!judged.needed)
        return;
    row.needed_pa = judged.needed->pressure_pa;
    row.available_pa = judged.available_pa;
    row.headroom_pa = judged.headroom_pa;
}

namespace {

bool stands_otherwise(const House &given) {
    const networks::Pump &pump = given.source->circulator;
    const bool turned_down = pump.mode != networks::PumpMode::FixedSpeed || pump.speed < 1.0;
    const bool others =
        std::any_of(given.runs.begin(), given.runs.end(), [](const networks::Run &run) {
            return run.pump.has_value() || run.mixer.has_value();
        });
    return turned_down || others || given.separator.has_value();
}

// Behind a mixer that stays, loops are sized at what it holds. Floors' responses are known already.
House with_mixers(const DriveWork &work) {
    House house = *work.file;
    for (std::size_t i = 0; i < house.emitters.size(); ++i)
        house.emitters[i].emission = work.given.emitters[i].emission;
    return size_as_found(house, work.sizing).house;
}

void beside(DriveWork &work, std::string what, const House &house) {
    const SolvedHouse found = solved(house);
    BesideRow row{std::move(what), true, "", models::no_limit};
    if (!found.solution.outcome.converged()) {
        row.all_driven = false;
        row.worst = "not solved: " + found.solution.outcome.worst_equation;
        row.worst_share = 0.0;
    } else {
        for (const networks::EmitterLinks &links : found.network.emitters) {
            const networks::Emitter &emitter = work.given.emitters[links.emitter];
            const double share = found.share(links);
            if (share < row.worst_share && !networks::is_heat_leak(work.given, emitter)) {
                row.worst_share = share;
                row.worst = emitter.name;
            }
        }
        row.all_driven = row.worst_share >= 1.0 - 1e-9;
        for (const std::string &remark : found.solution.remarks)
            work.out.remarks.push_back(row.what + ": " + remark);
    }
    work.out.beside.push_back(std::move(row));
}

} // namespace

void add_beside(DriveWork &work) {
    const House &given = work.given;
    for (const networks::Emitter &emitter : given.emitters)
        if (emitter.balancing.kind == Balancing::Kind::Shut)
            work.out.remarks.push_back(
                fmt::format("`{}` is shut in the file; the verdict has it open", emitter.name));
    if (!stands_otherwise(given))
        return;
    beside(work, "as found, pumps and mixers as the file has them",
           with_ideal_balancing(with_mixers(work)));
    if (given.separator)
        beside(work, "header kept, no pump but the source's",
               with_ideal_balancing(at_full_speed(without_other_pumps(given))));
}

} // namespace headroom::solver
