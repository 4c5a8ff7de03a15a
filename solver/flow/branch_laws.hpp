// The laws of all branches at frozen fluid properties: members' losses summed, each in its own
// direction.
#pragma once

#include "models/loss_bank.hpp"
#include "networks/network.hpp"
#include "solver/flow/branches.hpp"
#include "solver/flow/buoyancy.hpp"

#include <vector>

namespace headroom::solver {

/// Losses and slopes of all branches; with one place to spare at the end.
struct BranchLosses {
    std::vector<double> pressure_pa;
    std::vector<double> slope_pa_s_kg;
};

/// What a held node's p + rho_ref g z is.
double held_potential_pa(const networks::Network &network, const networks::NodePressure &held);

/// Pipes and fittings are gathered in banks once and re-scaled when the fluid changes. Components
/// that are changed between solves (pumps' limits, tees) are read from the network at each call.
class BranchLaws {
public:
    BranchLaws(const networks::Network &network, const BranchSystem &system);

    /// Freezes the fluid state of each link, and with it the hydrostatic terms.
    void set_fluid(const std::vector<models::FluidState> &states);

    /// These two: see FlowEquations.
    void reread_components();
    void set_directed_water(const DirectedWater &water);

    /// Starts iterations inside the laws anew.
    void forget() { pipes_.forget(); }

    /// phi of each branch at no flow, where pipes and fittings lose nothing; without slopes.
    void evaluate_at_rest(BranchLosses &losses) const;

    /// phi of each branch at its flow. `flow_kg_s` has a place to spare, as the losses have.
    void evaluate(const std::vector<double> &flow_kg_s, BranchLosses &losses);

    /// Loss of one link at a flow along the link, hydrostatic term included, by the law of a single
    /// component.
    models::Loss link_loss(networks::LinkId link, double flow_kg_s) const;

    /// Part of a link's loss that is no loss but the difference of held potentials folded into it.
    double held_pa(networks::LinkId link) const;
    double branch_held_pa(std::size_t branch) const {
        return held_pa_.empty() ? 0.0 : held_pa_[branch];
    }

    const models::FluidState &fluid(networks::LinkId link) const { return fluid_[link]; }

private:
    // A pipe or fitting of a branch; equal ones, in equal water, are one with a greater length or
    // number.
    struct Part {
        std::uint32_t branch;
        std::uint32_t curve; // of a pipe's straight or curved share
        std::uint32_t link;  // one that has the properties
        double factor;       // length of pipe [m], or number of fittings
    };
    // What is only needed while parts are gathered.
    struct Gathering {
        models::FrictionCurves curves;
        std::vector<Part> pipes, fittings;
        std::vector<models::PipeBank::Entry> pipe_entries;
        std::vector<models::FittingBank::Entry> fitting_entries;
    };
    struct Alike { // a link counted with another, while their water is the same
        std::uint32_t link, of;
    };
    struct Changing {
        std::uint32_t branch;
        Member member;
    };

    template <class FlowOf> void add_changing(FlowOf flow_of, BranchLosses &losses) const;
    void gather();
    void gather_branch(std::uint32_t branch);
    void arrange();
    void scale();
    void add_part(std::vector<Part> &parts, std::size_t first, const Part &part);
    double weight_pa(networks::LinkId link) const;

    const networks::Network &network_;
    const BranchSystem &system_;
    BranchBuoyancy buoyancy_;
    std::vector<models::FluidState> fluid_;
    std::vector<double> offset_pa_;   // of each node's held potential; empty if none is held
    std::vector<double> constant_pa_; // a branch: what does not depend on its flow
    std::vector<double> held_pa_;     // a branch: its held potentials
    Gathering gathering_;
    std::vector<std::uint32_t> pipe_link_, fitting_link_; // a pipe or fitting of the banks
    std::vector<double> pipe_length_m_;                   // a pipe of the bank
    std::vector<Alike> alike_;
    models::PipeBank pipes_;
    models::FittingBank fittings_;
    std::vector<Changing> changing_;
    std::vector<std::uint32_t> directed_; // branches whose water's weight follows their flow
};

} // namespace headroom::solver
