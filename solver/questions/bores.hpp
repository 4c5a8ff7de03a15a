// The same rooms laid in each bore, side by side.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/bore_pipes.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/least_changes.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// The house with all its floor loops in one pipe.
struct BoreRow {
    std::string pipe;
    double bore_m;
    int loops;
    double pipe_m;                  ///< of all loops
    double longest_loop_m;          ///< port to port
    std::optional<double> output_w; ///< to the rooms, all loops at the common flow temperature and
                                    ///< their design drop; of described floors
    std::optional<double> needs_c;  ///< flow temperature that the most demanding loop needs
    double source_l_min;
    std::string index;
    double index_l_min;
    double index_velocity_m_s;
    double index_reynolds;
    std::string index_regime;
    double index_loss_pa; ///< through the index loop and its open valves
    double needed_pa;
    double available_pa;
    double headroom_pa;
    double headroom_low_pa;
    double headroom_high_pa;
    bool enough;     ///< headroom at the bad end of the band is not negative
    Verdict verdict; ///< of drive, everything counted
    std::string sentence;
    double circulator_w; ///< electricity at the head needed
    double volume_m3;    ///< of water in the loops
    std::optional<double> seasonal_performance;
    std::optional<double> electricity_kwh; ///< a year, source and pumps
    std::optional<double> yearly_cost;
    double material_cost;                   ///< pipe, laying and ports by the price list
    std::optional<double> longest_driven_m; ///< to which the index loop alone could grow, its floor
                                            ///< and heat with it, until the head is used up
    std::optional<LeastChanges> changes;    ///< of a refused row: its loops keep their pipe
};

struct BoresAnswer {
    std::string house;
    networks::TextForm form;
    double common_c = 0.0;       ///< flow temperature of the house as it is
    std::vector<BoreRow> relaid; ///< each bore laid anew at its own sensible lengths
    std::vector<BoreRow> same;   ///< each bore at the lengths the file has
    std::vector<LeftOutPipe> left_out;
    double loop_head_pa = 0.0;            ///< a loop laid anew may lose
    double pump_efficiency = 0.0;         ///< assumed, hydraulic over electric power
    std::vector<std::string> conclusions; ///< laid anew, then at the lengths of the file
    std::string habit;                    ///< what the trade says, and how this house compares
    std::vector<std::string> cautions;
    std::string currency;
    std::string yearly_currency;
    Outcome outcome; ///< of the first variant that could not be solved
};

/// Empty if `bores` can be asked of the house, else why not.
std::string why_no_bores(const networks::House &house);

/// Each row that drive() refuses gets the cheapest set of changes that turns its verdict, sought
/// over at most limits.most_judged houses a row.
BoresAnswer bores(const networks::House &house, const BorePipes &pipes, const SearchLimits &limits,
                  const Progress &progress = {});

} // namespace headroom::solver
