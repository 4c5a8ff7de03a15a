#include "tests/support/random_network.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>
#include <queue>

namespace headroom::tests {

using namespace networks;

std::uint64_t Random::next() {
    std::uint64_t z = (state_ += 0x9E3779B97F4A7C15ULL);
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
}

double Random::uniform(double low, double high) {
    return low + (high - low) * static_cast<double>(next() >> 11U) * 0x1.0p-53;
}

double Random::log_uniform(double low, double high) {
    return std::exp(uniform(std::log(low), std::log(high)));
}

std::vector<std::size_t> Random::permutation(std::size_t size) {
    std::vector<std::size_t> order(size);
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t i = size; i > 1; --i)
        std::swap(order[i - 1], order[below(i)]);
    return order;
}

namespace {

constexpr std::size_t most_nodes = 68;

class Builder {
public:
    Builder(std::uint64_t seed, const RandomKind &kind) : random_(seed), kind_(kind) {}

    Network house() {
        begin();
        const NodeId sent = node(0.0);
        const NodeId back = node(0.0);
        sent_c_ = random_.uniform(30.0, 70.0);
        add_source(sent, back);
        std::vector<Place> places{{sent, back, 0.0}};
        if (random_.chance(0.9))
            places.push_back(add_run(places.front(), random_.chance(0.1)));
        const bool header = random_.chance(0.4);
        if (header)
            net_.separator = link(places.back().flow, places.back().back, header_pipe());
        const std::size_t nodes = random_.between(10, most_nodes - 12);
        while (net_.nodes.size() < nodes) {
            const Place &place = places[random_.below(places.size())];
            const double choice = random_.uniform(0.0, 1.0);
            if (choice < 0.25)
                places.push_back(add_run(place, header && random_.chance(0.5)));
            else if (choice < 0.9)
                for (std::size_t i = random_.between(1, 5); i > 0; --i)
                    add_emitter(place);
            else if (choice < 0.94)
                link(place.flow, place.back, valve());
            else if (choice < 0.97 && kind_.set_valued)
                link(place.flow, place.back, OneWay{kv(), random_.log_uniform(1e2, 5e4)});
            else if (places.size() > 2)
                link(places[random_.below(places.size())].flow, place.flow, pipe());
        }
        if (!random_.chance(0.1))
            net_.fill = NodePressure{back, 1.2e5};
        return std::move(net_);
    }

    Network graph() {
        begin();
        const std::size_t nodes = random_.between(3, 48); // pumps and sources add their own
        for (std::size_t i = 0; i < nodes; ++i)
            node(random_.chance(0.5) ? 0.0 : random_.uniform(-3.0, 9.0));
        plain_nodes_ = nodes;
        const bool whole = random_.chance(0.9);
        for (NodeId v = 1; v < nodes; ++v)
            if (whole || random_.chance(0.9))
                add_any(random_.below(v), v);
        const std::size_t more = random_.between(1, 2 * nodes);
        for (std::size_t i = 0; i < more; ++i) {
            const NodeId a = random_.below(nodes);
            const NodeId b = random_.below(nodes);
            if (a != b || random_.chance(0.1))
                add_any(a, b);
        }
        if (kind_.heat && random_.chance(0.3))
            add_source(0, 1);
        if (kind_.open_ends)
            add_ends();
        if (random_.chance(0.3))
            net_.fill = NodePressure{random_.below(nodes), random_.uniform(0.0, 3e5)};
        return std::move(net_);
    }

private:
    struct Place {
        NodeId flow;
        NodeId back;
        double level_m;
    };

    void begin() {
        if (random_.chance(0.1) || kind_.all_pipes) {
            net_.fluid.kind = models::FluidKind::Stated;
            net_.fluid.stated_density_kg_m3 = random_.uniform(700.0, 1300.0);
            net_.fluid.stated_viscosity_pa_s = random_.log_uniform(1e-4, 1e-2);
        } else if (random_.chance(0.15)) {
            net_.fluid.kind = models::FluidKind::PropyleneGlycol;
            net_.fluid.glycol_mass_share = random_.uniform(0.1, 0.5);
        }
        net_.reference_density_kg_m3 = models::fluid_state(net_.fluid, 20.0).density_kg_m3;
        net_.buoyancy = kind_.buoyancy && random_.chance(0.3);
        sent_c_ = random_.uniform(10.0, 80.0);
    }

