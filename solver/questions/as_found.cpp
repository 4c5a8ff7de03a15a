#include "solver/questions/as_found.hpp"

#include "networks/network.hpp"
#include "solver/solve.hpp"

namespace headroom::solver {

AsFound as_found(const networks::House &house) {
    const networks::Network network = networks::expand(house);
    const Solution solution = solve(network, &house);
    AsFound out;
    out.solved = solution.outcome.converged();
    if (!out.solved)
        return out;
    if (network.source)
        out.source_kg_s = solution.flow_kg_s[network.source->pump];
    out.pumps = pump_duties(house, network, solution);
    for (const PumpDuty &pump : out.pumps) {
        out.electric_w += pump.power.electric_w;
        out.efficiency_assumed = out.efficiency_assumed || pump.power.assumed;
    }
    out.inlet_c.resize(house.emitters.size());
    for (const networks::EmitterLinks &emitter : network.emitters)
        out.inlet_c[emitter.emitter] = solution.heat.in_c[emitter.links.front()];
    return out;
}

} // namespace headroom::solver
