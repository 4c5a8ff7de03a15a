// Published regressions of heat pumps' COP, to compare one heat pump with what is usual. They
// differ among themselves: at a lift of 50 K the two for air by a fifth.
#pragma once

#include "models/source_range.hpp"

namespace headroom::models {

struct RegressionCop {
    double cop;
    RangeStatus lift; ///< against the regression's range; held at its end
};

/// COP = a + b dT + c dT^2, dT lift: flow temperature less source temperature [K].
/// Outside its range the lift is held at the range's end, and said so.
/// Air: 6.81 - 0.121 dT + 0.000630 dT^2, 15 to 60 K. [Staffell2012]
RegressionCop staffell_2012_air_cop(double lift_k);
/// Ground: 8.77 - 0.150 dT + 0.000734 dT^2, 20 to 60 K. [Staffell2012]
RegressionCop staffell_2012_ground_cop(double lift_k);
/// Air: 6.08 - 0.09 dT + 0.0005 dT^2, from 15 K, below which its authors hold it; the upper end of
/// 60 K is ours. In their use they multiply by 0.85 for losses in operation (from memory); here it
/// is left out. [Ruhnau2019]
RegressionCop ruhnau_2019_air_cop(double lift_k);
/// Ground: 10.29 - 0.21 dT + 0.0012 dT^2, otherwise as for air. [Ruhnau2019]
RegressionCop ruhnau_2019_ground_cop(double lift_k);

} // namespace headroom::models
