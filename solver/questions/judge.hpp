// One house under one condition: does its circulator drive every emitter, and what head would?
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <optional>

namespace headroom::solver {

/// What one pump drives: the source's circulator or the pump of a run, and the emitters it is for.
struct Circuit {
    std::optional<std::size_t> run;    ///< into House::runs; empty: the source's circulator
    std::vector<std::size_t> emitters; ///< into House::emitters
};

/// How one emitter fares. One whose valve stays open (with_ideal_balancing) is not judged.
struct EmitterFlow {
    std::size_t emitter; ///< into House::emitters
    double design_kg_s;
    double flow_kg_s;  ///< with the circulator as it is
    double surplus_pa; ///< what its balancing valve takes beyond its open loss
    bool driven;       ///< flow reaches the design flow
};

/// What the head needed rests on: every emitter at its design flow, the index without surplus.
struct HeadNeeded {
    double pressure_pa;        ///< least rise between the source's connections, or of a run's pump
    double source_flow_kg_s;   ///< at that state; through the pump
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

/// Headroom alone.
struct Headroom {
    double pa; ///< minus infinity where no head drives every emitter
    Outcome outcome;
};

/// Headroom of such a house under its condition. As much as judge() says of it, for a fraction of
/// the work where all are driven.
Headroom headroom_of(const networks::House &house);

/// The least head that drives such a house, whatever its circulator. Absent where none does, or
/// where `outcome` says that it was not solved.
std::optional<HeadNeeded> head_needed(const networks::House &house, Outcome &outcome);

/// The least head of one pump that drives its own emitters, the others as they are. Absent where
/// none does, with the emitters that none drives in `blocked`, or where `outcome` says that it was
/// not solved.
std::optional<HeadNeeded> head_needed(const networks::House &house, const Circuit &circuit,
                                      Outcome &outcome, std::vector<std::size_t> &blocked);

/// The link of a circuit's pump.
networks::LinkId pump_link(const networks::Network &network, std::optional<std::size_t> run);

/// Residual head [Pa] of the source (circulator less inner parts) at a flow, or the head of a run's
/// pump, as it is set. `at` lends its temperatures, where the house's structure is the same; else
/// those expected are used.
double residual_head_pa(const networks::House &house, double flow_kg_s,
                        std::optional<std::size_t> run = {}, const Solution *at = nullptr);
double residual_head_pa(const networks::Network &network, double flow_kg_s,
                        std::optional<std::size_t> run = {}, const Solution *at = nullptr);

} // namespace headroom::solver
