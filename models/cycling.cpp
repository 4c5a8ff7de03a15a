#include "models/cycling.hpp"

#include "models/units.hpp"

namespace headroom::models {

CycleState on_off_cycle(double load_w, double output_w, double store_j) {
    CycleState state{};
    state.run_s = store_j / (output_w - load_w);
    state.rest_s = store_j / load_w;
    state.starts_per_h = seconds_per_hour / (state.run_s + state.rest_s);
    return state;
}

} // namespace headroom::models
