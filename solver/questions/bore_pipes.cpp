#include "solver/questions/bore_pipes.hpp"

#include "solver/questions/changes.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::House;

constexpr std::array usual_sizes{"10x1.3", "12x1.4", "14x2", "16x2", "17x2", "20x2"};

// The usual sizes of the loops' own family; those that cannot be had or laid with the reason.
void add_usual(const House &house, const Emitter &loop, BorePipes &out) {
    const std::string family = loop.pipe.name.substr(0, loop.pipe.name.rfind(' '));
    for (const char *size : usual_sizes) {
        const std::string name = fmt::format("{} {}", family, size);
        networks::Diagnostics faults;
        const auto pipe = networks::find_pipe(house.catalogue, {name, {}}, faults);
        if (!pipe)
            out.left_out.push_back({name, "the catalogue has no such size of this pipe"});
        else if (const char *fault = floor_fault(in_pipe(house, *pipe)))
            out.left_out.push_back({name, fault});
        else
            out.pipes.push_back(*pipe);
    }
    if (!out.pipes.empty())
        return;
    out.pipes.push_back(loop.pipe);
    out.left_out = {
        {"all usual sizes",
         fmt::format("`{}` is of no family made in them; name pipes with --pipe", loop.pipe.name)}};
}

} // namespace

House in_pipe(House house, const networks::PipeChoice &pipe) {
    const std::vector<networks::Manifold> manifolds = house.manifolds;
    for (const networks::Manifold &manifold : manifolds)
        house = changed(std::move(house), LoopPipe{manifold.name, pipe});
    return house;
}

BorePipes bore_pipes(const House &house, const std::vector<std::string> &names) {
    BorePipes out;
    const auto first =
        std::find_if(house.emitters.begin(), house.emitters.end(), [](const Emitter &emitter) {
            return emitter.kind == Emitter::Kind::FloorLoop;
        });
    if (names.empty()) {
        add_usual(house, *first, out);
        return out;
    }
    for (const std::string &name : names) {
        networks::Diagnostics faults;
        const auto pipe = networks::find_pipe(house.catalogue, {name, {}}, faults);
        if (!pipe) {
            out.fault = faults.sorted().front().message;
            out.help = faults.sorted().front().help;
        } else if (const char *fault = floor_fault(in_pipe(house, *pipe))) {
            out.fault = fmt::format("`{}` cannot lie in the house's floors: {}", name, fault);
            out.help = "leave it out, or describe another floor";
        } else {
            out.pipes.push_back(*pipe);
        }
    }
    return out;
}

} // namespace headroom::solver
