// A gas boiler: its efficiency follows the return water, which cools the flue gas.
#pragma once

#include "models/source_range.hpp"

namespace headroom::models {

/// All outputs are into the water. Common practice, no source, for every default.
struct Boiler {
    double greatest_w;    ///< above 0
    double least_w = 0.0; ///< lowest steady output, 0 to greatest_w
    /// Whether its exchanger is made for condensate. One that is not needs a flue well above its
    /// dew point: a large approach.
    bool condensing = true;
    /// Flue at exit above returning water, at any load [K]: 5 to 10 when condensing.
    double approach_k = 7.5;
    double air_ratio = 1.25; ///< from 1
    /// Heat lost from the case over greatest_w [-], 0 to 1; lost all the while heat is asked for,
    /// cycling or not. Counted as lost, though it may warm a room.
    double case_loss_share = 0.0;
};

struct BoilerState {
    double output_w;         ///< into the water, mean over on and off
    double gas_w;            ///< gross heat of the gas burnt, mean
    double efficiency;       ///< output over gas_w, gross; 0 when off
    double condensate_share; ///< of the water formed that condenses [-]
    double short_w;          ///< heat asked for and not given
    LoadStatus load;
    RangeStatus flue; ///< flue temperature against what the relation covers; held at its end
};

/// What a boiler gives and burns:
///     gas = (output + s P) / eta(return + approach) ,
/// eta flue_efficiency(), s case loss share, P greatest output [W]; return_c water coming back
/// [degC], heat_w asked for [W], heat is positive into the water. Below the least output it runs
/// heat/least of the time at its least output; above the greatest it gives that and says what is
/// missing; at none or less it is off and burns nothing. Return temperatures that put the flue
/// below 25 or above 250 degC are held there, and said so. A boiler not made for condensate keeps
/// the latent heat as lost.
BoilerState boiler_state(const Boiler &boiler, double return_c, double heat_w);

} // namespace headroom::models
