// What it takes to flush each pipe, and whether water carries air along at the design flows.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/settings.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// A pipe at the design flows, and what flushing it takes.
struct FlushRow {
    std::string where;
    std::string pipe;
    double flow_m3_s;
    double velocity_m_s;
    bool carries_air;
    double flush_m3_s;
    double flush_loss_pa; ///< of this pipe, plain cold water
};

/// Each run's flow pipe and each emitter's pipe.
std::vector<FlushRow> flush_rows(const networks::House &house, const SolvedHouse &design,
                                 double flush_m_s);

} // namespace headroom::solver