    NodeId node(double elevation_m) {
        net_.nodes.push_back({fmt::format("N{}", net_.nodes.size()), elevation_m});
        return net_.nodes.size() - 1;
    }

    LinkId link(NodeId from, NodeId to, Component component, Exchange exchange = {}) {
        const LinkId id = net_.links.size();
        net_.links.push_back({fmt::format("L{}", id), from, to, std::move(component),
                              Owner{Owner::Kind::Run, 0, Side::Flow}, exchange,
                              sent_c_ - random_.uniform(0.0, 10.0)});
        return id;
    }

    // Parts one after the other, with nodes of their own between; turned round in part.
    std::vector<LinkId> chain(NodeId from, NodeId to, const std::vector<Component> &parts) {
        std::vector<LinkId> ids;
        const double start = net_.nodes[from].elevation_m;
        const double end = net_.nodes[to].elevation_m;
        NodeId at = from;
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const double share = static_cast<double>(i + 1) / static_cast<double>(parts.size());
            const NodeId next = i + 1 == parts.size() ? to : node(start + share * (end - start));
            const bool turns =
                flow_bounds(parts[i]).least_kg_s == -flow_bounds(parts[i]).most_kg_s &&
                !std::holds_alternative<RunningPump>(parts[i]) &&
                !std::holds_alternative<PressureRise>(parts[i]);
            ids.push_back(turns && random_.chance(0.2) ? link(next, at, parts[i])
                                                       : link(at, next, parts[i]));
            at = next;
        }
        return ids;
    }

    double kv() {
        return kind_.extremes ? random_.log_uniform(1e-4, 50.0) : random_.log_uniform(0.2, 10.0);
    }
    double bore() {
        return kind_.extremes && random_.chance(0.5) ? random_.log_uniform(0.004, 0.3)
                                                     : random_.log_uniform(0.008, 0.04);
    }
    Component valve() {
        if (kind_.all_pipes)
            return pipe();
        return FlowFactor{kv()};
    }
    Component pipe(double curved_share = 0.0, double length_m = 0.0) {
        models::PipeShape shape{};
        shape.bore_m = bore();
        shape.length_m = length_m > 0.0 ? length_m : random_.log_uniform(0.05, 150.0);
        shape.roughness_m = std::min(random_.log_uniform(1e-7, 5e-4), 0.05 * shape.bore_m);
        if (curved_share > 0.0 && shape.bore_m < 0.03) {
            shape.curved_share = curved_share;
            shape.bend_diameter_m = random_.uniform(0.1, 0.6) + 5.0 * shape.bore_m;
        }
        shape.transition = random_.chance(0.8)   ? models::Transition::Middle
                           : random_.chance(0.5) ? models::Transition::Early
                                                 : models::Transition::Late;
        if (kind_.all_pipes)
            shape.constant_friction_factor = random_.uniform(0.015, 0.06);
        return PipeFriction{models::make_pipe(shape)};
    }
    Component header_pipe() {
        if (kind_.all_pipes)
            return pipe();
        return LocalLoss{random_.uniform(0.5, 3.0), random_.uniform(0.04, 0.15)};
    }
    Component fitting() {
        if (kind_.all_pipes)
            return pipe();
        return LocalLoss{random_.log_uniform(0.05, 30.0), bore()};
    }

