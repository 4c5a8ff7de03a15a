// A heating coil in a hot-water store whose water is mixed: what it passes as the store warms.
#pragma once

namespace headroom::models {

/// Effectiveness of a coil in a store of one temperature,
///     eps = (T_in - T_out) / (T_in - T_store) = 1 - exp(-UA / C) ,
/// UA conductance from coil water to store [W/K, from 0], C flow times heat capacity in the coil
/// [W/K, above 0]. The store side changes temperature so slowly that it counts as boiling would:
/// capacity ratio 0. [Incropera2007, ch. 11]
double coil_effectiveness(double conductance_w_k, double capacity_rate_w_k);

/// The UA [W/K] that gives an effectiveness from 0 to below 1 at C: -C ln(1 - eps). Infinite at 1
/// and above.
double coil_conductance_w_k(double effectiveness, double capacity_rate_w_k);

/// A coil, the store around it and the hottest water its source may send.
struct CoilInStore {
    double store_j_k;         ///< mass times heat capacity of the stored water, above 0
    double conductance_w_k;   ///< UA, above 0
    double capacity_rate_w_k; ///< C, above 0
    double allowed_c;         ///< hottest water sent
};

/// Heat [W] per kelvin of water sent above the store: eps C.
double coil_pass_w_k(const CoilInStore &coil);

/// Heat into the store at `store_c` by a source that gives at most `output_w`:
///     Q = min(output, eps C (T_allowed - T_store)) , not below 0.
double coil_heat_w(const CoilInStore &coil, double store_c, double output_w);

/// Water temperature [degC] that the source then sends: T_store + Q / (eps C).
double coil_sent_c(const CoilInStore &coil, double store_c, double heat_w);

/// The store's temperature from which the allowed temperature holds the output back:
/// T_allowed - output / (eps C).
double held_from_c(const CoilInStore &coil, double output_w);

/// Time [s] to heat the store from one temperature to a higher one, `M c dT/dt = Q(T)` integrated
/// exactly: M c (T_x - T_0) / P at constant output up to T_x = held_from_c, then
///     (M c / eps C) ln((T_allowed - T_x) / (T_allowed - T_1)) .
/// 0 if it is as warm already; infinite if it cannot be reached. Losses of the store are left out.
double heating_time_s(const CoilInStore &coil, double from_c, double to_c, double output_w);

} // namespace headroom::models
