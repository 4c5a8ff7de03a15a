#include "networks/network.hpp"

#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <cmath>
#include <fmt/format.h>
#include <map>
#include <set>

namespace headroom::networks {
namespace {

struct Step {
    std::string name;
    Component component;
    Exchange exchange = {};
    bool climbs = false; ///< takes the chain from its first level to its last
};

// Everything local becomes a Kv or a zeta on a bore.
std::optional<Component> local_component(const Resistance &r, double bore_m) {
    if (r.kv_m3_h)
        return FlowFactor{*r.kv_m3_h};
    if (r.zeta && *r.zeta > 0.0)
        return LocalLoss{*r.zeta, bore_m};
    if (r.loss_pa && *r.loss_pa > 0.0)
        return FlowFactor{models::kv_for_loss(r.at_m3_s * models::kv_reference_density, *r.loss_pa,
                                              models::kv_reference_density)};
    return std::nullopt;
}

double local_kv(const Resistance &r, double bore_m) {
    constexpr double wide_open_kv = 1e4;
    const auto component = local_component(r, bore_m);
    if (!component)
        return wide_open_kv;
    if (const auto *loss = std::get_if<LocalLoss>(&*component))
        return std::sqrt(models::zeta_from_kv(1.0, bore_m) / loss->zeta);
    return std::get<FlowFactor>(*component).kv_m3_h;
}

models::PumpCurve scaled(const models::PumpCurve &curve, double factor) {
    std::vector<models::CurvePoint> points = curve.points;
    for (models::CurvePoint &point : points)
        point.pressure_pa *= factor;
    return models::make_pump_curve(std::move(points));
}

class Expansion {
public:
    explicit Expansion(const House &house) : house_(house), condition_(house.condition) {
        for (const Run &run : house.runs)
            if (!run.one_way) {
                places_.insert(run.from);
                places_.insert(run.to);
            }
        if (house.source)
            places_.insert("source");
        if (house.separator)
            places_.insert(house.separator->name);
        for (const Manifold &manifold : house.manifolds)
            places_.insert(manifold.name);
        for (const Bypass &bypass : house.bypasses)
            places_.insert(bypass.at);
        for (const Emitter &emitter : house.emitters)
            if (emitter.to.empty())
                places_.insert(emitter.from);
    }

    Network build() {
        net_.fluid = house_.fluid;
        net_.buoyancy = condition_.buoyancy && house_.levels_given;
        sent_c_ = house_.source ? house_.source->flow_temperature_c : 20.0;
        if (condition_.hot_water && house_.hot_water)
            sent_c_ = house_.hot_water->flow_temperature_c;
        back_c_ = sent_c_ - mean_drop();
        if (condition_.all_water_c)
            sent_c_ = back_c_ = *condition_.all_water_c;
        net_.reference_density_kg_m3 = models::fluid_state(house_.fluid, back_c_).density_kg_m3;
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
        return std::move(net_);
    }

private:
    double habit(Habit which) {
        net_.used_habits.set(static_cast<std::size_t>(which));
        return house_.habits[which];
    }
    double given_or(const std::optional<double> &value, Habit which) {
        return value ? *value : habit(which);
    }