    models::PumpCurve curve(double head_pa) {
        const double flow =
            kind_.extremes ? random_.log_uniform(3e-6, 3e-3) : random_.log_uniform(2e-4, 1.5e-3);
        if (random_.chance(0.1))
            return models::make_pump_curve({{flow, head_pa}});
        const double start = random_.chance(0.8) ? 0.0 : 0.1 * flow;
        const double peak =
            kind_.controlled && random_.chance(0.03) ? random_.uniform(1.0, 1.1) : 0.9;
        return models::make_pump_curve({{start, head_pa},
                                        {0.5 * flow, peak * head_pa},
                                        {flow, random_.uniform(0.0, 0.6) * head_pa}});
    }

    Component pump(double running = 0.7) {
        const double head =
            kind_.extremes ? random_.log_uniform(1e-2, 5e5) : random_.log_uniform(5e3, 1e5);
        if (!kind_.pump_curves || kind_.all_pipes)
            return PressureRise{head};
        if (!random_.chance(running))
            return StoppedPump{curve(head)};
        RunningPump out{curve(head), random_.uniform(0.3, 1.0)};
        const double peak = out.speed * out.speed * out.curve.peak_pressure_pa;
        const double choice = random_.uniform(0.0, 1.0);
        if (choice < 0.25) {
            out.limit_pa = out.setting_pa = random_.uniform(0.1, 0.9) * peak;
        } else if (choice < 0.30 && kind_.controlled) {
            out.control = PumpControl::Proportional;
            out.proportional_pa = random_.uniform(0.3, 0.9) * peak;
        } else if (choice < 0.40 && kind_.set_valued) {
            out.most_kg_s =
                random_.uniform(0.1, 0.9) * 1000.0 * out.speed * out.curve.points.back().flow_m3_s;
        }
        return out;
    }

    Component limiter() {
        const double open = kv();
        const double ordinary = open / 3.6 * std::sqrt(0.05); // kg/s at 5 kPa
        return FlowLimiter{open, ordinary * random_.log_uniform(0.01, 3.0)};
    }

    void add_source(NodeId sent, NodeId back) {
        std::vector<Component> parts{pump(0.95), valve(), pipe()};
        if (kind_.set_valued && random_.chance(0.2))
            parts.push_back(OneWay{kv(), random_.uniform(0.0, 500.0)});
        const std::vector<LinkId> ids = chain(back, sent, parts);
        if (kind_.heat) {
            net_.links[ids[1]].exchange.kind = Exchange::Kind::Source;
            net_.links[ids[1]].exchange.sent_c = sent_c_;
            net_.source = SourceLinks{sent, back, ids[0], {ids[1]}};
        }
    }

    Place add_run(const Place &from, bool pumped) {
        const double level =
            random_.chance(0.5) ? from.level_m : from.level_m + random_.uniform(-2.7, 2.7);
        const Place to{node(level), node(level), level};
        const Component run_pipe = pipe();
        std::vector<Component> there{run_pipe, fitting()};
        if (pumped)
            there.push_back(pump());
        if (kind_.set_valued && random_.chance(0.1))
            there.push_back(OneWay{kv(), 0.0});
        if (kind_.set_valued && random_.chance(0.03))
            there.push_back(Shut{});
        chain(from.flow, to.flow, there);
        std::vector<Component> home{random_.chance(0.7) ? run_pipe : pipe()};
        if (random_.chance(0.5))
            home.push_back(valve());
        chain(to.back, from.back, home);
        return to;
    }

    void add_emitter(const Place &place) {
        std::vector<Component> parts{pipe(random_.chance(0.5) ? random_.uniform(0.1, 0.9) : 0.0)};
        if (random_.chance(0.8))
            parts.push_back(valve());
        if (kind_.set_valued && random_.chance(0.3))
            parts.push_back(random_.chance(0.15) ? Component(Shut{}) : limiter());
        const std::vector<LinkId> ids = chain(place.flow, place.back, parts);
        if (!kind_.heat)
            return;
        Exchange &exchange = net_.links[ids[0]].exchange;
        exchange.kind = Exchange::Kind::Emitter;
        exchange.rest_c = random_.uniform(15.0, 24.0);
        exchange.conductance_w_k = random_.log_uniform(3.0, 300.0);
    }

