#include "solver/questions/next_turn.hpp"

#include "solver/questions/balance_words.hpp"
#include "solver/questions/faults.hpp"

#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {

using networks::Balancing;
using networks::Emitter;
using networks::House;

namespace {

constexpr double worth_turning = 0.05; // of a Kv; a valve nearer to its setting is left alone

// Of the valves that do not stand where they should, the one whose flow is farthest from its design
// flow now: an index into Settings::valves.
std::optional<std::size_t> farthest_off(const Balanced &work, const SolvedHouse &now) {
    std::optional<std::size_t> out;
    double farthest = 0.0;
    for (std::size_t i = 0; i < work.settings.valves.size(); ++i) {
        const ValveSetting &valve = work.settings.valves[i];
        if (!valve.is_set)
            continue;
        const double stands = present_kv_m3_h(work.house, work.house.emitters[valve.emitter]);
        const double off = std::abs(now.share(now.network.emitters[i]) - 1.0);
        if (std::abs(stands - valve.kv_m3_h) > worth_turning * valve.kv_m3_h && off > farthest) {
            farthest = off;
            out = i;
        }
    }
    return out;
}

} // namespace

std::optional<NextTurn> next_turn(const Balanced &work) {
    const SolvedHouse now = solved(work.house);
    const auto turned = farthest_off(work, now);
    if (!turned)
        return std::nullopt;
    const ValveSetting &valve = work.settings.valves[*turned];
    const Emitter &emitter = work.house.emitters[valve.emitter];
    House house = work.settings.set;
    for (std::size_t e = 0; e < house.emitters.size(); ++e)
        house.emitters[e].balancing = work.house.emitters[e].balancing;
    house.emitters[valve.emitter].balancing = {Balancing::Kind::Kv, valve.kv_m3_h};
    const SolvedHouse after = solved(house);
    if (!after.solution.outcome.converged())
        return std::nullopt;
    NextTurn out{emitter.name,
                 present_kv_m3_h(work.house, emitter),
                 valve.kv_m3_h,
                 turns_of(emitter, valve.kv_m3_h),
                 valve_m3_s(now, *turned),
                 valve_m3_s(after, *turned),
                 {}};
    for (const BalancedPump &pump : work.pumps)
        if (std::abs(pump.set_pa - pump.found_pa) > worth_turning * pump.found_pa)
            out.pumps.push_back(fmt::format("{} to {}", pump_title(work.house, pump.circuit),
                                            setting_words(work, pump)));
    return out;
}

} // namespace headroom::solver
