// The water in a closed system: how much, what it grows by, what has to be added, what pressure it
// needs and whether it carries its air along.
#pragma once

#include "models/expansion_vessel.hpp"
#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/flushing.hpp"
#include "solver/questions/volume.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// A value taken by habit, in words.
struct AssumedValue {
    std::string what;
    std::string value;
    std::string range;
    std::string remark;
};

struct OpenVolume {
    double always_m3; ///< circulates with every zone shut
    std::optional<double> wanted_low_m3, wanted_high_m3;
    std::string wanted_by; ///< who says so; empty if nobody does
};

struct HighPoint {
    std::string where;
    double above_vessel_m;
    std::optional<double> still_pa;   ///< gauge, cold, pump off; absent without a fill pressure
    std::optional<double> running_pa; ///< gauge, least at that height in the design state
    double wanted_pa;
};

/// Pressure at the vessel.
struct FillPressure {
    double vessel_m3; ///< the one there is, or else the least usual size
    bool vessel_given;
    bool vessel_enough;
    models::FillRange range; ///< cold
    /// A smaller usual size that holds the growth but not from the given fill pressure, and what it
    /// takes cold.
    std::optional<double> smaller_m3;
    models::FillRange smaller_range;
    std::optional<double> given_pa;
    std::optional<double> hot_pa; ///< from the given fill pressure, precharge as computed
};

struct FillAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    std::vector<VolumePart> parts;
    std::optional<double> other_m3; ///< stated: source, coil, buffer
    double system_m3 = 0.0;
    double cold_c = 10.0;
    double hot_c = 0.0;
    std::string hot_by; ///< where it comes from
    double expansion_share = 0.0;
    double safety_valve_pa = 0.0;
    models::VesselSize size{};
    FillPressure pressure{};
    HighPoint high{};
    bool levels_given = false;
    OpenVolume open{};
    std::optional<double> inhibitor_m3, inhibitor_share;
    std::optional<double> glycol_m3, glycol_volume_share;
    double flush_m_s = 0.0;
    std::vector<FlushRow> flushing;
    std::vector<AssumedValue> assumed;
    std::vector<std::string> faults; ///< what is wrong, in words
    std::vector<std::string> remarks;
    std::vector<std::string> cautions;
    Outcome outcome;
};

/// Empty if `fill` can be asked of the house, else why not.
std::string why_not_filled(const networks::House &house);

FillAnswer fill(const networks::House &house);

} // namespace headroom::solver
