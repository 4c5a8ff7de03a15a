#include "models/boiler.hpp"

#include "models/flue_gas.hpp"

#include <algorithm>

namespace headroom::models {

BoilerState boiler_state(const Boiler &boiler, double return_c, double heat_w) {
    const double flue_c = return_c + boiler.approach_k;
    const FlueEfficiency flue = flue_efficiency(flue_c, boiler.air_ratio, boiler.condensing);
    BoilerState state{};
    state.condensate_share = flue.condensate_share;
    state.flue = flue.flue;
    state.load = LoadStatus::Off;
    if (heat_w <= 0.0)
        return state;
    state.load = LoadStatus::Modulates;
    if (heat_w < boiler.least_w) {
        state.load = LoadStatus::Cycles;
    } else if (heat_w > boiler.greatest_w) {
        state.load = LoadStatus::FallsShort;
        state.short_w = heat_w - boiler.greatest_w;
    }
    state.output_w = std::min(heat_w, boiler.greatest_w);
    state.gas_w = (state.output_w + boiler.case_loss_share * boiler.greatest_w) / flue.gross;
    state.efficiency = state.output_w / state.gas_w;
    return state;
}

} // namespace headroom::models