    void add_any(NodeId a, NodeId b) {
        const double choice = random_.uniform(0.0, 1.0);
        if (kind_.all_pipes && choice >= 0.6)
            chain(a, b, {pipe()});
        else if (choice < 0.5)
            link(a, b, pipe());
        else if (choice < 0.6 && net_.nodes.size() + 1 < most_nodes - 6)
            chain(a, b, {pump(), valve()}); // an ideal pump needs something to work against
        else if (choice < 0.78)
            link(a, b, valve());
        else if (choice < 0.88 || !kind_.set_valued)
            link(a, b, fitting());
        else if (choice < 0.92)
            link(a, b, OneWay{kv(), 0.0});
        else if (choice < 0.94)
            link(a, b, OneWay{kv(), random_.log_uniform(1.0, 1e5)});
        else if (choice < 0.98)
            link(a, b, limiter());
        else
            link(a, b, Shut{});
    }

    // Held pressures, and fixed flows along a way that parts without bounds (or check valves, in
    // their direction) leave open.
    void add_ends() {
        const std::size_t held = random_.chance(0.5) ? 0 : random_.between(1, 3);
        // Never between a pump and what it works against, where no flow might satisfy it.
        for (std::size_t v : random_.permutation(plain_nodes_))
            if (net_.held.size() < held)
                net_.held.push_back({v, random_.chance(0.2) ? 1e5 : random_.uniform(0.5e5, 4e5)});
        const std::size_t fixed = random_.chance(0.6) ? 0 : random_.between(1, 4);
        for (std::size_t i = 0; i < fixed; ++i) {
            const NodeId from = random_.below(net_.nodes.size());
            const NodeId to = random_.below(net_.nodes.size());
            const double flow = ordinary_on_way(from, to) * random_.log_uniform(1e-3, 3.0);
            if (!(flow > 0.0))
                continue;
            net_.fixed.push_back({from, flow, 0});
            const bool leaves_at_held =
                std::any_of(net_.held.begin(), net_.held.end(),
                            [&](const NodePressure &h) { return h.node == to; });
            if (!leaves_at_held)
                net_.fixed.push_back({to, -flow, 0});
        }
    }

    // The least ordinary flow on a shortest way; 0 if there is none.
    double ordinary_on_way(NodeId from, NodeId to) {
        std::vector<double> carries(net_.nodes.size(), 0.0);
        std::queue<NodeId> waiting;
        carries[from] = 1e3;
        waiting.push(from);
        while (!waiting.empty() && from != to) {
            const NodeId at = waiting.front();
            waiting.pop();
            for (const Link &l : net_.links) {
                if (l.from != at && l.to != at)
                    continue;
                const NodeId next = l.from == at ? l.to : l.from;
                const FlowBounds bounds = flow_bounds(l.component);
                const double bound = l.from == at ? bounds.most_kg_s : -bounds.least_kg_s;
                if (carries[next] > 0.0 || bound != models::no_limit)
                    continue;
                carries[next] = std::min(
                    carries[at], ordinary_flow(l.component, models::fluid_state(net_.fluid, 40.0)));
                waiting.push(next);
            }
        }
        return from == to ? 0.0 : carries[to];
    }

    Random random_;
    const RandomKind kind_;
    Network net_;
    double sent_c_ = 40.0;
    std::size_t plain_nodes_ = 0;
};

} // namespace

Network random_house(std::uint64_t seed, const RandomKind &kind) {
    return Builder(seed, kind).house();
}

Network random_graph(std::uint64_t seed, const RandomKind &kind) {
    return Builder(seed, kind).graph();
}

Network random_network(std::uint64_t seed, const RandomKind &kind) {
    return seed % 5 < 2 ? random_house(seed, kind) : random_graph(seed, kind);
}

std::vector<models::FluidState> expected_states(const Network &network) {
    std::vector<models::FluidState> states;
    for (const Link &link : network.links)
        states.push_back(models::fluid_state(network.fluid, link.expected_c));
    return states;
}

} // namespace headroom::tests
