// Why headroom may not be the head available less the head needed.
#include "solver/questions/drive_work.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;

constexpr double passing_share = 0.01;  // of the source's flow
constexpr double told_apart_pa = 500.0; // half of the last figure that is read on site

// The lowest pressure at which a bypass valve opens, where one has opened with the circulator as it
// is.
std::optional<double> opened_bypass_pa(const House &house, const Judgement &design) {
    constexpr double passing_kg_s = 1e-6;
    std::optional<double> least;
    for (std::size_t id = 0; id < design.network.links.size(); ++id) {
        const networks::Owner &owner = design.network.links[id].owner;
        if (owner.kind != networks::Owner::Kind::Bypass ||
            std::abs(design.solution.flow_kg_s[id]) <= passing_kg_s)
            continue;
        const auto &opens_pa = house.bypasses[owner.index].opens_pa;
        if (opens_pa && (!least || *opens_pa < *least))
            least = opens_pa;
    }
    return least;
}

// Radiators between two points of a pipe that water also passes without them.
bool on_a_ring(const House &house, const HeadNeeded &needed) {
    double emitters_kg_s = 0.0;
    for (const networks::EmitterLinks &links : needed.network.emitters)
        emitters_kg_s += needed.solution.flow_kg_s[links.links.front()];
    return std::abs(needed.source_flow_kg_s - emitters_kg_s) >
               passing_share * needed.source_flow_kg_s &&
           std::any_of(house.emitters.begin(), house.emitters.end(),
                       [](const Emitter &emitter) { return !emitter.to.empty(); });
}

} // namespace

std::string headroom_note(const DriveWork &work, const StateRow &design) {
    const double apart_pa = design.available_pa - design.needed_pa - design.headroom_pa;
    if (on_a_ring(work.given, *work.design.needed))
        return "says little here: radiators stand on a ring, which takes any more head itself; "
               "what they can spare is the loss of the ring between their own tees";
    if (std::abs(apart_pa) < told_apart_pa)
        return {};
    if (const auto opens_pa = opened_bypass_pa(work.given, work.design))
        return fmt::format("less than available over needed: a bypass valve opens at {} and passes "
                           "the rest",
                           pressure_words(work.out.form, *opens_pa));
    return "not available over needed: water passes by the loops and radiators unthrottled, so "
           "more head moves more of it";
}

} // namespace headroom::solver
