// Everything solved at one condition: the network as it stands.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/heat_balance.hpp"
#include "solver/questions/source_heat.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct LinkRow {
    std::string where;
    std::string what;
    std::string from; ///< node names
    std::string to;
    double flow_kg_s;
    double flow_m3_s;
    double velocity_m_s; ///< 0 where there is no bore
    double reynolds;     ///< of a pipe, else 0
    std::string regime;
    double loss_pa; ///< along `from` to `to`, without hydrostatic part
    double in_c, out_c;
    double heat_w; ///< given off by the water: to rooms, the ground or what is round a pipe
};

struct NodeRow {
    std::string name;
    double elevation_m;
    double pressure_pa; ///< gauge, or relative to the source's return if not absolute
    bool known;         ///< false where shut parts leave it open
    double temperature_c;
};

struct PumpRow {
    std::string where;
    std::string mode;
    double flow_m3_s;
    double rise_pa;
    double inlet_pa;
};

struct FlowRow {
    std::string name;
    double flow_m3_s;
    double design_share; ///< of the emitter's design flow
    double heat_w;       ///< given off by the water
    double to_room_w;    ///< of that, what reaches the room
    double down_w;       ///< and what a floor loses to the space below
    double out_c;
};

struct MixerRow {
    std::string where;
    double travel_share; ///< towards the hot port
    double set_c;
    double mixed_c;
    double hot_m3_s, cold_m3_s; ///< through its ports
    /// Loss of the open hot port over that and the loss of the run's pipes and parts that pass the
    /// same water, at the flow as it is; nothing where no water passes or no pipe precedes it.
    std::optional<double> authority_share;
};

/// A room all of whose emitters are described: where it settles.
struct RoomTemperatureRow {
    std::string room;
    double wanted_c;
    double reached_c;
    double heat_w;
    double falls_share_per_k; ///< self-regulation: output lost per kelvin of room rise
};

/// The source as it stands.
struct SourceRow {
    double load_w; ///< flow times heat capacity times (sent - return)
    double flow_m3_s;
    double sent_c, return_c;
    std::optional<double> least_flow_m3_s;
    std::optional<SourceHeat> heat; ///< where the file says what the source gives
    /// Where it falls short: what it can hold, sending all it gives.
    std::optional<double> holds_c;

    bool below_least_flow() const { return least_flow_m3_s && flow_m3_s < *least_flow_m3_s; }
};

struct FlowsAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    bool absolute = false; ///< pressures are true gauge pressures
    std::optional<SourceRow> source;
    HeatBalance heat;
    std::vector<PumpRow> pumps;
    std::vector<FlowRow> emitters;
    std::vector<MixerRow> mixers;
    std::vector<RoomTemperatureRow> rooms;
    std::vector<LinkRow> links;
    std::vector<NodeRow> nodes;
    std::vector<std::string> assumed;
    std::vector<std::string> warnings;
    int outer_steps = 0;
    Outcome outcome;
};

/// Design flows, where the file leaves them to physics, are found first (size.hpp).
FlowsAnswer flows(const networks::House &house);

} // namespace headroom::solver
