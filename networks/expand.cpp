#include "networks/expansion.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {

Expansion::Expansion(const House &house)
    : house_(house), condition_(house.condition), names_(house) {}

Network Expansion::build() {
    // About what a house comes to; links are large to move when there are more.
    net_.links.reserve(8 + 10 * (house_.runs.size() + house_.emitters.size()));
    net_.nodes.reserve(net_.links.capacity());
    net_.fluid = house_.fluid;
    net_.buoyancy = condition_.buoyancy && house_.levels_given;
    sent_c_ = house_.source ? house_.source->flow_temperature_c : house_.open_water_c;
    if (condition_.hot_water && house_.hot_water)
        sent_c_ = house_.hot_water->flow_temperature_c;
    sent_c_ = condition_.sent_c.value_or(sent_c_);
    back_c_ = sent_c_ - mean_drop();
    if (condition_.all_water_c)
        sent_c_ = back_c_ = *condition_.all_water_c;
    net_.reference_density_kg_m3 = models::fluid_state(house_.fluid, back_c_).density_kg_m3;
    make_.emplace(house_, sent_c_);
    add_source();
    add_separator();
    for (std::size_t i = 0; i < house_.runs.size(); ++i)
        add_run(i);
    add_manifold_bars();
    for (std::size_t i = 0; i < house_.emitters.size(); ++i)
        add_emitter(i);
    for (std::size_t i = 0; i < house_.bypasses.size(); ++i)
        add_bypass(i);
    if (house_.hot_water)
        add_hot_water();
    for (std::size_t i = 0; i < house_.tees.size(); ++i)
        add_tee(i);
    add_ends();
    if (condition_.rooms_float && house_.outdoor_c)
        add_rooms();
    return std::move(net_);
}

double Expansion::habit(Habit which) {
    net_.used_habits.set(static_cast<std::size_t>(which));
    return house_.habits[which];
}

double Expansion::mean_drop() const {
    double heat = 0.0;
    double flow = 0.0;
    for (const Emitter &emitter : house_.emitters) {
        heat += emitter.heat_w;
        flow += emitter.heat_w / emitter.drop_k;
    }
    if (condition_.hot_water && house_.hot_water)
        return house_.hot_water->drop_k;
    return flow > 0.0 ? heat / flow : 0.0;
}

NodeId Expansion::node(const std::string &name) {
    const auto [it, fresh] = ids_.try_emplace(name, net_.nodes.size());
    if (fresh)
        net_.nodes.push_back({name, level(name)});
    return it->second;
}

NodeId Expansion::place_node(const std::string &place, Side side) {
    return node(place + (side == Side::Flow ? ".flow" : ".return"));
}

NodeId Expansion::fed_from(const std::string &place) {
    if (house_.hot_water && place == house_.hot_water->from)
        return node(place + ".flow, heating side");
    return place_node(place, Side::Flow);
}

NodeId Expansion::arriving_at(const std::string &place) {
    return place == "source" ? fed_from(place) : place_node(place, Side::Flow);
}

NodeId Expansion::one_way_end(const std::string &name, bool leaves) {
    constexpr std::string_view flow_side = ".flow";
    const std::string place =
        name.ends_with(flow_side) ? name.substr(0, name.size() - flow_side.size()) : "";
    if (!names_.place(place))
        return node(name);
    return leaves ? fed_from(place) : arriving_at(place);
}

double Expansion::level(const std::string &node_name) const {
    const std::size_t dot = node_name.rfind('.');
    const std::string place = dot == std::string::npos ? node_name : node_name.substr(0, dot);
    const auto found = house_.levels.find(house_.levels.contains(node_name) ? node_name : place);
    double metres = found == house_.levels.end() ? 0.0 : found->second;
    if (house_.separator && place == house_.separator->name && node_name.ends_with(".flow") &&
        house_.separator->kind != Separator::Kind::CloseTees)
        metres += house_.separator->height_m;
    return metres;
}

LinkId Expansion::link(NodeId from, NodeId to, Step step, Owner owner, double expected_c) {
    net_.links.push_back({std::move(step.name), from, to, std::move(step.component), owner,
                          step.exchange, expected_c});
    return net_.links.size() - 1;
}

std::vector<LinkId> Expansion::chain(NodeId from, NodeId to, std::vector<Step> steps, Owner owner,
                                     double expected_c) {
    if (steps.empty())
        steps.push_back({"joint", FlowFactor{no_loss_kv_m3_h}});
    std::vector<LinkId> links;
    const std::string after =
        steps.size() > 1 ? net_.owner_name(house_, owner) + ", after " : std::string();
    NodeId at = from;
    double elevation = net_.nodes[from].elevation_m;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        NodeId next = to;
        if (steps[i].climbs)
            elevation = net_.nodes[to].elevation_m;
        if (i + 1 < steps.size()) {
            next = net_.nodes.size();
            net_.nodes.push_back({after + steps[i].name, elevation});
        }
        links.push_back(link(at, next, std::move(steps[i]), owner, expected_c));
        at = next;
    }
    return links;
}

