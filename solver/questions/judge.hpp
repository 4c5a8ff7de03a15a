// One house under one condition: does its circulator drive every emitter, and what head would?
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <optional>

namespace headroom::solver {

/// How one emitter fares.
struct EmitterFlow {
    std::size_t emitter; ///< into House::emitters
    double design_kg_s;
    double flow_kg_s;  ///< with the circulator as it is
    double surplus_pa; ///< what its balancing valve takes beyond its open loss
    bool driven;       ///< flow reaches the design flow
};

/// What the head needed rests on: every emitter at its design flow, the index without surplus.
struct HeadNeeded {
    double pressure_pa;        ///< least rise between the source's connections
    double source_flow_kg_s;   ///< at that state
    std::size_t index;         ///< into Network::emitters: the circuit without surplus
    networks::Network network; ///< the network and its solution at that rise
    Solution solution;
};

struct Judgement {
    networks::Network network; ///< with the circulator as it is
    Solution solution;
    std::vector<EmitterFlow> emitters; ///< in the network's order
    std::optional<HeadNeeded> needed;  ///< absent when no head drives them all
    std::vector<std::size_t> blocked;  ///< then: emitters that no head drives
    double available_pa = 0.0;         ///< residual head of the circulator at the flow needed
    double headroom_pa = 0.0; ///< smallest surplus, or available less needed if not all driven
    bool all_driven = false;

    /// Not solved, or the equation that failed.
    Outcome outcome;
};

/// Judges a house whose emitters already carry ideal balancing valves (with_ideal_balancing).
Judgement judge(const networks::House &house);

/// Judges the hot-water state: the coil in place of the emitters.
Judgement judge_hot_water(const networks::House &house);

/// Residual head [Pa] of the source (circulator less inner parts) at a flow.
double residual_head_pa(const networks::House &house, double flow_kg_s);

} // namespace headroom::solver
