// Hot water, the climate and what energy costs, as the engineer describes them.
#pragma once

#include "models/climate.hpp"
#include "networks/pipework.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::networks {

/// Some warm water at the tap, a day.
struct Draw {
    double volume_m3 = 0.0;
    double at_c = 40.0;
};

/// The store heated through from time to time, against legionella.
struct Pasteurising {
    double to_c = 60.0;
    double every_h = 0.0;
    std::optional<double> source_to_c; ///< what the source does of it; else the usual store_to
};

/// The cylinder behind a coil; each part as far as the file gives it.
struct Cylinder {
    std::optional<double> volume_m3;
    std::optional<double> coil_area_m2;
    std::optional<double> coil_u_w_m2_k; ///< with the area
    std::optional<double> coil_ua_w_k;   ///< stated, or their product
    std::optional<double> cold_c;        ///< of the mains
    std::optional<double> store_to_c;
    std::optional<double> reheat_from_c; ///< store at which the reheat is called for
    std::optional<Draw> draw;
    std::optional<double> immersion_w; ///< electric heater in the store
    std::optional<Pasteurising> pasteurising;
};

struct HotWater {
    std::string from; ///< place of the diverter
    Resistance coil;
    double flow_m3_s = 0.0; ///< flow the coil needs
    double flow_temperature_c = 60.0;
    double drop_k = 5.0;
    bool after_run_to_floors = false; ///< hot water left in the source goes to the heating side
    Cylinder cylinder;
    Place place;
    Place from_place;
};

/// The weather of a year, and how the house is run through it.
struct Year {
    std::optional<models::ClimateKind> climate;
    std::vector<models::TemperatureBin> hours; ///< in place of a climate
    std::optional<double> heating_limit_c;     ///< no heat at or above it
    /// Sun and people give all year what the house loses at the heating limit.
    bool free_heat = true;
    std::optional<double> lowest_flow_c; ///< ends of the weather curve
    std::optional<double> highest_flow_c;
};

/// What takes up the heat of a source whose least output is above the load.
struct CycleStore {
    std::optional<double> added_water_m3; ///< that no part of the house holds: source
    std::optional<double> water_swing_k;
    std::optional<double> floor_swing_k;
};

/// Prices and CO2 factors of energy.
struct Tariff {
    std::optional<double> electricity_per_kwh;
    std::optional<double> gas_per_kwh; ///< of gross heat
    std::optional<double> electricity_kg_kwh;
    std::optional<double> gas_kg_kwh;
    std::string currency; ///< words for it, may be empty
};

} // namespace headroom::networks
