// Loss coefficients of 90 degree tees that depend on how the flow splits, referred to the velocity
// of the combined leg. Crane TP-410 (2009) with its published errata [Crane2009]. `share` is the
// branch flow over the combined flow, 0 to 1; `bore_ratio` branch bore over run bore, 0.3 to 1.
// A negative value is genuine: the faster stream drags the slower one along.
#pragma once

namespace headroom::models {

double converging_tee_run(double share);
double converging_tee_branch(double share, double bore_ratio = 1.0);
double diverging_tee_run(double share, double bore_ratio = 1.0);
double diverging_tee_branch(double share, double bore_ratio = 1.0);

} // namespace headroom::models
