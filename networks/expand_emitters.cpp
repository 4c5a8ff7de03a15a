#include "networks/expansion.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::networks {

void Expansion::add_manifold_bars() {
    for (std::size_t i = 0; i < house_.manifolds.size(); ++i) {
        const Manifold &manifold = house_.manifolds[i];
        NodeId flow = fed_from(manifold.name);
        NodeId back = place_node(manifold.name, Side::Return);
        std::optional<Step> piece; // of bar, from port to port
        if (manifold.bar_bore_m) {
            PipeChoice bar;
            bar.name = fmt::format("bar of {:.4g} mm", *manifold.bar_bore_m * 1e3);
            bar.bore_m = *manifold.bar_bore_m;
            bar.roughness_m = bar.aged_roughness_m = 0.0015e-3;
            piece = make_->pipe(bar, manifold.bar_pitch_m, false, 0.0, 0.0);
        }
        for (std::size_t k = 0; k < manifold.loops.size(); ++k) {
            if (piece && k > 0) {
                const std::string port = manifold.name + " port " + std::to_string(k + 1);
                const NodeId next_flow = node(port + ".flow");
                const NodeId next_back = node(port + ".return");
                net_.nodes[next_flow].elevation_m = net_.nodes[flow].elevation_m;
                net_.nodes[next_back].elevation_m = net_.nodes[back].elevation_m;
                link(flow, next_flow, *piece, {Owner::Kind::Manifold, i, Side::Flow}, sent_c_);
                link(next_back, back, *piece, {Owner::Kind::Manifold, i, Side::Return}, back_c_);
                flow = next_flow;
                back = next_back;
            }
            ports_[manifold.loops[k]] = {flow, back};
        }
    }
}

void Expansion::add_emitter(std::size_t index) {
    const Emitter &emitter = house_.emitters[index];
    NodeId from;
    NodeId to;
    if (const auto port = ports_.find(index); port != ports_.end()) {
        from = port->second.first;
        to = port->second.second;
    } else if (!emitter.to.empty()) {
        from = node(emitter.from);
        to = node(emitter.to);
    } else {
        from = fed_from(emitter.from);
        to = place_node(emitter.from, Side::Return);
    }
    EmitterLinks out;
    out.emitter = index;
    out.design_flow_kg_s = design_flow_kg_s(house_, emitter);
    std::vector<Step> steps;
    steps.reserve(usual_steps);
    std::size_t balancing = 0;
    std::optional<std::size_t> pipe;
    const auto add_balancing = [&](double open_kv) {
        balancing = steps.size();
        switch (emitter.balancing.kind) {
        case Balancing::Kind::Open:
            steps.push_back({"balancing valve, open", FlowFactor{open_kv}});
            break;
        case Balancing::Kind::Kv:
            steps.push_back(
                {fmt::format("balancing valve at Kv {:.3g} m3/h", emitter.balancing.kv_m3_h),
                 FlowFactor{std::min(open_kv, emitter.balancing.kv_m3_h)}});
            break;
        case Balancing::Kind::Limiter:
            steps.push_back({"balancing valve", FlowLimiter{open_kv, out.design_flow_kg_s}});
            break;
        case Balancing::Kind::Shut:
            steps.push_back({"valve, shut", Shut{}});
            break;
        }
    };
    const auto add_undrawn = [&] {
        if (emitter.added_kv_m3_h)
            steps.push_back({"loss not drawn", FlowFactor{*emitter.added_kv_m3_h}});
    };
    Exchange heat = emitter_exchange(emitter, out.design_flow_kg_s);
    if (emitter.kind == Emitter::Kind::FloorLoop) {
        add_balancing(given_or(emitter.valve_kv_m3_h, Habit::LoopValveKv));
        // Tails that lose heat are pipes of their own, half of them each way.
        const double tail_m = emitter.surroundings ? 0.5 * emitter.tails_m : 0.0;
        const double curved = given_or(emitter.curved_share, Habit::CurvedShare);
        const double bend_m = given_or(emitter.bend_diameter_m, Habit::BendDiameter);
        const auto add_tail = [&] {
            if (tail_m <= 0.0)
                return;
            steps.push_back(make_->pipe(emitter.pipe, tail_m, emitter.existing, curved, bend_m));
            steps.back().exchange = make_->losses(emitter.pipe, tail_m, emitter.surroundings);
        };
        add_tail();
        pipe = steps.size();
        steps.push_back(make_->pipe(emitter.pipe, emitter.length_m - 2.0 * tail_m, emitter.existing,
                                    curved, bend_m));
        steps.back().exchange = heat;
        add_undrawn();
        add_tail();
    } else {
        const double bore = emitter.pipe.bore_m > 0.0 ? emitter.pipe.bore_m * condition_.bore_factor
                                                      : default_connection_bore_m;
        std::optional<Step> tail; // one each way
        if (emitter.pipe.bore_m > 0.0 && emitter.length_m > 0.0) {
            tail = make_->pipe(emitter.pipe, emitter.length_m, emitter.existing);
            tail->exchange = make_->losses(emitter.pipe, emitter.length_m, emitter.surroundings);
            pipe = steps.size();
            steps.push_back(*tail);
        }
        steps.push_back({"radiator valve",
                         FlowFactor{given_or(emitter.valve_kv_m3_h, Habit::RadiatorValveKv)}});
        const double zeta = given_or(emitter.body_zeta, Habit::RadiatorZeta);
        steps.push_back({"radiator body", LocalLoss{std::max(zeta, 1e-3), bore}});
        steps.back().exchange = heat;
        add_undrawn();
        add_balancing(given_or(emitter.lockshield_kv_m3_h, Habit::LockshieldKv));
        if (tail)
            steps.push_back(std::move(*tail));
    }
    out.links =
        chain(from, to, std::move(steps), {Owner::Kind::Emitter, index}, 0.5 * (sent_c_ + back_c_));
    out.balancing = out.links[balancing];
    if (pipe)
        out.pipe = out.links[*pipe];
    net_.emitters.push_back(std::move(out));
}