    double mean_drop() const {
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

    // "X.flow" and "X.return" of a place, or a node's own name.
    NodeId node(const std::string &name) {
        const auto [it, fresh] = ids_.try_emplace(name, net_.nodes.size());
        if (fresh)
            net_.nodes.push_back({name, level(name)});
        return it->second;
    }
    NodeId place_node(const std::string &place, Side side) {
        return node(place + (side == Side::Flow ? ".flow" : ".return"));
    }
    double level(const std::string &node_name) const {
        const std::size_t dot = node_name.rfind('.');
        const std::string place = dot == std::string::npos ? node_name : node_name.substr(0, dot);
        const auto found =
            house_.levels.find(house_.levels.contains(node_name) ? node_name : place);
        double metres = found == house_.levels.end() ? 0.0 : found->second;
        if (house_.separator && place == house_.separator->name && node_name.ends_with(".flow") &&
            house_.separator->kind != Separator::Kind::CloseTees)
            metres += house_.separator->height_m;
        return metres;
    }

    LinkId link(NodeId from, NodeId to, Step step, Owner owner, double expected_c) {
        net_.links.push_back({std::move(step.name), from, to, std::move(step.component), owner,
                              step.exchange, expected_c});
        return net_.links.size() - 1;
    }

    // Steps in series between two nodes; without steps the nodes would have to be one, so an open
    // full-bore joint of no account joins them.
    std::vector<LinkId> chain(NodeId from, NodeId to, std::vector<Step> steps, Owner owner,
                              double expected_c) {
        if (steps.empty())
            steps.push_back({"joint", FlowFactor{1e4}});
        std::vector<LinkId> links;
        NodeId at = from;
        double elevation = net_.nodes[from].elevation_m;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            NodeId next = to;
            if (steps[i].climbs)
                elevation = net_.nodes[to].elevation_m;
            if (i + 1 < steps.size()) {
                next = net_.nodes.size();
                net_.nodes.push_back(
                    {fmt::format("{}, after {}", net_.owner_name(house_, owner), steps[i].name),
                     elevation});
            }
            links.push_back(link(at, next, std::move(steps[i]), owner, expected_c));
            at = next;
        }
        return links;
    }

    Step pipe_step(const PipeChoice &pipe, double length_m, bool existing, double curved_share,
                   double bend_m) const {
        const double bore = pipe.bore_m * condition_.bore_factor;
        return {fmt::format("pipe {:.4g} m {}", length_m, pipe.name),
                PipeFriction{models::make_pipe(
                    {length_m, bore, existing ? pipe.aged_roughness_m : pipe.roughness_m,
                     curved_share, bend_m, pipe.constant_friction_factor, condition_.transition})},
                {},
                true};
    }

    // Fittings of one side: clean ones as one zeta, filters and Kv parts each by itself.
    void fitting_steps(const RunSide &side, double bore_m, std::vector<Step> &steps) const {
        double zeta = side.zeta;
        int pieces = 0;
        for (const FittingCount &fitting : side.fittings) {
            const FittingType &type = *house_.catalogue.fitting(fitting.name);
            std::string words = fitting.name;
            for (char &c : words)
                if (c == '_')
                    c = ' ';
            const double dirt = type.filter ? condition_.filter_factor : 1.0;
            if (type.kv_m3_h > 0.0) {
                const double kv = type.kv_m3_h / std::sqrt(dirt * fitting.count);
                steps.push_back({fmt::format("{} {}", fitting.count, words), FlowFactor{kv}});
            } else if (type.filter) {
                steps.push_back(
                    {words, LocalLoss{dirt * fitting.count * type.zeta_at(bore_m), bore_m}});
            } else {
                zeta += fitting.count * type.zeta_at(bore_m);
                pieces += fitting.count;
            }
        }
        if (zeta > 0.0)
            steps.push_back({pieces > 0 ? fmt::format("{} fittings, zeta {:.4g}", pieces, zeta)
                                        : fmt::format("zeta {:.4g}", zeta),
                             LocalLoss{zeta, bore_m}});
    }

