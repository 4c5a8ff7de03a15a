#include "models/room_loss.hpp"

namespace headroom::models {

double element_loss_w(const FabricElement &element, double indoor_c, double outdoor_c) {
    const double conductance = element.area_m2 * (element.u_w_m2k + element.thermal_bridge_w_m2k);
    if (element.beyond_c)
        return conductance * (indoor_c - *element.beyond_c);
    return conductance * element.temperature_factor * (indoor_c - outdoor_c);
}

double air_loss_w(double changes_per_h, double volume_m3, double indoor_c, double outdoor_c,
                  double air_heat) {
    return air_heat * changes_per_h * volume_m3 * (indoor_c - outdoor_c);
}

double infiltration_changes_per_h(double n50_per_h, double share) {
    return n50_per_h * share;
}

} // namespace headroom::models
