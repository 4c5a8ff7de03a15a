// The drawing of the sheet: places and parts, with flows and temperatures of one solved state.
#include "networks/names.hpp"
#include "networks/network.hpp"
#include "solver/questions/sheet.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <set>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;
using networks::LinkId;
using networks::Network;
using networks::Owner;
using networks::Run;
using networks::Side;

class Drawer {
public:
    Drawer(const House &house, const DriveAnswer &drive, HouseDrawing &out)
        : house_(house), drive_(drive), names_(house), out_(out), network_(networks::expand(house)),
          solution_(solve(network_, &house)) {}

    void draw();

private:
    std::vector<LinkId> links_of(Owner::Kind kind, std::size_t index, Side side) const;
    double flow_m3_s(LinkId link) const {
        return solution_.flow_kg_s[link] / solution_.fluid[link].density_kg_m3;
    }
    bool on_index(const Owner &owner) const;
    void add_places();
    void add_runs();
    DrawnPart run_part(std::size_t index, bool turned) const;
    void add_emitters();
    void add_others();

    const House &house_;
    const DriveAnswer &drive_;
    networks::Names names_;
    HouseDrawing &out_;
    Network network_;
    Solution solution_;
};

std::vector<LinkId> Drawer::links_of(Owner::Kind kind, std::size_t index, Side side) const {
    std::vector<LinkId> out;
    for (LinkId id = 0; id < network_.links.size(); ++id) {
        const Owner &owner = network_.links[id].owner;
        if (owner.kind == kind && owner.index == index && owner.side == side)
            out.push_back(id);
    }
    return out;
}

bool Drawer::on_index(const Owner &owner) const {
    const std::string name = network_.owner_name(house_, owner);
    return std::any_of(drive_.index_circuit.begin(), drive_.index_circuit.end(),
                       [&](const CircuitStep &step) { return step.where == name; });
}

void Drawer::add_places() {
    using Kind = DrawnPlace::Kind;
    out_.places.push_back({Kind::Source, "source"});
    for (const std::string &name : names_.places()) {
        if (name == "source")
            continue;
        const bool manifold =
            std::any_of(house_.manifolds.begin(), house_.manifolds.end(),
                        [&](const networks::Manifold &m) { return m.name == name; });
        const bool separator = house_.separator && house_.separator->name == name;
        out_.places.push_back({separator  ? Kind::Separator
                               : manifold ? Kind::Manifold
                                          : Kind::Junction,
                               name});
    }
}

DrawnPart Drawer::run_part(std::size_t index, bool turned) const {
    const Run &run = house_.runs[index];
    DrawnPart part;
    part.name = run.name;
    part.from = turned ? run.to : run.from;
    part.to = turned ? run.from : run.to;
    part.single = run.one_way;
    part.pipe = fmt::format("{}, {:g} m", run.pipe.name, run.flow.length_m);
    const Owner owner{Owner::Kind::Run, index, Side::Flow};
    part.on_index = on_index(owner);
    const std::vector<LinkId> ways = links_of(Owner::Kind::Run, index, Side::Flow);
    part.flow_m3_s = flow_m3_s(ways.back());
    part.flow_c = solution_.heat.out_c[ways.back()];
    const std::vector<LinkId> back = links_of(Owner::Kind::Run, index, Side::Return);
    part.return_c = back.empty() ? part.flow_c : solution_.heat.in_c[back.front()];
    if (run.mixer) {
        part.hot_share = run.mixer->position;
        part.mixed_c = part.flow_c;
        for (const MixerState &mixer : solution_.mixers)
            if (mixer.run == index)
                part.hot_share = mixer.travel;
    }
    if (run.pump)
        part.pump = run.pump->mode == networks::PumpMode::Stopped ? "stopped pump" : "pump";
    for (const networks::Part &piece : run.parts)
        if (piece.kind == networks::Part::Kind::Zone)
            part.zone = piece.zone;
    return part;
}