    void part_steps(const Run &run, Side side, double bore_m, std::vector<Step> &steps) const {
        for (const Part &part : run.parts) {
            if (part.side != side)
                continue;
            switch (part.kind) {
            case Part::Kind::Check:
                steps.push_back(
                    {part.name, OneWay{local_kv(part.resistance, bore_m), part.opens_pa}});
                break;
            case Part::Kind::Zone:
                if (!part.open)
                    steps.push_back({part.name + ", shut", Shut{}});
                else if (auto loss = local_component(part.resistance, bore_m))
                    steps.push_back({part.name, *loss});
                break;
            case Part::Kind::Balancing: {
                const double kv = models::valve_kv(part.characteristic, part.kvs_m3_h, part.travel,
                                                   part.rangeability);
                if (kv > 0.0)
                    steps.push_back({fmt::format("{} at {:.3g} %", part.name, 100.0 * part.travel),
                                     FlowFactor{kv}});
                else
                    steps.push_back({part.name + ", shut", Shut{}});
                break;
            }
            case Part::Kind::Limiter:
                steps.push_back({part.name, FlowLimiter{local_kv(part.resistance, bore_m),
                                                        part.limit_m3_s * density(sent_c_)}});
                break;
            case Part::Kind::Plain:
                if (auto loss = local_component(part.resistance, bore_m))
                    steps.push_back({part.name, *loss});
                break;
            }
        }
    }

    double density(double temperature_c) const {
        return models::fluid_state(house_.fluid, temperature_c).density_kg_m3;
    }

    Step pump_step(const Pump &pump, std::string name, double curve_factor) const {
        if (pump.mode == PumpMode::Stopped)
            return {name + ", stopped", StoppedPump{pump.curve}};
        RunningPump running;
        running.curve = curve_factor == 1.0 ? pump.curve : scaled(pump.curve, curve_factor);
        running.speed = pump.speed;
        if (pump.mode == PumpMode::ConstantPressure)
            running.limit_pa = pump.setting_pa * curve_factor;
        if (pump.mode == PumpMode::ProportionalPressure) {
            running.control = PumpControl::Proportional;
            running.proportional_pa = pump.setting_pa * curve_factor;
        }
        if (pump.mode == PumpMode::ConstantFlow)
            running.most_kg_s = pump.flow_m3_s * density(sent_c_);
        return {std::move(name), std::move(running)};
    }

