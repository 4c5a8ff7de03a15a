// What protects a house by where it stands: stats on floors, the way to safety valve and vessel.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace headroom::networks {

/// A high-limit stat with what it feels and what it works on.
struct Stat {
    HighLimit limit;
    std::string where;                   ///< "run floor feed" or "manifold ground"
    std::string point;                   ///< name of the node whose water it feels
    std::optional<std::size_t> pump_run; ///< into House::runs: whose pump it stops
    std::optional<std::pair<std::size_t, std::size_t>> valve; ///< run and part it lets fall shut
    std::vector<std::size_t> floors;                          ///< manifolds behind it
    std::string blind; ///< why it cannot feel the water its floors get; empty if it can
};

/// What stands for the highest temperature of such a source where the file is silent.
Habit highest_habit(Source::Kind kind);

/// The warmest water the source can send: `highest_temperature`, or what is usual for its kind.
double highest_flow_c(const House &house);

/// The hottest water the source sends when its control has failed: that, or what the file has it
/// send if that is warmer.
double highest_sent_c(const House &house);

/// The warmest water that every loop of a manifold takes.
double manifold_limit_c(const House &house, const Manifold &manifold);

/// Whether some fault, or several, can send a manifold's loops more than they take: the source is
/// able to. Only then does it need a high-limit stat.
bool can_overheat(const House &house, const Manifold &manifold);

/// The runs the water passes from the source to a place, the last first.
std::vector<std::size_t> feeding_runs(const House &house, const std::string &place);

/// Every stat of the house: those of its runs, then those of its manifolds.
std::vector<Stat> high_limit_stats(const House &house);

/// A point that valves can part from the source.
struct Parted {
    std::string what; ///< "the expansion vessel" or "the safety valve"
    std::string at;
    Place place;
    /// True where only isolating valves among the fittings can; those runs.
    bool by_isolating_valves = false;
    std::vector<std::string> runs;
};

/// Vessel and safety valve that the source can lose. Zone, balancing and check valves, limiters,
/// mixers, diverters, bypass valves and the valves of emitters all count as shut at once, so that
/// no position of them is left out; isolating valves among the fittings are told apart.
std::vector<Parted> parted_from_source(const House &house);

/// A radiator that takes a solid-fuel source's heat by gravity: nothing may stand in its way, so
/// that its valves stay fully open and it has no setting.
bool is_heat_leak(const House &house, const Emitter &emitter);

/// Runs with anti-freeze valves in a house filled with glycol, which they would drain.
std::vector<std::string> draining_glycol(const House &house);

} // namespace headroom::networks
