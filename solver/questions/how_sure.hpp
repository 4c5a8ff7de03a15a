// How sure a verdict is: repeated over houses drawn within the tolerances.
#pragma once

#include "networks/house.hpp"

#include <functional>
#include <string>
#include <vector>

namespace headroom::solver {

/// One uncertain input, and what it does to the headroom of the design state.
struct UncertainInput {
    std::string what;
    std::string range;    ///< in words, "-/+ 5 %"
    double spread_share;  ///< of the headroom's variance: its squared correlation with headroom
    double full_range_pa; ///< headroom at the upper end of the input less that at the lower, by the
                          ///< straight line through all samples
};

struct HowSure {
    int samples = 0;
    int works = 0; ///< head, heat and water temperature all right
    int short_of_head = 0;
    int short_of_heat = 0; ///< a room that no flow heats at the water's temperature
    int too_hot = 0;       ///< a floor that would get water it must not have
    int not_solved = 0;
    double headroom_low_pa = 0.0; ///< of all samples 5 % have less
    double headroom_middle_pa = 0.0;
    double headroom_high_pa = 0.0;      ///< 5 % have more
    double explained_share = 0.0;       ///< of the variance, by all inputs together
    std::vector<UncertainInput> inputs; ///< what matters most first
    bool tolerances_stated = false;     ///< under `margin:`; else they are assumed

    double chance() const { return samples > 0 ? static_cast<double>(works) / samples : 0.0; }
};

/// Every sample is a house of its own: all bores, roughnesses, fittings, filters, the circulator's
/// curve and the laminar-turbulent transition, each room's heat, each loop's and each run's length
/// are drawn evenly within the tolerances of House::margin, sized again and solved (flow and heat)
/// in the design state and, where there is one, the hot-water state. A laid loop keeps its floor
/// section. Inputs are points of a rank-1 lattice, so that each alone runs evenly through its range
/// and any count of threads gives the same answer. `samples` is raised to the next prime number.
/// `progress` hears how many are done, from one thread at a time.
HowSure how_sure(const networks::House &house, int samples, unsigned threads,
                 const std::function<void(int)> &progress = {});

} // namespace headroom::solver