    void add_source() {
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
            if (source.states == CurveStates::External && house_.fluid.glycol_mass_share > 0.0)
                factor *= 1.0 - given_or(source.derating, Habit::GlycolDerating);
            steps.push_back(pump_step(source.circulator, "circulator", factor));
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

    void add_separator() {
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
        steps.push_back(pipe_step(shell, std::max(separator.height_m, 0.01), false, 0.0, 0.0));
        net_.separator = chain(flow, back, std::move(steps), {Owner::Kind::Separator, 0},
                               0.5 * (sent_c_ + back_c_))
                             .back();
    }

    void add_run(std::size_t index) {
        const Run &run = house_.runs[index];
        const double bore = run.pipe.bore_m * condition_.bore_factor;
        const Owner flow_owner{Owner::Kind::Run, index, Side::Flow};
        const Owner back_owner{Owner::Kind::Run, index, Side::Return};
        const NodeId from = run.one_way ? node(run.from) : place_node(run.from, Side::Flow);
        const NodeId to = run.one_way ? node(run.to) : place_node(run.to, Side::Flow);

        std::vector<Step> before; // of the mixing point
        std::vector<Step> after;
        std::vector<Step> *pipes = run.mixer && run.mixer->at_start ? &after : &before;
        pipes->push_back(pipe_step(run.pipe, run.flow.length_m, run.existing, 0.0, 0.0));
        fitting_steps(run.flow, bore, *pipes);
        part_steps(run, Side::Flow, bore, *pipes);
        if (condition_.hot_water && house_.hot_water && !run.one_way &&
            run.from == house_.hot_water->from)
            before.push_back({"diverter port, shut", Shut{}});
        if (run.pump) {
            Step pump = pump_step(*run.pump, "pump", 1.0);
            if (run.mixer)
                after.insert(after.begin(), std::move(pump));
            else
                before.push_back(std::move(pump));
        }
        if (!run.mixer) {
            chain(from, to, std::move(before), flow_owner, sent_c_);
        } else {
            const Mixer &mixer = *run.mixer;
            before.push_back(port_step("mixer, hot port", mixer.kv_m3_h * mixer.position));
            const NodeId mixed = node(fmt::format("run {}, mixed", run.name));
            net_.nodes[mixed].elevation_m = net_.nodes[mixer.at_start ? from : to].elevation_m;
            chain(from, mixed, std::move(before), flow_owner, sent_c_);
            chain(mixed, to, std::move(after), flow_owner, sent_c_);
        }
        if (run.one_way)
            return;
        const NodeId back_from = place_node(run.to, Side::Return);
        const NodeId back_to = place_node(run.from, Side::Return);
        std::vector<Step> back;
        back.push_back(pipe_step(run.pipe, run.back.length_m, run.existing, 0.0, 0.0));
        fitting_steps(run.back, bore, back);
        part_steps(run, Side::Return, bore, back);
        NodeId draw = back_from;
        if (run.mixer && run.mixer->at_start) {
            draw = node(fmt::format("run {}, mixing tee", run.name));
            net_.nodes[draw].elevation_m = net_.nodes[back_to].elevation_m;
            chain(back_from, draw, std::move(back), back_owner, back_c_);
            chain(draw, back_to, {{"tee", LocalLoss{1.5, bore}}}, back_owner, back_c_);
        } else {
            chain(back_from, back_to, std::move(back), back_owner, back_c_);
        }
        if (run.mixer)
            link(draw, node(fmt::format("run {}, mixed", run.name)),
                 port_step("mixer, cold port", run.mixer->kv_m3_h * (1.0 - run.mixer->position)),
                 back_owner, back_c_);
    }

    static Step port_step(std::string name, double kv_m3_h) {
        if (kv_m3_h <= 0.0)
            return {name + ", shut", Shut{}};
        return {std::move(name), FlowFactor{kv_m3_h}};
    }

    // Loops hang along the bars; a bar without a bore is one node.
    void add_manifold_bars() {
        for (std::size_t i = 0; i < house_.manifolds.size(); ++i) {
            const Manifold &manifold = house_.manifolds[i];
            NodeId flow = place_node(manifold.name, Side::Flow);
            NodeId back = place_node(manifold.name, Side::Return);
            PipeChoice bar;
            if (manifold.bar_bore_m) {
                bar.name = fmt::format("bar, bore {:.4g} mm", *manifold.bar_bore_m * 1e3);
                bar.bore_m = *manifold.bar_bore_m;
                bar.roughness_m = bar.aged_roughness_m = 0.0015e-3;
            }
            for (std::size_t k = 0; k < manifold.loops.size(); ++k) {
                if (manifold.bar_bore_m && k > 0) {
                    const NodeId next_flow =
                        node(fmt::format("{} port {}.flow", manifold.name, k + 1));
                    const NodeId next_back =
                        node(fmt::format("{} port {}.return", manifold.name, k + 1));
                    net_.nodes[next_flow].elevation_m = net_.nodes[flow].elevation_m;
                    net_.nodes[next_back].elevation_m = net_.nodes[back].elevation_m;
                    const auto piece = [&](NodeId from, NodeId to, Side side, double expected_c) {
                        link(from, to, pipe_step(bar, manifold.bar_pitch_m, false, 0.0, 0.0),
                             {Owner::Kind::Manifold, i, side}, expected_c);
                    };
                    piece(flow, next_flow, Side::Flow, sent_c_);
                    piece(next_back, back, Side::Return, back_c_);
                    flow = next_flow;
                    back = next_back;
                }
                ports_[manifold.loops[k]] = {flow, back};
            }
        }
    }

    void add_emitter(std::size_t index) {
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
            from = place_node(emitter.from, Side::Flow);
            to = place_node(emitter.from, Side::Return);
        }
        EmitterLinks out;
        out.emitter = index;
        out.design_flow_kg_s = design_flow_kg_s(house_, emitter);
        std::vector<Step> steps;
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
        Exchange heat = emitter_exchange(emitter, out.design_flow_kg_s);
        if (emitter.kind == Emitter::Kind::FloorLoop) {
            add_balancing(given_or(emitter.valve_kv_m3_h, Habit::LoopValveKv));
            pipe = steps.size();
            steps.push_back(pipe_step(emitter.pipe, emitter.length_m, emitter.existing,
                                      given_or(emitter.curved_share, Habit::CurvedShare),
                                      given_or(emitter.bend_diameter_m, Habit::BendDiameter)));
            steps.back().exchange = heat;
        } else {
            const double bore = emitter.pipe.bore_m > 0.0
                                    ? emitter.pipe.bore_m * condition_.bore_factor
                                    : default_connection_bore_m;
            const bool tails = emitter.pipe.bore_m > 0.0 && emitter.length_m > 0.0;
            if (tails) {
                pipe = steps.size();
                steps.push_back(
                    pipe_step(emitter.pipe, emitter.length_m, emitter.existing, 0.0, 0.0));
            }
            steps.push_back({"radiator valve",
                             FlowFactor{given_or(emitter.valve_kv_m3_h, Habit::RadiatorValveKv)}});
            const double zeta = given_or(emitter.body_zeta, Habit::RadiatorZeta);
            steps.push_back({"radiator body", LocalLoss{std::max(zeta, 1e-3), bore}});
            steps.back().exchange = heat;
            add_balancing(given_or(emitter.lockshield_kv_m3_h, Habit::LockshieldKv));
            if (tails)
                steps.push_back(
                    pipe_step(emitter.pipe, emitter.length_m, emitter.existing, 0.0, 0.0));
        }
        out.links = chain(from, to, std::move(steps), {Owner::Kind::Emitter, index},
                          0.5 * (sent_c_ + back_c_));
        out.balancing = out.links[balancing];
        if (pipe)
            out.pipe = out.links[*pipe];
        net_.emitters.push_back(std::move(out));
    }

