// Heat loss of a room on the design day by the simplified method of EN 12831-1: transmission with
// thermal bridges and temperature factors, and air.
#pragma once

#include <optional>

namespace headroom::models {

/// Heat an air change carries, W/(m3 K) per change an hour: rho c / 3600. EN 12831-1 uses 0.34; the
/// older British habit is 0.33 (a third).
inline constexpr double air_heat_standard = 0.34;
inline constexpr double air_heat_british = 1.0 / 3.0;

/// One wall, window, roof or floor.
struct FabricElement {
    double area_m2;
    double u_w_m2k;
    /// Share of the inside-outside difference that drives it: 1 to outside air; less to an unheated
    /// neighbour or to the ground; 0 to a room as warm. [EN12831-1, temperature factor]
    double temperature_factor = 1.0;
    /// The known temperature on its other side, in place of a factor.
    std::optional<double> beyond_c = std::nullopt;
    double thermal_bridge_w_m2k = 0.0; ///< added to u
};

/// Phi = A (U + dU) f (ti - te), or A (U + dU) (ti - t_beyond) [W]; negative is a gain.
double element_loss_w(const FabricElement &element, double indoor_c, double outdoor_c);

/// Phi = 0.34 n V (ti - te) [W] (or 0.33); n air changes an hour, V room volume [m3].
double air_loss_w(double changes_per_h, double volume_m3, double indoor_c, double outdoor_c,
                  double air_heat = air_heat_standard);

/// Air changes by infiltration from a measured tightness n50 [1/h at 50 Pa]:  n = n50 share, where
/// the share is 0.05 for a sheltered house, 0.07 for an ordinary and 0.10 for an exposed site (the
/// rule of one twentieth and its usual spread; common practice, no source).
double infiltration_changes_per_h(double n50_per_h, double share);

} // namespace headroom::models
