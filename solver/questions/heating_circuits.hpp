// Which emitters share a flow temperature, and what each can give: the house as its weather curves
// see it.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// An emitter whose output is known at any flow and inlet temperature.
struct CurveEmitter {
    std::size_t emitter; ///< into House::emitters
    networks::Emission emission;
    double design_w;      ///< to its room on the design day
    double design_flow_c; ///< what it needs then at its own drop
    double most_kg_s;     ///< its flow then; no more ever passes
    double inlet_share;   ///< excess over its room at its inlet, of that at source or mixer
    bool described;       ///< else its emission is taken from heat, drop and temperature
};

/// Emitters behind one mixer, or all that no mixer stands before.
struct HeatingCircuit {
    std::string name;
    std::optional<std::size_t> mixer_run; ///< into House::runs
    std::vector<CurveEmitter> emitters;
    double design_c = 0.0;            ///< flow temperature held all year without a weather curve
    std::optional<double> found_c;    ///< what a mixer at a fixed position sends as found
    std::optional<double> highest_c;  ///< the lowest limit of its floors
    bool floor_limit_assumed = false; ///< of highest_c
};

struct HeatingHouse {
    networks::House house; ///< sized, with a described source
    std::vector<HeatingCircuit> circuits;
    double design_source_c = 0.0;          ///< held all year without a weather curve
    double needed_c = 0.0;                 ///< the warmest circuit's on the design day
    double design_w = 0.0;                 ///< of all emitters, to their rooms
    std::optional<double> primary_kg_s;    ///< before a header, as found
    std::optional<double> pump_electric_w; ///< of all pumps, as found; none if that is not solved
    bool pump_efficiency_assumed = false;
    bool source_assumed = false; ///< the file does not say what the source gives
    std::string unsettled;       ///< why its design day is doubtful; empty if it is not
};

/// Finds circuits along the runs from the source: an emitter belongs to the last mixer before it.
/// An emitter whose build the file does not give gets one that follows
///     heat ~ (mean water - room)^n ,  n the habit for its kind ,
/// through its heat and drop at the flow temperature it has on the design day: the source's, its
/// mixer's, or where a mixer stands at a fixed position what the network as found sends it, but not
/// above its floor's limit. Water that cools on its way, by pipes or by radiators before it on a
/// ring, is taken to lose the same share of its excess over the room all year. The house needs a
/// source, an outdoor temperature and emitters.
HeatingHouse heating_house(const networks::House &given);

} // namespace headroom::solver
