#include "models/expansion_vessel.hpp"

#include <algorithm>
#include <limits>

namespace headroom::models {
namespace {

constexpr double air_pa = 1.0e5;

} // namespace

double expansion_share(const Fluid &fluid, double cold_c, double hot_c) {
    return fluid_state(fluid, cold_c).density_kg_m3 / fluid_state(fluid, hot_c).density_kg_m3 - 1.0;
}

VesselSize vessel_size(const VesselNeed &need) {
    VesselSize out{};
    out.expansion_m3 = need.expansion_share * need.system_m3;
    out.reserve_m3 = std::max(0.005 * need.system_m3, 3e-3);
    out.precharge_pa = std::max(need.static_pa + 0.3e5, 0.7e5);
    out.final_pa =
        need.safety_valve_pa > 5e5 ? 0.9 * need.safety_valve_pa : need.safety_valve_pa - 0.5e5;
    out.volume_m3 = out.final_pa > out.precharge_pa
                        ? (out.expansion_m3 + out.reserve_m3) * (out.final_pa + air_pa) /
                              (out.final_pa - out.precharge_pa)
                        : std::numeric_limits<double>::infinity();
    return out;
}

FillRange fill_range(const VesselSize &size, double vessel_m3) {
    const double precharge = size.precharge_pa + air_pa;
    const double end = size.final_pa + air_pa;
    return {precharge * vessel_m3 / (vessel_m3 - size.reserve_m3) - air_pa,
            end / (1.0 + size.expansion_m3 * end / (vessel_m3 * precharge)) - air_pa};
}

double pressure_when_hot_pa(const VesselSize &size, double vessel_m3, double cold_pa) {
    const double gas = vessel_m3 * (size.precharge_pa + air_pa);
    const double left = std::min(vessel_m3, gas / (cold_pa + air_pa)) - size.expansion_m3;
    return left > 0.0 ? gas / left - air_pa : std::numeric_limits<double>::infinity();
}

} // namespace headroom::models