// A residual curve measured with water does not hold for a liquid that is clearly thicker.
bool Expansion::thicker_than_water() const {
    constexpr double clearly = 1.2;
    return models::fluid_state(house_.fluid, sent_c_).viscosity_pa_s >
           clearly * models::fluid_state({}, sent_c_).viscosity_pa_s;
}

void Expansion::add_source() {
    if (!house_.source)
        return;
    const Source &source = *house_.source;
    const Owner owner{Owner::Kind::Source, 0};
    std::vector<Step> steps;
    if (source.ideal_rise_pa) {
        steps.push_back({"ideal pressure rise", PressureRise{*source.ideal_rise_pa}});
    } else {
        for (const Resistance &part : source.inner)
            if (auto loss = local_component(part, 0.0))
                steps.push_back({part.name, *loss});
        double factor = condition_.curve_factor;
        if (source.states == CurveStates::External && thicker_than_water())
            factor *= 1.0 - given_or(source.derating, Habit::GlycolDerating);
        steps.push_back(make_->pump(source.circulator, "circulator", factor));
    }
    Exchange &heat = steps.front().exchange;
    heat.kind = Exchange::Kind::Source;
    heat.sent_c = sent_c_;
    const NodeId back = place_node("source", Side::Return);
    const NodeId flow = place_node("source", Side::Flow);
    std::vector<LinkId> links = chain(back, flow, std::move(steps), owner, sent_c_);
    SourceLinks out{flow, back, links.back(), {}};
    links.pop_back();
    out.inner = std::move(links);
    net_.source = std::move(out);
}

void Expansion::add_separator() {
    if (!house_.separator)
        return;
    const Separator &separator = *house_.separator;
    const NodeId flow = place_node(separator.name, Side::Flow);
    const NodeId back = place_node(separator.name, Side::Return);
    // Wide and short: velocity heads at entry and exit, and the wall.
    std::vector<Step> steps;
    steps.push_back({"entry and exit", LocalLoss{1.5, separator.bore_m}});
    PipeChoice shell;
    shell.name = fmt::format("bore {:.4g} mm", separator.bore_m * 1e3);
    shell.bore_m = separator.bore_m;
    shell.roughness_m = shell.aged_roughness_m = 0.05e-3;
    steps.push_back(make_->pipe(shell, std::max(separator.height_m, 0.01), false, 0.0, 0.0));
    net_.separator =
        chain(flow, back, std::move(steps), {Owner::Kind::Separator, 0}, 0.5 * (sent_c_ + back_c_))
            .back();
}

void Expansion::add_run(std::size_t index) {
    const Run &run = house_.runs[index];
    const double bore = run.pipe.bore_m * condition_.bore_factor;
    const Owner flow_owner{Owner::Kind::Run, index, Side::Flow};
    const Owner back_owner{Owner::Kind::Run, index, Side::Return};
    const NodeId from = run.one_way ? one_way_end(run.from, true) : fed_from(run.from);
    const NodeId to = run.one_way ? one_way_end(run.to, false) : arriving_at(run.to);

    std::vector<Step> before; // of the mixing point
    std::vector<Step> after;
    std::vector<Step> *pipes = run.mixer && run.mixer->at_start ? &after : &before;
    pipes->reserve(usual_steps);
    pipes->push_back(make_->pipe(run.pipe, run.flow.length_m, run.existing));
    pipes->back().exchange = make_->losses(run.pipe, run.flow.length_m, run.surroundings);
    make_->fittings(run.flow, bore, *pipes);
    make_->parts(run, Side::Flow, bore, *pipes);
    if (run.pump) {
        Step pump = make_->pump(*run.pump, "pump", 1.0);
        if (run.mixer)
            after.insert(after.begin(), std::move(pump));
        else
            before.push_back(std::move(pump));
    }
    if (!run.mixer) {
        chain(from, to, std::move(before), flow_owner, sent_c_);
    } else {
        const Mixer &mixer = *run.mixer;
        before.push_back(StepMaker::port("mixer, hot port", mixer.kv_m3_h * mixer.position));
        const NodeId mixed = node(fmt::format("run {}, mixed", run.name));
        net_.nodes[mixed].elevation_m = net_.nodes[mixer.at_start ? from : to].elevation_m;
        const LinkId hot = chain(from, mixed, std::move(before), flow_owner, sent_c_).back();
        if (mixer.set_c)
            net_.mixers.push_back({index, mixed, hot, 0, mixer.kv_m3_h, *mixer.set_c});
        chain(mixed, to, std::move(after), flow_owner, sent_c_);
    }
    if (run.one_way)
        return;
    const NodeId back_from = place_node(run.to, Side::Return);
    const NodeId back_to = place_node(run.from, Side::Return);
    std::vector<Step> back;
    back.reserve(usual_steps);
    back.push_back(make_->pipe(run.pipe, run.back.length_m, run.existing));
    back.back().exchange = make_->losses(run.pipe, run.back.length_m, run.surroundings);
    make_->fittings(run.back, bore, back);
    make_->parts(run, Side::Return, bore, back);
    NodeId draw = back_from;
    if (run.mixer && run.mixer->at_start) {
        draw = node(fmt::format("run {}, mixing tee", run.name));
        net_.nodes[draw].elevation_m = net_.nodes[back_to].elevation_m;
        chain(back_from, draw, std::move(back), back_owner, back_c_);
        chain(draw, back_to, {{"tee", LocalLoss{1.5, bore}}}, back_owner, back_c_);
    } else {
        chain(back_from, back_to, std::move(back), back_owner, back_c_);
    }
    if (run.mixer) {
        const LinkId cold = link(
            draw, node(fmt::format("run {}, mixed", run.name)),
            StepMaker::port("mixer, cold port", run.mixer->kv_m3_h * (1.0 - run.mixer->position)),
            back_owner, back_c_);
        if (run.mixer->set_c)
            net_.mixers.back().cold = cold;
    }
}

