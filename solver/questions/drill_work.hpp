// The steps of drill(), one file each, and what they share. For those files alone.
#pragma once

#include "networks/network.hpp"
#include "networks/protection.hpp"
#include "solver/questions/drill.hpp"
#include "solver/solution.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// A house with one fault in it.
struct FaultyHouse {
    std::string fault;
    std::string remark;
    networks::House house;
    std::optional<std::size_t> standing = {}; ///< run whose pump stands
    bool at_rest = false; ///< because no heat is asked for: no room goes cold by it
};

struct DrillWork {
    networks::House house; ///< sized, under the drill's condition
    std::vector<networks::Stat> stats;
    double highest_c = 0.0;
    std::vector<double> free_kg_s; ///< flow of each emitter without a fault; never 0
    std::vector<double> free_run_kg_s;
    std::vector<MixerState> mixers; ///< where they stand without a fault
    DrillAnswer out;
};

/// The single faults that can be put into the house.
std::vector<FaultyHouse> single_faults(const DrillWork &work);

struct DrillState {
    networks::Network network;
    Solution solution;
};

DrillState drill_state(const networks::House &house);

/// Temperature where a stat feels it; still water has the room's.
double felt_c(const networks::Stat &stat, const DrillState &state);

/// The house once the stat has acted.
networks::House with_stat_tripped(networks::House house, const networks::Stat &stat);

double source_flow_m3_s(const DrillState &state);
double run_flow_kg_s(const DrillState &state, std::size_t run);
/// Heat that the water takes from the source.
double heat_taken_w(const DrillState &state, double sent_c);
FloorWater floor_water(const DrillWork &work, const DrillState &state, std::size_t manifold);
/// The share of its heat that each room gets.
std::vector<RoomShare> room_shares(const DrillWork &work, const DrillState &state);

/// Adds the fault's row, from the solved state of its house to what follows from it.
void add_row(DrillWork &work, const FaultyHouse &faulty, DrillState state);

/// What is missing and what is worth a warning.
void find_missing(DrillWork &work);

} // namespace headroom::solver
