#pragma once

#include "networks/network.hpp"
#include "solver/flow/flow_equations.hpp"
#include "solver/heat/room_balance.hpp"
#include "solver/heat/temperatures.hpp"
#include "solver/outcome.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// Two travels of a mixer close together between which what it mixes jumps past its set
/// temperature, as where a spring behind it shuts at a stroke.
struct MixerJump {
    double cold_travel, cold_c;
    double warm_travel, warm_c;
};

/// Where a modulating mixer stands.
struct MixerState {
    std::size_t run; ///< into House::runs
    double travel;   ///< towards the hot port, 0 to 1
    double set_c;
    double mixed_c;                ///< differs from set_c where the mixer cannot hold it
    std::optional<MixerJump> jump; ///< that it would hunt across
};

/// Everything solved at one condition. Vectors run over the network's links and nodes.
struct Solution {
    Outcome outcome;
    int outer_steps = 0;
    std::vector<double> flow_kg_s;
    std::vector<double> loss_pa;      ///< each link's law at its flow, hydrostatic part left out;
                                      ///< where a valve limits, what it takes in all
    std::vector<double> open_loss_pa; ///< of a limiting valve were it open; else equal to loss_pa
    std::vector<double> pressure_pa;  ///< gauge, at each node
    std::vector<char> pressure_known; ///< 0 where shut parts leave a node's pressure open
    bool absolute = false;            ///< pressures are true gauge pressures, not relative ones
    Temperatures heat;
    std::vector<models::FluidState> fluid; ///< of each link
    std::vector<double> pump_limits_pa;    ///< roots found for a pump with a rising control law
    std::vector<MixerState> mixers;
    std::vector<RoomBalance> rooms;   ///< that float
    std::vector<std::string> remarks; ///< such as several possible working points
};

} // namespace headroom::solver
