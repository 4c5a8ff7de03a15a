// On-off running of a source whose least output is above the load.
#pragma once

namespace headroom::models {

struct CycleState {
    double starts_per_h;
    double run_s;  ///< of one start
    double rest_s; ///< between two runs
};

/// A source of output P [W] on a steady load Q [W], with a store that takes up E [J] between off
/// and on. It fills the store while it runs and rests until the load has emptied it:
///     run = E / (P - Q) ,  rest = E / Q ,  starts = Q (P - Q) / (E P) ,
/// most often started at half load, P / (4 E). 0 < Q < P, E > 0. An energy balance; that the swing
/// is used in full and evenly is common practice, no source.
CycleState on_off_cycle(double load_w, double output_w, double store_j);

} // namespace headroom::models
