#include "solver/questions/flushing.hpp"

#include "models/units.hpp"

#include <cmath>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Link;
using networks::LinkId;

FlushRow flush_row(const House &house, const SolvedHouse &design, LinkId id, double flush_m_s) {
    const Link &link = design.network.links[id];
    const models::Pipe &pipe = std::get<networks::PipeFriction>(link.component).pipe;
    const models::FluidState &fluid = design.solution.fluid[id];
    const double flow = std::abs(design.solution.flow_kg_s[id]);
    FlushRow row{};
    row.where = design.network.owner_name(house, link.owner);
    row.pipe = link.name;
    row.flow_m3_s = flow / fluid.density_kg_m3;
    row.velocity_m_s = models::velocity_m_s(pipe.bore_m, fluid, flow);
    row.carries_air = row.velocity_m_s >= flush_m_s;
    row.flush_m3_s = flush_m_s * models::bore_area_m2(pipe.bore_m);
    const models::FluidState cold = models::fluid_state({}, 10.0);
    double warm = 0.0;
    row.flush_loss_pa =
        networks::component_loss(link.component, cold, row.flush_m3_s * cold.density_kg_m3, warm)
            .pressure_pa;
    return row;
}

} // namespace

std::vector<FlushRow> flush_rows(const House &house, const SolvedHouse &design, double flush_m_s) {
    std::vector<FlushRow> out;
    const networks::Network &network = design.network;
    std::vector<char> seen(house.runs.size(), 0);
    for (LinkId id = 0; id < network.links.size(); ++id) {
        const Link &link = network.links[id];
        if (link.owner.kind != networks::Owner::Kind::Run || seen[link.owner.index] != 0 ||
            !std::holds_alternative<networks::PipeFriction>(link.component))
            continue;
        seen[link.owner.index] = 1;
        out.push_back(flush_row(house, design, id, flush_m_s));
    }
    for (const networks::EmitterLinks &emitter : network.emitters)
        if (emitter.pipe)
            out.push_back(flush_row(house, design, *emitter.pipe, flush_m_s));
    return out;
}

} // namespace headroom::solver
