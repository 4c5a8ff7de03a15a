// The house's pumps and inlet temperatures as the file leaves them, solved once.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/pump_duty.hpp"

#include <vector>

namespace headroom::solver {

struct AsFound {
    bool solved = false;
    double source_kg_s = 0.0;
    double electric_w =
        0.0; ///< of all running pumps: their power curve, or hydraulic power over efficiency
    bool efficiency_assumed = false; ///< the habit was used for some pump
    std::vector<PumpDuty> pumps;     ///< stopped ones too
    std::vector<double> inlet_c;     ///< of each of House::emitters
};

/// `house` must be sized.
AsFound as_found(const networks::House &house);

} // namespace headroom::solver
