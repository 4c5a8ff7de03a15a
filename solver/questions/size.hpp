// From heat to flow: the flow temperature the house needs and each emitter's design flow.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/fixed_mixers.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// One emitter whose output is worked out from its build.
struct SizedEmitter {
    std::size_t emitter;    ///< into House::emitters
    double room_w;          ///< heat its room needs of it
    double water_w;         ///< heat it takes from the water, with what a floor loses downwards
    double own_inlet_c;     ///< inlet temperature it needs at its own design drop
    double own_water_w;     ///< heat it then takes from the water
    double own_flow_c;      ///< the source's flow temperature that this asks for
    double inlet_c;         ///< of its water when the source sends the house's flow temperature
    double flow_kg_s;       ///< at that inlet
    double drop_k;          ///< that follows
    double design_drop_k;   ///< its own, from the file
    bool reaches;           ///< gives the room's heat at the house's flow temperature
    double most_w;          ///< what it gives at the most flow (least_drop_k)
    double gives_w;         ///< what it gives at its flow: more than room_w where the source's
                            ///< greatest drop asks for more flow than the room does
    double surface_c = 0.0; ///< highest on a floor
    std::optional<double> surface_limit_c;
    std::optional<double> conduction_w_m2k; ///< of a floor: heat up per K of mean water above room
    std::optional<double> standard_w_m2k;   ///< the same by EN 1264-2, where its tables reach
};

struct Sizing {
    networks::House house; ///< with heats, drops and the flow temperature filled in
    std::vector<SizedEmitter> emitters;
    bool temperature_computed = false;    ///< the file left it open
    std::string set_by;                   ///< the emitter that asks for the most
    double needed_c = 0.0;                ///< the highest of the emitters' own flow temperatures
    int rounds = 0;                       ///< of inlet temperatures solved with the hydraulics
    double inlet_change_k = 0.0;          ///< largest change of an inlet in the last round
    bool settled = true;                  ///< false: that change is still above the tolerance
    std::vector<FixedMixer> fixed_mixers; ///< that emitters were sized behind
    std::vector<double> cooling_k;        ///< of the water on its way to each of House::emitters
    std::optional<double> heat_capacity_j_kg_k; ///< of the network it was found in, if it was
};

/// To this the inlet temperatures at all emitters agree with those of the solved network.
inline constexpr double inlet_tolerance_k = 1e-6;

/// The same where many houses like one are sized for a count of them: they start from what was
/// found for that one.
inline constexpr double near_inlet_tolerance_k = 1e-3;

/// No emitter is given more flow than its heat asks for at this drop, or at its own design drop
/// where that is less: more flow gains little and costs much head (common practice, no source).
inline constexpr double least_drop_k = 5.0;
inline double drop_at_most_flow_k(double design_drop_k) {
    return std::min(design_drop_k, least_drop_k);
}

/// Why a sizing that has not settled is no answer.
std::string unsettled_inlets(const Sizing &sizing);

/// Converged, or that the inlets have not settled.
Outcome sizing_outcome(const Sizing &sizing);

/// In a direct system all emitters share one flow temperature. The emitter that needs the most at
/// its design drop sets it, up to what the source can send, unless the file states one; each other
/// takes the least flow that gives its heat, and its drop follows, down to least_drop_k; where the
/// water is too cold for that, it takes the flow that carries its heat at that drop, and gives
/// less. None is left a larger drop than the source's greatest, if the file states one: it takes
/// the flow for that. Emitters without a described build keep the heat and drop of the file. Where
/// pipes lose heat, or described radiators stand in a one-pipe ring, water reaches an emitter
/// cooler than it was sent. Then the single-circulator house is solved in its design state (flows,
/// viscosity, film and temperatures together), each emitter is sized again at the inlet found, and
/// so on until no inlet changes by more than inlet_tolerance_k. With the sizing of a like house
/// this starts from what was found there, and near_inlet_tolerance_k is enough.
Sizing size(networks::House given, const Sizing *like = nullptr);

/// The same for a house that keeps its mixers: behind one an emitter is sized at the temperature
/// that it holds, or that it mixes where it stands at a fixed position (fixed_mixers.hpp), or at
/// the source's where that is less. Without a described build it is taken to give its heat there,
/// at the drop of the file. What it cools on its way is that of the single-circulator house.
Sizing size_as_found(const networks::House &given);

/// The same where size() of the house is at hand: it is that one unless a mixer stays.
Sizing size_as_found(const networks::House &given, const Sizing &sized);

} // namespace headroom::solver