Exchange Expansion::emitter_exchange(const Emitter &emitter, double design_flow) const {
    Exchange heat;
    if (condition_.all_water_c || !house_.source)
        return heat;
    const double sent = emitter.inlet_c.value_or(house_.source->flow_temperature_c);
    const double returned = sent - emitter.drop_k;
    heat.kind = Exchange::Kind::Emitter;
    heat.emission = emitter.emission;
    heat.room_c = emitter.indoor_c;
    heat.rest_c = std::min(emitter.indoor_c, returned - 1.0);
    const double c =
        models::fluid_state(house_.fluid, 0.5 * (sent + returned)).heat_capacity_j_kg_k;
    heat.conductance_w_k =
        design_flow * c * std::log((sent - heat.rest_c) / (returned - heat.rest_c));
    return heat;
}

void Expansion::add_bypass(std::size_t index) {
    const Bypass &bypass = house_.bypasses[index];
    Step step{"bypass", FlowFactor{bypass.kv_m3_h}};
    if (bypass.opens_pa)
        step = {"bypass valve", OneWay{bypass.kv_m3_h, *bypass.opens_pa}};
    link(fed_from(bypass.at), place_node(bypass.at, Side::Return), std::move(step),
         {Owner::Kind::Bypass, index}, sent_c_);
}

void Expansion::add_hot_water() {
    const HotWater &hot_water = *house_.hot_water;
    EmitterLinks out;
    out.emitter = 0;
    out.design_flow_kg_s = hot_water.flow_m3_s * make_->density(hot_water.flow_temperature_c);
    std::vector<Step> steps;
    steps.push_back({"cylinder coil", FlowFactor{local_kv(hot_water.coil, 0.02)}});
    if (condition_.hot_water)
        steps.push_back({"coil flow", FlowLimiter{no_loss_kv_m3_h, out.design_flow_kg_s}});
    else
        steps.push_back({"diverter, coil port, shut", Shut{}});
    out.links =
        chain(place_node(hot_water.from, Side::Flow), place_node(hot_water.from, Side::Return),
              std::move(steps), {Owner::Kind::HotWater, 0}, sent_c_);
    // The other port, to everything else at the diverter's place.
    Step heating{"diverter, heating port", FlowFactor{no_loss_kv_m3_h}};
    if (condition_.hot_water)
        heating = {"diverter, heating port, shut", Shut{}};
    link(place_node(hot_water.from, Side::Flow), fed_from(hot_water.from), std::move(heating),
         {Owner::Kind::HotWater, 0}, sent_c_);
    out.balancing = out.links.back();
    net_.coil = std::move(out);
}

std::optional<LinkId> Expansion::leg_at(NodeId at, const std::string &name) const {
    for (LinkId id = 0; id < net_.links.size(); ++id) {
        const Link &l = net_.links[id];
        if (l.from != at && l.to != at)
            continue;
        if (l.owner.kind == Owner::Kind::Run && house_.runs[l.owner.index].name == name)
            return id;
        if (l.owner.kind == Owner::Kind::Emitter && house_.emitters[l.owner.index].name == name)
            return id;
    }
    return std::nullopt;
}

void Expansion::add_tee(std::size_t index) {
    const Tee &tee = house_.tees[index];
    std::vector<NodeId> nodes;
    if (names_.place(tee.at))
        nodes = {fed_from(tee.at), place_node(tee.at, Side::Return)};
    else
        nodes = {node(tee.at)};
    for (NodeId at : nodes) {
        const auto combined = leg_at(at, tee.combined);
        const auto through = leg_at(at, tee.through);
        const auto branch = leg_at(at, tee.branch);
        if (!combined || !through || !branch)
            continue; // refused when the house was read
        const LinkId through_leg = insert_leg(at, *through, false);
        const LinkId branch_leg = insert_leg(at, *branch, true);
        net_.tees.push_back({at, *combined, *through, *branch, through_leg, branch_leg, tee.bore_m,
                             tee.branch_bore_m});
    }
}

LinkId Expansion::insert_leg(NodeId at, LinkId pipe, bool branch) {
    const NodeId leg = net_.nodes.size();
    net_.nodes.push_back(
        {fmt::format("{}, {} leg", net_.nodes[at].name, branch ? "branch" : "through"),
         net_.nodes[at].elevation_m});
    Link &l = net_.links[pipe];
    const bool leaves = l.from == at;
    (leaves ? l.from : l.to) = leg;
    const Owner owner = l.owner;
    const double expected_c = l.expected_c;
    return link(leaves ? at : leg, leaves ? leg : at,
                {branch ? "tee, branch" : "tee, through", TeeLeg{}}, owner, expected_c);
}

} // namespace headroom::networks