// Rooms warmer than outdoors all of whose emitters say how they give their heat.
void Expansion::add_rooms() {
    for (std::size_t r = 0; r < house_.rooms.size(); ++r) {
        const Room &room = house_.rooms[r];
        const double across_k = room.indoor_c - *house_.outdoor_c;
        if (across_k <= 0.0)
            continue; // what it loses goes by no difference to outdoors
        RoomLinks links{r, room.loss_w / across_k, *house_.outdoor_c, {}};
        bool described = links.loss_w_k > 0.0;
        for (const EmitterLinks &emitter : net_.emitters) {
            if (house_.emitters[emitter.emitter].room != room.name)
                continue;
            for (LinkId id : emitter.links)
                if (net_.links[id].exchange.kind == Exchange::Kind::Emitter) {
                    described = described && !std::holds_alternative<std::monostate>(
                                                 net_.links[id].exchange.emission);
                    links.emitters.push_back(id);
                }
        }
        if (described && !links.emitters.empty())
            net_.rooms.push_back(std::move(links));
    }
}

void Expansion::add_ends() {
    const double still = net_.reference_density_kg_m3 * models::gravity_m_per_s2;
    for (const HeldPressure &end : house_.held)
        net_.held.push_back({node(end.at), end.pressure_pa});
    for (const OpenVessel &vessel : house_.vessels) {
        const NodeId at = node(vessel.at);
        net_.held.push_back({at, still * (vessel.level_m - net_.nodes[at].elevation_m)});
    }
    for (std::size_t i = 0; i < house_.fixed.size(); ++i)
        net_.fixed.push_back(
            {node(house_.fixed[i].at), house_.fixed[i].in_m3_s * net_.reference_density_kg_m3, i});
    if (house_.fill)
        net_.fill = NodePressure{node(house_.fill->at), house_.fill->pressure_pa};
}

std::string Network::link_name(const House *house, LinkId link) const {
    const std::string &name = links[link].name;
    return house == nullptr ? name : owner_name(*house, links[link].owner) + ": " + name;
}

std::string Network::owner_name(const House &house, const Owner &owner) const {
    const char *side = owner.side == Side::Flow ? ", flow" : ", return";
    switch (owner.kind) {
    case Owner::Kind::Source:
        return "source";
    case Owner::Kind::Run:
        return "run " + house.runs[owner.index].name +
               (house.runs[owner.index].one_way ? "" : side);
    case Owner::Kind::Emitter:
        return std::string(emitter_word(house.emitters[owner.index])) + " " +
               house.emitters[owner.index].name;
    case Owner::Kind::Manifold:
        return house.manifolds[owner.index].name + side + " bar";
    case Owner::Kind::Separator:
        return house.separator ? house.separator->name : "header";
    case Owner::Kind::Bypass:
        return "bypass " + house.bypasses[owner.index].name;
    case Owner::Kind::HotWater:
        return "hot water";
    }
    return "network";
}

std::string_view emitter_word(const Emitter &emitter) {
    if (emitter.kind == Emitter::Kind::FloorLoop)
        return "loop";
    switch (emitter.body) {
    case Emitter::Body::Radiator:
        return "radiator";
    case Emitter::Body::FanConvector:
        return "fan convector";
    case Emitter::Body::TowelRail:
        return "towel rail";
    }
    return "radiator";
}

double design_flow_kg_s(const House &house, const Emitter &emitter) {
    const double sent = emitter.inlet_c ? *emitter.inlet_c
                        : house.source  ? house.source->flow_temperature_c
                                        : house.open_water_c;
    const double c =
        models::fluid_state(house.fluid, sent - 0.5 * emitter.drop_k).heat_capacity_j_kg_k;
    return emitter.heat_w / (c * emitter.drop_k);
}

Network expand(const House &house) {
    return Expansion(house).build();
}

} // namespace headroom::networks
