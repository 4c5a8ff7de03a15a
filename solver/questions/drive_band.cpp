// How far headroom may lie from its middle estimate.
#include "solver/questions/drive_work.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
using networks::House;

// Both ends without buoyancy and, where levels are known, with it: it may help or hinder.
void add_band(DriveWork &work, StateRow &row, bool hot_water) {
    row.headroom_low_pa = row.headroom_high_pa = row.headroom_pa;
    for (const bool worse : {true, false})
        for (const bool buoyancy : {false, true}) {
            if (buoyancy && !work.ideal.levels_given)
                continue;
            House house = at_band_end(work.ideal, worse);
            house.condition.buoyancy = buoyancy;
            house.condition.hot_water = hot_water;
            const Headroom end = headroom_of(house);
            if (!end.outcome.converged())
                return work.not_solved(end.outcome,
                                       row.state + (worse ? ", low end" : ", high end"));
            if (!std::isfinite(end.pa)) { // no head is short of it: the state says so in words
                row.doubt = fmt::format("at the {} end of the tolerances no head drives every loop "
                                        "and radiator",
                                        worse ? "bad" : "good");
                continue;
            }
            row.headroom_low_pa = std::min(row.headroom_low_pa, end.pa);
            row.headroom_high_pa = std::max(row.headroom_high_pa, end.pa);
        }
    if (hot_water)
        return;
    const networks::Margin &margin = work.ideal.margin;
    work.out.band = {"laminar-turbulent transition early (Re 2000-2300) or late (Re 3800-4600)",
                     fmt::format("circulator curve -/+ {:.3g} %, bores -/+ {:.3g} %",
                                 100.0 * margin.curve, 100.0 * margin.bore),
                     fmt::format("filters {:.3g} % dirtier at the low end", 100.0 * margin.filter),
                     work.ideal.levels_given
                         ? "buoyancy, left out of the middle estimate, at both ends"
                         : "buoyancy left out (no levels given)"};
    if (!margin.stated)
        work.out.band.push_back("these tolerances are assumed: common practice, no source; state "
                                "yours under `margin:`");
}

} // namespace headroom::solver
