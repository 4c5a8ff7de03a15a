#include "solver/questions/mixed.hpp"

#include <deque>
#include <fmt/format.h>
#include <map>
#include <set>
#include <string>

namespace headroom::solver {
namespace {

using networks::House;

struct Before {
    MixerRun mixer;
    bool pumped = false; ///< a pump runs at that mixer, or behind it
};

bool has_running_pump(const networks::Run &run) {
    return run.pump && run.pump->mode != networks::PumpMode::Stopped;
}

std::map<std::string, Before> before_places(const House &house) {
    std::map<std::string, Before> before{{"source", {}}};
    std::deque<std::string> reached{"source"};
    for (; !reached.empty(); reached.pop_front()) {
        const std::string at = reached.front();
        for (std::size_t i = 0; i < house.runs.size(); ++i) {
            const networks::Run &run = house.runs[i];
            if (run.one_way || (run.from != at && run.to != at))
                continue;
            const std::string &next = run.from == at ? run.to : run.from;
            Before state = run.mixer ? Before{i, false} : before[at];
            state.pumped = state.pumped || has_running_pump(run);
            if (before.emplace(next, state).second)
                reached.push_back(next);
        }
    }
    return before;
}

std::vector<Before> before_emitters(const House &house) {
    const std::map<std::string, Before> places = before_places(house);
    std::vector<Before> out;
    for (const networks::Emitter &emitter : house.emitters) {
        const auto found = places.find(emitter.from.substr(0, emitter.from.rfind(".flow")));
        out.push_back(found == places.end() ? Before{} : found->second);
    }
    return out;
}

// "`a`, `b`"
std::string names_of(const House &house, const std::vector<std::size_t> &runs) {
    std::string out;
    for (std::size_t run : runs)
        out += fmt::format("{}`{}`", out.empty() ? "" : ", ", house.runs[run].name);
    return out;
}

} // namespace

std::vector<MixerRun> mixers_before_emitters(const House &house) {
    std::vector<MixerRun> out;
    for (const Before &before : before_emitters(house))
        out.push_back(before.mixer);
    return out;
}

std::vector<std::size_t> mixers_without_pump(const House &house) {
    std::set<std::size_t> runs;
    for (const Before &before : before_emitters(house))
        if (before.mixer && !before.pumped)
            runs.insert(*before.mixer);
    return {runs.begin(), runs.end()};
}

std::vector<std::string> unpumped_mixer_words(const House &house) {
    const std::vector<std::size_t> runs = mixers_without_pump(house);
    if (runs.empty())
        return {};
    return {fmt::format("the mixer of {} has no pump behind it, so that it cannot mix: loops and "
                        "radiators there get only what other pumps push through its hot port; give "
                        "the run its `pump:`",
                        names_of(house, runs))};
}

std::vector<std::string> assumed_mixer_ends(const House &house) {
    std::vector<std::size_t> runs;
    for (std::size_t i = 0; i < house.runs.size(); ++i)
        if (house.runs[i].mixer && house.runs[i].mixer->end_assumed)
            runs.push_back(i);
    if (runs.empty())
        return {};
    return {fmt::format("mixer and pump of {}: at the `to` end of the run, so that its pipes lie "
                        "before them; with `end: from` the pump also pushes the water through "
                        "these pipes",
                        names_of(house, runs))};
}

std::vector<std::optional<double>> temperatures_held_c(const House &house) {
    std::vector<std::optional<double>> out;
    for (const MixerRun &mixer : mixers_before_emitters(house))
        out.push_back(mixer ? house.runs[*mixer].mixer->set_c : std::nullopt);
    return out;
}

} // namespace headroom::solver