    // Until emission comes from physics: the conductance that gives the stated drop at the design
    // flow and temperatures.
    Exchange emitter_exchange(const Emitter &emitter, double design_flow) const {
        Exchange heat;
        if (condition_.all_water_c || !house_.source)
            return heat;
        const double sent = house_.source->flow_temperature_c;
        const double returned = sent - emitter.drop_k;
        heat.kind = Exchange::Kind::Emitter;
        heat.indoor_c = std::min(emitter.indoor_c, returned - 1.0);
        const double c =
            models::fluid_state(house_.fluid, 0.5 * (sent + returned)).heat_capacity_j_kg_k;
        heat.conductance_w_k =
            design_flow * c * std::log((sent - heat.indoor_c) / (returned - heat.indoor_c));
        return heat;
    }

    void add_bypass(std::size_t index) {
        const Bypass &bypass = house_.bypasses[index];
        Step step{"bypass", FlowFactor{bypass.kv_m3_h}};
        if (bypass.opens_pa)
            step = {"bypass valve", OneWay{bypass.kv_m3_h, *bypass.opens_pa}};
        link(place_node(bypass.at, Side::Flow), place_node(bypass.at, Side::Return),
             std::move(step), {Owner::Kind::Bypass, index}, sent_c_);
    }

    void add_hot_water() {
        const HotWater &hot_water = *house_.hot_water;
        EmitterLinks out;
        out.emitter = 0;
        out.design_flow_kg_s = hot_water.flow_m3_s * density(hot_water.flow_temperature_c);
        std::vector<Step> steps;
        steps.push_back({"cylinder coil", FlowFactor{local_kv(hot_water.coil, 0.02)}});
        if (condition_.hot_water)
            steps.push_back({"coil flow", FlowLimiter{1e4, out.design_flow_kg_s}});
        else
            steps.push_back({"diverter port, shut", Shut{}});
        out.links =
            chain(place_node(hot_water.from, Side::Flow), place_node(hot_water.from, Side::Return),
                  std::move(steps), {Owner::Kind::HotWater, 0}, sent_c_);
        out.balancing = out.links.back();
        net_.coil = std::move(out);
    }

