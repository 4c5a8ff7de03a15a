// Floors, loops, radiators and manifolds as the engineer describes them.
#pragma once

#include "models/floor_output.hpp"
#include "models/floor_section.hpp"
#include "models/radiator.hpp"
#include "networks/pipework.hpp"

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace headroom::networks {

/// How a kind of floor is built, without the pipe in it.
struct FloorBuild {
    std::string name;
    models::FloorSection section; ///< spacing and pipe still empty
    double below_c = 10.0;        ///< temperature of the ground, cellar or room below
    Place place;
};

/// A floor loop's share of heated floor.
struct FloorPart {
    models::FloorSection section; ///< complete
    double area_m2 = 0.0;
    double below_c = 10.0;
    std::optional<models::FloorResponse> response; ///< worked out once, when first needed
};

/// What gives an emitter's heat to the room; without it the file's heat and drop stand.
using Emission = std::variant<std::monostate, FloorPart, models::Radiator>;

/// What a balancing valve at an emitter does in the network.
struct Balancing {
    enum class Kind {
        Open,    ///< fully open
        Kv,      ///< set to `kv_m3_h`, or open where that is more
        Limiter, ///< ideal: passes at most the design flow, takes at least the open loss
        Shut
    };
    Kind kind = Kind::Open;
    double kv_m3_h = 0.0;
};

/// What the scale of a flow meter shows.
struct MeterRange {
    double from_m3_s;
    double to_m3_s;
};

struct Emitter {
    enum class Kind { FloorLoop, Radiator };
    enum class Body { Radiator, FanConvector, TowelRail };
    Kind kind = Kind::FloorLoop;
    Body body = Body::Radiator; ///< of a radiator
    std::string name;
    std::string room;
    std::string from;         ///< place whose flow and return it joins, or a node (one-pipe)
    std::string to;           ///< the second node of a one-pipe connection, else empty
    double heat_w = 0.0;      ///< heat it must carry from the water
    double room_heat_w = 0.0; ///< of that, what reaches its room
    Emission emission;
    double drop_k = 0.0;           ///< design temperature drop
    std::optional<double> inlet_c; ///< of the design; else the source's flow temperature
    double indoor_c = 20.0;
    PipeChoice pipe;       ///< loop pipe or radiator tails; bore 0 for none
    double length_m = 0.0; ///< port to port for a loop, one tail for a radiator
    double tails_m = 0.0;  ///< of a loop's length, what lies outside its room
    std::optional<PipeSurroundings> surroundings; ///< of the tails; without it they lose no heat
    bool existing = false;
    std::optional<double> curved_share;
    std::optional<double> bend_diameter_m;
    std::optional<double> valve_kv_m3_h;      ///< manifold valve and meter, or radiator valve
    std::optional<double> lockshield_kv_m3_h; ///< fully open; radiators
    std::optional<double> least_kv_m3_h;      ///< of the balancing valve at its finest setting
    std::vector<std::pair<double, double>> lockshield_table; ///< turns open and Kv; may be empty
    std::optional<MeterRange> meter;                         ///< of a loop's flow meter
    std::optional<double> added_kv_m3_h; ///< a loss that nobody drew (kink, dirt, air), as a Kv
    std::optional<double> body_zeta;
    std::optional<double> volume_m3;       ///< water in a radiator
    bool exponent_assumed = false;         ///< of a radiator's output
    std::optional<double> flow_limit_c;    ///< highest water temperature a floor takes
    std::optional<double> surface_limit_c; ///< highest surface temperature of a floor
    std::string zone;
    std::optional<std::size_t> laying; ///< into House::layings, of a loop the program lays
    Balancing balancing;
    Place place; ///< of its name, if it has one
    Place from_place;
    Place to_place;
};

/// A room's floor for the program to lay with equal loops. Until it is laid (solver/questions/lay),
/// one loop stands for all of them; as emitters they carry the index of their laying.
struct Laying {
    std::string name;                   ///< of its loops, followed by a number
    double area_m2 = 0.0;               ///< floor the loops cover, tails left out
    std::optional<double> spacing_m;    ///< else the program chooses
    std::optional<double> closest_m;    ///< spacing it may go down to
    double tails_m = 0.0;               ///< of each loop, from the manifold to the floor and back
    std::optional<double> longest_m;    ///< a loop may be, tails included
    std::optional<double> loop_head_pa; ///< a loop's pipe may take at its design flow
    Place place;
};

struct Manifold {
    std::string name;
    std::optional<double> bar_bore_m; ///< with bar_pitch_m: losses along the bars
    double bar_pitch_m = 0.05;
    std::vector<std::size_t> loops; ///< into House::emitters, along the bar from its inlet
    std::optional<HighLimit> high_limit;
    Place place;
};

} // namespace headroom::networks
