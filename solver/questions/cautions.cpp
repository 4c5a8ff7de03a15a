#include "solver/questions/cautions.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;

bool has_floor(const House &house) {
    return std::any_of(house.emitters.begin(), house.emitters.end(),
                       [](const networks::Emitter &emitter) {
                           return emitter.kind == networks::Emitter::Kind::FloorLoop;
                       });
}

bool has_glycol(const House &house) {
    return house.fluid.kind == models::FluidKind::PropyleneGlycol ||
           house.fluid.kind == models::FluidKind::EthyleneGlycol;
}

} // namespace

std::vector<std::string> cautions(const House &house) {
    std::vector<std::string> out;
    if (house.source) {
        const bool boiler = house.source->kind == networks::Source::Kind::Boiler;
        out.push_back(fmt::format("{}{} electrical connection{} belong to people licensed for "
                                  "them; local codes stand above this.",
                                  boiler ? "Gas work" : "Work on the refrigerant circuit",
                                  house.hot_water ? "," : " and",
                                  house.hot_water ? " and an unvented cylinder" : ""));
    }
    if (house.hot_water) {
        out.emplace_back("Stored hot water is kept at 60 degC or heated through to it regularly, "
                         "against legionella.");
        out.emplace_back("Water at 60 degC scalds in seconds: mixing valves at baths and taps, and "
                         "a relief pipe that can hurt nobody.");
    }
    if (has_floor(house)) {
        out.emplace_back("A floor needs a limit to its flow temperature and an independent "
                         "high-limit stat that stops the heat.");
        out.emplace_back(
            "A screed dries its full time before it is warmed up, slowly, by EN 1264-4; "
            "its finish comes after that.");
    }
    if (has_glycol(house))
        out.emplace_back("Glycol goes in with its inhibitor, ready mixed, is tested each year, and "
                         "is not let into a drain.");
    else if (house.source)
        out.emplace_back("The water is flushed, dosed with inhibitor and tested; outdoor pipes "
                         "need protection against frost.");
    return out;
}

} // namespace headroom::solver
