// The graph of links that a house expands to. Nodes hold pressures, links hold flows; a link's
// positive direction runs from `from` to `to`.
#pragma once

#include "models/fluid.hpp"
#include "networks/component.hpp"
#include "networks/habit.hpp"
#include "networks/house.hpp"

#include <bitset>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace headroom::networks {

using NodeId = std::size_t;
using LinkId = std::size_t;

struct Node {
    std::string name;
    double elevation_m = 0.0;
};

/// Which part of the house a link belongs to.
struct Owner {
    enum class Kind { Source, Run, Emitter, Manifold, Separator, Bypass, HotWater };
    Kind kind;
    std::size_t index; ///< into the house's list of that kind
    Side side = Side::Flow;
};

/// What a link does to the temperature of the water in it.
struct Exchange {
    enum class Kind { None, Source, Emitter, Loses };
    Kind kind = Kind::None;
    double sent_c = 0.0;          ///< Source: temperature at which water leaves
    double rest_c = 0.0;          ///< Emitter, Loses: the temperature its water tends to
    double conductance_w_k = 0.0; ///< the same: UA of  out = rest + (in - rest) exp(-UA/(m c))
    Emission emission;            ///< Emitter: sets the two above from flow and inlet, if not empty
    double room_c = 0.0;          ///< Emitter: of the room the emission heats
};

struct Link {
    std::string name; ///< what it is, without whose it is: "pipe 7 m copper 28x0.9"
    NodeId from;
    NodeId to;
    Component component;
    Owner owner;
    Exchange exchange;
    double expected_c; ///< temperature to start from
};

/// The links of one emitter, from its flow to its return connection.
struct EmitterLinks {
    std::size_t emitter; ///< into House::emitters
    std::vector<LinkId> links;
    std::optional<LinkId> balancing; ///< its limiter or setting, if any
    std::optional<LinkId> pipe;      ///< the loop or flow tail
    double design_flow_kg_s;
};

struct SourceLinks {
    NodeId flow;
    NodeId back;
    LinkId pump;
    std::vector<LinkId> inner;
};

/// A tee whose losses follow the split, without reference to the house.
struct TeeNode {
    NodeId node;
    LinkId combined, through, branch; ///< the pipes' links that end here
    LinkId through_leg, branch_leg;   ///< the links that carry its losses
    double bore_m;                    ///< of the through way
    double branch_bore_m;
};

/// A mixer that modulates: its ports share the valve's Kv by travel.
struct MixerNode {
    std::size_t run; ///< into House::runs
    NodeId mixed;
    LinkId hot, cold;
    double kv_m3_h;
    double set_c;
};

/// A room whose temperature settles where its emitters' output meets its loss.
struct RoomLinks {
    std::size_t room; ///< into House::rooms
    double loss_w_k;  ///< per K of inside over outside temperature
    double outdoor_c;
    std::vector<LinkId> emitters; ///< links that exchange heat with it
};

struct NodePressure {
    NodeId node;
    double pressure_pa; ///< gauge
};

struct NodeFlow {
    NodeId node;
    double in_kg_s;
    std::size_t fixed; ///< into House::fixed
};

struct Network {
    models::Fluid fluid;
    double reference_density_kg_m3 = 1000.0; ///< of the still column pressures are measured from
    bool buoyancy = false;
    std::vector<Node> nodes;
    std::vector<Link> links;
    std::optional<SourceLinks> source;
    std::optional<LinkId> separator;
    std::vector<EmitterLinks> emitters;
    std::optional<EmitterLinks> coil; ///< hot water; `emitter` unused
    std::vector<TeeNode> tees;
    std::vector<MixerNode> mixers;
    std::vector<RoomLinks> rooms;   ///< only where they float
    std::vector<NodePressure> held; ///< pressures that can take and give flow
    std::vector<NodeFlow> fixed;
    std::optional<NodePressure> fill; ///< reference pressure without flow
    std::bitset<static_cast<std::size_t>(Habit::Count)> used_habits;

    /// "run primaries, flow" and the like.
    std::string owner_name(const House &house, const Owner &owner) const;
    /// "run primaries, flow: pipe 7 m copper 28x0.9"; of a network without a house its name alone.
    std::string link_name(const House *house, LinkId link) const;
};

/// "loop", "radiator", "fan convector" or "towel rail".
std::string_view emitter_word(const Emitter &emitter);

/// Mass flow that carries the emitter's heat at its design drop: m = Q / (c dT), c at the mean of
/// the design temperatures. The one place where a design flow is made.
double design_flow_kg_s(const House &house, const Emitter &emitter);

/// The network of a house under its condition. The house must have been read without faults.
Network expand(const House &house);

} // namespace headroom::networks
