#include "models/flue_gas.hpp"

#include "models/saturation.hpp"

#include <algorithm>

namespace headroom::models {
namespace {

constexpr double atmosphere_pa = 101325.0;
constexpr double nitrogen_per_oxygen = 0.7905 / 0.2095; // argon counted as nitrogen
constexpr double water_moles = 2.0;

// Mean heat capacities from 25 to about 75 degC [J/(mol K)], from memory.
constexpr double carbon_dioxide_j_mol_k = 37.9;
constexpr double oxygen_j_mol_k = 29.5;
constexpr double nitrogen_j_mol_k = 29.13;
constexpr double vapour_j_mol_k = 33.7;
constexpr double liquid_j_mol_k = 75.3;
constexpr double vaporisation_j_mol = (methane_gross_j_mol - methane_net_j_mol) / water_moles;

// Per mole of methane: CH4 + 2 a (O2 + N2) -> CO2 + 2 H2O + 2 (a - 1) O2 + 2 a N2.
struct DryGas {
    double oxygen, nitrogen;

    double moles() const { return 1.0 + oxygen + nitrogen; }
    double heat_capacity_j_k() const {
        return carbon_dioxide_j_mol_k + oxygen * oxygen_j_mol_k + nitrogen * nitrogen_j_mol_k;
    }
};

DryGas dry_gas(double air_ratio) {
    const double a = std::max(air_ratio, 1.0);
    return {2.0 * (a - 1.0), 2.0 * a * nitrogen_per_oxygen};
}

} // namespace

double flue_dew_point_c(double air_ratio) {
    const double share = water_moles / (water_moles + dry_gas(air_ratio).moles());
    return saturation_temperature_c(share * atmosphere_pa);
}

FlueEfficiency flue_efficiency(double flue_c, double air_ratio, bool condenses) {
    const DryGas dry = dry_gas(air_ratio);
    const HeldValue flue = held_within(flue_c, combustion_air_c, flue_highest_c);
    double vapour = water_moles;
    if (condenses && flue.value < flue_dew_point_c(air_ratio)) {
        const double saturation = saturation_pressure_pa(flue.value);
        vapour = std::min(dry.moles() * saturation / (atmosphere_pa - saturation), water_moles);
    }
    const double liquid = water_moles - vapour;
    const double capacity =
        dry.heat_capacity_j_k() + vapour * vapour_j_mol_k + liquid * liquid_j_mol_k;
    const double lost_j = capacity * (flue.value - combustion_air_c) + vapour * vaporisation_j_mol;
    return {1.0 - lost_j / methane_gross_j_mol, liquid / water_moles, flue.status};
}

} // namespace headroom::models
