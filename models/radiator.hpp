#pragma once

namespace headroom::models {

/// A radiator, fan convector or towel rail by its rated output (EN 442-2):
///     Phi = share Phi_N (dT/dT_N)^n
/// with dT the excess of mean water over room temperature.
struct Radiator {
    double rated_w;        ///< at the rating temperatures
    double exponent = 1.3; ///< n, 1.0 to 1.8
    double rated_flow_c = 75.0;
    double rated_return_c = 65.0;
    double rated_room_c = 20.0;
    /// Of the rated output, what the way it is connected leaves, or a fan that stands. The rating
    /// of EN 442-2 is with the flow at the top and the return at the bottom of one end.
    double share = 1.0;
};

/// Phi at an arithmetic mean excess [K]; the standard's own form, for tables.
double radiator_output_at_excess_w(const Radiator &radiator, double excess_k);

/// Phi at 75/65/20, as a radiator is sold, whatever its connection or a fan that stands leaves of
/// it [EN442-2].
double radiator_size_w(const Radiator &radiator);

/// Outlet water temperature and output with the temperature falling along the radiator as a plug:
///     dT/dA ~ -(T - room)^n   =>   (out - room)^(1-n) = (in - room)^(1-n) + k/m ,
/// k from the rating point. Exact for output proportional to excess^n; at a tenth of the rated flow
/// the arithmetic mean overstates output by 15 %. `flow_kg_s` >= 0, heat capacity in J/(kg K). At
/// no flow the outlet is at room temperature. Water cooler than the room gives no heat.
struct RadiatorState {
    double out_c;
    double output_w;
};
RadiatorState radiator_state(const Radiator &radiator, double in_c, double room_c, double flow_kg_s,
                             double heat_capacity_j_kg_k);

} // namespace headroom::models
