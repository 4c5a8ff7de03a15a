#include "solver/questions/fixed_mixers.hpp"

#include "networks/network.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/solve.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;
using networks::LinkId;
using networks::Network;

// A port of a run's mixer.
std::optional<LinkId> port(const Network &network, std::size_t run, const char *name) {
    for (LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        if (link.owner.kind == networks::Owner::Kind::Run && link.owner.index == run &&
            link.name.starts_with(name)) // one that is shut says so behind its name
            return id;
    }
    return std::nullopt;
}

bool is_fixed(const networks::Run &run) {
    return run.mixer && !run.mixer->set_c;
}

// Drop, mean by flow, and warmest room of what stands behind a mixer.
struct Behind {
    double heat_w = 0.0;
    double heat_by_drop_w_k = 0.0;
    double warmest_c = 0.0;

    double drop_k() const { return heat_w / heat_by_drop_w_k; }
};

Behind behind(const House &house, std::size_t run) {
    const std::vector<MixerRun> mixers = mixers_before_emitters(house);
    Behind out;
    for (std::size_t i = 0; i < house.emitters.size(); ++i) {
        const networks::Emitter &emitter = house.emitters[i];
        if (mixers[i] != run)
            continue;
        out.heat_w += emitter.heat_w;
        out.heat_by_drop_w_k += emitter.heat_w / emitter.drop_k;
        out.warmest_c = std::max(out.warmest_c, emitter.indoor_c);
    }
    return out;
}

} // namespace

bool has_fixed_mixers(const House &house) {
    return std::any_of(house.runs.begin(), house.runs.end(), is_fixed);
}

std::vector<FixedMixer> fixed_mixers(const House &given, const House &sized) {
    std::vector<FixedMixer> out;
    const Network network = networks::expand(sized);
    const Solution solution = solve(network, &sized);
    if (!solution.outcome.converged())
        return out;
    for (std::size_t run = 0; run < given.runs.size(); ++run) {
        if (!is_fixed(given.runs[run]))
            continue;
        const Behind served = behind(given, run);
        const LinkId hot = *port(network, run, "mixer, hot port");
        const double hot_kg_s = solution.flow_kg_s[hot];
        const double cold_kg_s =
            std::max(0.0, solution.flow_kg_s[*port(network, run, "mixer, cold port")]);
        if (!(hot_kg_s > 0.0) || !(served.heat_by_drop_w_k > 0.0))
            continue;
        FixedMixer mixer{run, hot_kg_s / (hot_kg_s + cold_kg_s), solution.heat.in_c[hot],
                         served.drop_k(), 0.0};
        constexpr double least_excess_k = 1.0; // of the return over the room
        mixer.mixed_c =
            std::max(mixer.hot_c - mixer.drop_k * (1.0 - mixer.hot_share) / mixer.hot_share,
                     served.warmest_c + mixer.drop_k + least_excess_k);
        out.push_back(mixer);
    }
    return out;
}

std::string fixed_mixer_words(const House &house, const FixedMixer &mixer) {
    return fmt::format("what stands behind the mixer of run `{}` is sized for {:.1f} degC: at its "
                       "fixed position {:.0f} % of its water comes hot, at {:.1f} degC, the rest "
                       "back, {:.1f} K cooler than sent",
                       house.runs[mixer.run].name, mixer.mixed_c, 100.0 * mixer.hot_share,
                       mixer.hot_c, mixer.drop_k);
}

} // namespace headroom::solver
