// Settings of the balancing valves: what each must take so that the house, running free, gives
// every emitter its design flow.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/questions/judge.hpp"
#include "solver/solution.hpp"

#include <algorithm>
#include <string>
#include <vector>

namespace headroom::solver {

/// A house with its network and the solution of it.
struct SolvedHouse {
    networks::Network network;
    Solution solution;

    double source_l_min() const;
    /// Flow of an emitter over its design flow.
    double share(const networks::EmitterLinks &links) const;
};

SolvedHouse solved(const networks::House &house);

double litres_per_minute(double flow_kg_s, double density_kg_m3);

/// One emitter's balancing valve.
struct ValveSetting {
    std::size_t emitter;   ///< into House::emitters
    double design_kg_s;    ///< what it should pass
    double flow_kg_s;      ///< what it passes with ideal valves: less where the pump is too weak
    double loss_pa;        ///< what the set valve takes
    double surplus_pa;     ///< of it, beyond the open valve
    double circuit_pa;     ///< between the emitter's flow and return connections
    double kv_m3_h;        ///< the setting
    double finest_kv_m3_h; ///< the least it can be set to
    bool finest_assumed;   ///< the file does not say so
    double free_kg_s;      ///< what it passes in the free-running house with all settings
    bool is_set;           ///< false for a heat leak, whose valves stay fully open

    bool in_range() const { return !is_set || kv_m3_h >= finest_kv_m3_h; }
    /// An index, within the tolerance of the search for the head needed, or so near to it that
    /// open it gets less than 0.5 % too much: no hand sets a valve so finely.
    bool stays_open() const { return surplus_pa < std::max(1.0, 0.01 * circuit_pa); }
};

struct Settings {
    Outcome outcome;
    std::string state;                ///< the state that was not solved, if one was not
    std::vector<ValveSetting> valves; ///< in the network's order
    networks::House set;              ///< the house with the settings
    SolvedHouse free;                 ///< and running free
    double worst_error = 0.0;         ///< largest relative departure from the flow of ideal valves
};

/// Settings for a house whose emitters carry ideal balancing valves (with_ideal_balancing) and
/// whose pumps run as they will. What an ideal valve destroys is what the set valve must take: Kv =
/// V sqrt(1 bar/dp . rho/1000) [IEC60534-1]. The result is checked in the free-running house.
Settings valve_settings(const networks::House &ideal);
/// The same where that house is solved already.
Settings valve_settings(const networks::House &ideal, const SolvedHouse &limited);

/// The pressure the source's circulator, or a run's pump, is turned down to: what is needed, unless
/// its least speed gives more.
double turned_down_pa(const networks::House &ideal, const HeadNeeded &needed,
                      std::optional<std::size_t> run = {});

} // namespace headroom::solver
