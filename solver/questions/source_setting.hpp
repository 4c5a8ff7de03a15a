// What the source's circulator is set to where it is the only pump: one answer for all questions.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/drive.hpp"

#include <optional>

namespace headroom::solver {

/// The circulator while the balancing valves are set, each emitter at its design flow.
struct BalancedAt {
    double flow_m3_s = 0.0;
    double needed_pa = 0.0;
    double set_pa = 0.0; ///< 0: it is not enough
};

/// At the design flow or, where that is less than the source's least flow, at the least flow, with
/// the valves as they are set for the design flow.
struct SourceSetting {
    BalancedAt balanced;
    double flow_m3_s = 0.0;
    double needed_pa = 0.0;    ///< at flow_m3_s
    double available_pa = 0.0; ///< there, on its highest curve
    double inner_pa = 0.0;     ///< that the source's inner parts take of a gross curve there
    double set_pa = 0.0;       ///< 0: it is not enough
    double speed = 0.0;        ///< of its highest curve, that gives set_pa or else needed_pa

    bool enough() const { return set_pa > 0.0; }
    bool below_least_flow() const { return flow_m3_s > balanced.flow_m3_s; } ///< when balanced
};

/// `full` is the house with its circulator on the highest curve, `free` the same running free with
/// every valve set.
SourceSetting source_setting(const networks::House &full, const networks::House &free,
                             const BalancedAt &balanced);

/// A single-circulator house, running free with the balancing valves as `drive` sets them.
networks::House as_set(const networks::House &single, const DriveAnswer &driven);

/// Of the water the source sends at the house's flow temperature.
double sent_density_kg_m3(const networks::House &house);

/// The source's flow of a house as it is, or nothing if it has no solution.
std::optional<double> source_flow_kg_s(const networks::House &house);

/// The circulator's own rise [Pa] at a flow and the house's flow temperature, inner parts left out.
double circulator_rise_pa(const networks::House &house, double flow_kg_s);

/// The speed at which the source's circulator has that rise.
double circulator_speed_for(const networks::House &house, double flow_kg_s, double rise_pa);

} // namespace headroom::solver