    // The link of a named run or emitter that ends at the node.
    std::optional<LinkId> leg_at(NodeId at, const std::string &name) const {
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

    void add_tee(std::size_t index) {
        const Tee &tee = house_.tees[index];
        std::vector<NodeId> nodes;
        if (places_.contains(tee.at))
            nodes = {place_node(tee.at, Side::Flow), place_node(tee.at, Side::Return)};
        else
            nodes = {node(tee.at)};
        for (NodeId at : nodes) {
            const auto combined = leg_at(at, tee.combined);
            const auto through = leg_at(at, tee.through);
            const auto branch = leg_at(at, tee.branch);
            if (!combined || !through || !branch)
                continue; // refused when the house was read
            TeeNode out{index, at, *combined, *through, *branch, {}, {}};
            out.through_leg = insert_leg(at, *through, false);
            out.branch_leg = insert_leg(at, *branch, true);
            net_.tees.push_back(out);
        }
    }

    LinkId insert_leg(NodeId at, LinkId pipe, bool branch) {
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
                    {branch ? "tee, branch" : "tee, through", TeeLeg{net_.tees.size(), branch}},
                    owner, expected_c);
    }

    void add_ends() {
        const double still = net_.reference_density_kg_m3 * models::gravity_m_per_s2;
        for (const HeldPressure &end : house_.held)
            net_.held.push_back({node(end.at), end.pressure_pa});
        for (const OpenVessel &vessel : house_.vessels) {
            const NodeId at = node(vessel.at);
            net_.held.push_back({at, still * (vessel.level_m - net_.nodes[at].elevation_m)});
        }
        for (std::size_t i = 0; i < house_.fixed.size(); ++i)
            net_.fixed.push_back({node(house_.fixed[i].at),
                                  house_.fixed[i].in_m3_s * net_.reference_density_kg_m3, i});
        if (house_.fill)
            net_.fill = NodePressure{node(house_.fill->at), house_.fill->pressure_pa};
    }

    static constexpr double default_connection_bore_m = 0.0136; // copper 15x0.7

    const House &house_;
    const Condition &condition_;
    Network net_;
    std::set<std::string> places_;
    std::map<std::string, NodeId> ids_;
    std::map<std::size_t, std::pair<NodeId, NodeId>> ports_;
    double sent_c_ = 20.0;
    double back_c_ = 20.0;
};

} // namespace

std::string Network::owner_name(const House &house, const Owner &owner) const {
    const char *side = owner.side == Side::Flow ? "flow" : "return";
    switch (owner.kind) {
    case Owner::Kind::Source:
        return "source";
    case Owner::Kind::Run:
        if (house.runs[owner.index].one_way)
            return fmt::format("run {}", house.runs[owner.index].name);
        return fmt::format("run {}, {}", house.runs[owner.index].name, side);
    case Owner::Kind::Emitter:
        return fmt::format(
            "{} {}",
            house.emitters[owner.index].kind == Emitter::Kind::FloorLoop ? "loop" : "radiator",
            house.emitters[owner.index].name);
    case Owner::Kind::Manifold:
        return fmt::format("{}, {} bar", house.manifolds[owner.index].name, side);
    case Owner::Kind::Separator:
        return house.separator ? house.separator->name : "header";
    case Owner::Kind::Bypass:
        return fmt::format("bypass {}", house.bypasses[owner.index].name);
    case Owner::Kind::HotWater:
        return "hot water";
    }
    return "network";
}

double design_flow_kg_s(const House &house, const Emitter &emitter) {
    const double sent = house.source ? house.source->flow_temperature_c : 40.0;
    const double c =
        models::fluid_state(house.fluid, sent - 0.5 * emitter.drop_k).heat_capacity_j_kg_k;
    return emitter.heat_w / (c * emitter.drop_k);
}

Network expand(const House &house) {
    return Expansion(house).build();
}

} // namespace headroom::networks
