// What each single fault does to the solved house, and what stops the harm.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// What one floor gets; of its loops the one farthest above its limit, or nearest to it.
struct FloorWater {
    double flow_m3_s = 0.0;          ///< of the whole floor
    double flow_share = 0.0;         ///< of its flow without a fault
    std::optional<double> water_c;   ///< entering that loop; absent where no water comes
    double limit_c = 0.0;            ///< highest that loop takes
    std::optional<double> surface_c; ///< hottest among its described loops; absent if none is
    std::optional<double> surface_limit_c;
    std::string loop;
    bool too_hot = false; ///< above the limit at a flow that counts
};

struct FloorRow {
    std::string floor;               ///< manifold
    FloorWater fault;                ///< before any stat has acted
    std::optional<FloorWater> after; ///< once every stat that trips has acted
    std::vector<std::string> behind; ///< stats that trip on this floor's water
    bool unprotected = false;        ///< water above the limit keeps coming
};

struct RoomShare {
    std::string room;
    double share;                    ///< of the heat it needs
    std::optional<double> reached_c; ///< where its emitters are described
    double wanted_c;
};

struct FaultRow {
    std::string fault;
    std::string remark;
    Outcome outcome;
    double sent_c = 0.0;
    double source_m3_s = 0.0;                ///< before any stat has acted
    std::optional<double> source_after_m3_s; ///< after
    bool below_least = false;                ///< source flow at the end below its least
    std::optional<double> creep_m3_s; ///< through the run whose pump stands; towards its floor > 0
    bool creeps = false;              ///< that is a share that counts
    std::vector<FloorRow> floors;
    std::vector<std::string> tripped; ///< stats, in the order they act
    bool missing = false;             ///< protection, as far as the fault could be solved
    bool heat_stops = false;          ///< a stat that tripped stops the heat input too
    std::vector<RoomShare> cold;      ///< at the end, and colder than without a fault
    std::optional<double> taken_w;    ///< of an uncontrolled source: heat the water takes from it
};

/// Something that is missing, or worth a warning.
struct Finding {
    std::string what;
    std::vector<std::string> faults; ///< in which, with what it comes to; empty if it lies in the
                                     ///< house itself
    std::string help;
};

struct DrillAssumption {
    std::string what;
    std::string value;
    std::string range;
};

struct DrillAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    double sent_c = 0.0;
    double highest_c = 0.0;
    std::optional<double> least_flow_m3_s;
    bool buoyancy = false; ///< else no level is given, and warm water does not rise
    std::size_t stats = 0;
    std::size_t rooms = 0;         ///< with emitters without a room counted as rooms
    std::vector<FaultRow> faults;  ///< the first is the house without a fault
    std::vector<Finding> missing;  ///< protection that is missing
    std::vector<Finding> unsolved; ///< faults of which nothing is known
    std::vector<Finding> warnings;
    std::vector<DrillAssumption> assumed;
    Outcome outcome; ///< of the house without a fault
};

/// A room is cold below this share of its heat. Own choice: some 3.5 K at 24 K to outdoors.
inline constexpr double cold_share = 0.85;
/// Creeping water counts from this share of a loop's flow. Own choice: below it the water has lost
/// most of its warmth within the loop's first metres.
inline constexpr double creep_share = 0.02;

/// The house as it stands in the file, running free, with buoyancy where levels are given and
/// rooms floating where described. Each fault changes a copy of it, which is expanded and solved;
/// stats that trip then act, and it is solved again until no other trips. The house must have a
/// source and an emitter (why_not_driven).
DrillAnswer drill(const networks::House &house);

} // namespace headroom::solver
