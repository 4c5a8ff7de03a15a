#include "solver/questions/mixed.hpp"

#include <deque>
#include <map>
#include <string>

namespace headroom::solver {
namespace {

using networks::House;

std::map<std::string, MixerRun> mixers_before_places(const House &house) {
    std::map<std::string, MixerRun> before{{"source", std::nullopt}};
    std::deque<std::string> reached{"source"};
    for (; !reached.empty(); reached.pop_front()) {
        const std::string at = reached.front();
        for (std::size_t i = 0; i < house.runs.size(); ++i) {
            const networks::Run &run = house.runs[i];
            if (run.one_way || (run.from != at && run.to != at))
                continue;
            const std::string &next = run.from == at ? run.to : run.from;
            if (before.emplace(next, run.mixer ? MixerRun(i) : before[at]).second)
                reached.push_back(next);
        }
    }
    return before;
}

} // namespace

std::vector<MixerRun> mixers_before_emitters(const House &house) {
    const std::map<std::string, MixerRun> places = mixers_before_places(house);
    std::vector<MixerRun> out;
    for (const networks::Emitter &emitter : house.emitters) {
        const auto found = places.find(emitter.from.substr(0, emitter.from.rfind(".flow")));
        out.push_back(found == places.end() ? std::nullopt : found->second);
    }
    return out;
}

std::vector<std::optional<double>> temperatures_held_c(const House &house) {
    std::vector<std::optional<double>> out;
    for (const MixerRun &mixer : mixers_before_emitters(house))
        out.push_back(mixer ? house.runs[*mixer].mixer->set_c : std::nullopt);
    return out;
}

} // namespace headroom::solver
