#include "solver/questions/cautions.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Source;

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

std::string licensed_work(Source::Kind kind) {
    switch (kind) {
    case Source::Kind::HeatPump:
        return "Work on the refrigerant circuit";
    case Source::Kind::SolidFuel:
        return "Solid-fuel work";
    case Source::Kind::Boiler:
        break;
    }
    return "Gas work";
}

// A fire cannot be switched off: what keeps its water from boiling must work without power.
void add_solid_fuel(std::vector<std::string> &out) {
    out.emplace_back("A fire goes on when pumps and power stop. It needs an open vent that nothing "
                     "can shut, or a thermal discharge that cools it with mains water; no sealed "
                     "system without one, and only where its maker and local codes allow it.");
    out.emplace_back(
        "Its heat leak, vent and safety valve carry no valve, and the leak works by "
        "gravity alone; flue and air are as its maker says, and a carbon monoxide alarm hangs "
        "in its room.");
}

} // namespace

Screed screed_of(const House &house) {
    Screed out = Screed::None;
    for (const networks::Emitter &emitter : house.emitters) {
        if (emitter.kind != networks::Emitter::Kind::FloorLoop || emitter.existing)
            continue;
        const auto *floor = std::get_if<networks::FloorPart>(&emitter.emission);
        if (floor == nullptr)
            out = Screed::Unknown;
        else if (!floor->section.board)
            return Screed::Known;
    }
    return out;
}

std::vector<std::string> cautions(const House &house) {
    std::vector<std::string> out;
    if (house.source) {
        out.push_back(fmt::format("{}{} electrical connection{} belong to people licensed for "
                                  "them; local codes stand above this.",
                                  licensed_work(house.source->kind), house.hot_water ? "," : " and",
                                  house.hot_water ? " and an unvented cylinder" : ""));
        if (house.source->kind == Source::Kind::SolidFuel)
            add_solid_fuel(out);
    }
    if (house.hot_water) {
        out.emplace_back("Stored hot water is kept at 60 degC or heated through to it regularly, "
                         "against legionella.");
        out.emplace_back("Water at 60 degC scalds in seconds: mixing valves at baths and taps, and "
                         "a relief pipe that can hurt nobody.");
    }
    if (has_floor(house))
        out.emplace_back("A floor needs a limit to its flow temperature and an independent "
                         "high-limit stat that stops the heat.");
    if (screed_of(house) != Screed::None)
        out.emplace_back(
            "A screed dries its full time before it is warmed up, slowly, by EN 1264-4; "
            "its finish comes after that.");
    if (has_glycol(house))
        out.emplace_back("Glycol goes in with its inhibitor, ready mixed, is tested each year, and "
                         "is not let into a drain.");
    else if (house.source)
        out.emplace_back("The water is flushed, dosed with inhibitor and tested; outdoor pipes "
                         "need protection against frost.");
    return out;
}

} // namespace headroom::solver
