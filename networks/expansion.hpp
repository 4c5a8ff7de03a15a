// The work of expand(), split over two files by what is expanded. For those files alone.
#pragma once

#include "networks/expand_steps.hpp"
#include "networks/names.hpp"
#include "networks/network.hpp"

#include <map>
#include <optional>

namespace headroom::networks {

class Expansion {
public:
    explicit Expansion(const House &house);
    Network build();

private:
    double habit(Habit which);
    double given_or(const std::optional<double> &value, Habit which) {
        return value ? *value : habit(which);
    }
    double mean_drop() const;
    // "X.flow" and "X.return" of a place, or a node's own name.
    NodeId node(const std::string &name);
    NodeId place_node(const std::string &place, Side side);
    // The flow-side node that parts at a place are fed from: behind the diverter, where that is.
    NodeId fed_from(const std::string &place);
    // The flow-side node a run arrives at.
    NodeId arriving_at(const std::string &place);
    // The node a one-way run leaves from or arrives at.
    NodeId one_way_end(const std::string &name, bool leaves);
    double level(const std::string &node_name) const;
    LinkId link(NodeId from, NodeId to, Step step, Owner owner, double expected_c);
    // Steps in series between two nodes; without steps the nodes would have to be one, so an open
    // full-bore joint of no account joins them.
    std::vector<LinkId> chain(NodeId from, NodeId to, std::vector<Step> steps, Owner owner,
                              double expected_c);
    bool thicker_than_water() const;
    void add_source();
    void add_separator();
    void add_run(std::size_t index);
    // Loops hang along the bars; a bar without a bore is one node.
    void add_manifold_bars();
    void add_emitter(std::size_t index);
    // The conductance that gives the stated drop at the design flow and temperatures; where the
    // file says how the emitter is built, a first guess.
    Exchange emitter_exchange(const Emitter &emitter, double design_flow) const;
    void add_bypass(std::size_t index);
    void add_hot_water();
    // The link of a named run or emitter that ends at the node.
    std::optional<LinkId> leg_at(NodeId at, const std::string &name) const;
    void add_tee(std::size_t index);
    LinkId insert_leg(NodeId at, LinkId pipe, bool branch);
    void add_rooms();
    void add_ends();
    static constexpr std::size_t usual_steps = 8;               // what room is made for in a chain
    static constexpr double default_connection_bore_m = 0.0136; // copper 15x0.7

    const House &house_;
    const Condition &condition_;
    Network net_;
    Names names_;
    std::map<std::string, NodeId> ids_;
    std::map<std::size_t, std::pair<NodeId, NodeId>> ports_;
    std::optional<StepMaker> make_;
    double sent_c_ = 20.0;
    double back_c_ = 20.0;
};

} // namespace headroom::networks