// Two-way runs outwards from the source; one that leads to a place already reached closes a ring.
void Drawer::add_runs() {
    std::set<std::string> reached{"source"};
    std::vector<char> drawn(house_.runs.size(), 0);
    std::vector<std::string> front{"source"};
    for (std::size_t at = 0; at < front.size(); ++at)
        for (std::size_t i = 0; i < house_.runs.size(); ++i) {
            const Run &run = house_.runs[i];
            const std::string place = front[at];
            if (run.one_way || drawn[i] || (run.from != place && run.to != place))
                continue;
            const bool turned = run.from != place;
            const std::string &other = turned ? run.from : run.to;
            DrawnPart part = run_part(i, turned);
            part.closes_ring = !reached.insert(other).second;
            if (!part.closes_ring)
                front.push_back(other);
            drawn[i] = 1;
            out_.parts.push_back(std::move(part));
        }
    for (std::size_t i = 0; i < house_.runs.size(); ++i)
        if (house_.runs[i].one_way)
            out_.parts.push_back(run_part(i, false));
}

void Drawer::add_emitters() {
    for (const networks::EmitterLinks &links : network_.emitters) {
        const Emitter &emitter = house_.emitters[links.emitter];
        DrawnPart part;
        part.kind = emitter.kind == Emitter::Kind::FloorLoop ? DrawnPart::Kind::Loop
                                                             : DrawnPart::Kind::Radiator;
        part.name = emitter.name;
        part.from = emitter.from;
        part.to = emitter.to;
        part.single = !emitter.to.empty() || !names_.place(emitter.from);
        part.pipe = emitter.pipe.bore_m > 0.0
                        ? fmt::format("{}, {:.3g} m", emitter.pipe.name, emitter.length_m)
                        : "";
        part.on_index = emitter.name == drive_.index;
        part.flow_m3_s = flow_m3_s(links.links.front());
        part.design_share = solution_.flow_kg_s[links.links.front()] / links.design_flow_kg_s;
        part.flow_c = solution_.heat.in_c[links.links.front()];
        part.return_c = solution_.heat.out_c[links.links.back()];
        part.zone = emitter.zone;
        out_.parts.push_back(std::move(part));
    }
}

void Drawer::add_others() {
    if (house_.hot_water) {
        DrawnPart part;
        part.kind = DrawnPart::Kind::HotWater;
        part.name = "hot water";
        part.from = house_.hot_water->from;
        out_.parts.push_back(std::move(part));
    }
    for (std::size_t i = 0; i < house_.bypasses.size(); ++i) {
        DrawnPart part;
        part.kind = DrawnPart::Kind::Bypass;
        part.name = house_.bypasses[i].name;
        part.from = house_.bypasses[i].at;
        for (LinkId id : links_of(Owner::Kind::Bypass, i, Side::Flow)) {
            part.flow_m3_s = flow_m3_s(id);
            part.flow_c = part.return_c = solution_.heat.in_c[id];
        }
        out_.parts.push_back(std::move(part));
    }
    if (network_.separator)
        out_.separator_m3_s = flow_m3_s(*network_.separator);
    for (std::size_t v = 0; v < network_.nodes.size(); ++v)
        if (network_.nodes[v].name.find(", after ") == std::string::npos)
            out_.points.push_back({network_.nodes[v].name, solution_.heat.node_c[v],
                                   solution_.pressure_pa[v], solution_.pressure_known[v] != 0});
}

void Drawer::draw() {
    out_.outcome = solution_.outcome;
    if (!solution_.outcome.converged())
        return;
    out_.absolute = solution_.absolute;
    out_.source = source_word(*house_.source);
    out_.source_m3_s = flow_m3_s(network_.source->pump);
    out_.sent_c = solution_.heat.node_c[network_.source->flow];
    out_.back_c = solution_.heat.node_c[network_.source->back];
    add_places();
    add_runs();
    add_emitters();
    add_others();
}

} // namespace

HouseDrawing draw_house(const House &sized, const DriveAnswer &drive) {
    HouseDrawing out;
    out.as_set = drive.set_pa > 0.0 && !has_more_than_circulator(sized);
    House house = out.as_set ? set_for_rise(sized, drive.set_pa) : sized;
    house.condition.buoyancy = !out.as_set;
    Drawer(house, drive, out).draw();
    return out;
}

} // namespace headroom::solver
