#include "solver/questions/mixer_authority.hpp"

#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {

using networks::LinkId;
using networks::Network;

std::optional<double> authority_share(const Network &network, const Solution &solution,
                                      const networks::MixerNode &mixer, double travel) {
    const double hot = solution.flow_kg_s[mixer.hot];
    const double open_pa = std::abs(solution.loss_pa[mixer.hot]) * travel * travel;
    double pipes_pa = 0.0;
    for (LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Owner &owner = network.links[id].owner;
        const bool same_water =
            std::abs(std::abs(solution.flow_kg_s[id]) - std::abs(hot)) <= 1e-6 * std::abs(hot);
        if (id != mixer.hot && owner.kind == networks::Owner::Kind::Run &&
            owner.index == mixer.run && same_water)
            pipes_pa += std::abs(solution.loss_pa[id]);
    }
    if (!(open_pa > 0.0) || !(pipes_pa > 0.0))
        return std::nullopt;
    return open_pa / (open_pa + pipes_pa);
}

std::vector<std::string> low_authority_words(const networks::House &house, const Network &network,
                                             const Solution &solution) {
    std::vector<std::string> out;
    for (std::size_t m = 0; m < solution.mixers.size(); ++m) {
        const MixerState &mixer = solution.mixers[m];
        const auto share = authority_share(network, solution, network.mixers[m], mixer.travel);
        if (share && *share < good_authority_share)
            out.push_back(fmt::format(
                "the mixer of run {} has an authority of {:.0f} % over its run's pipes, below the "
                "{:.0f} % from which a mixer steers well (common practice): most of its travel "
                "will do little; a smaller Kv, or wider pipes between it and the header, help",
                house.runs[mixer.run].name, 100.0 * *share, 100.0 * good_authority_share));
    }
    return out;
}

} // namespace headroom::solver
