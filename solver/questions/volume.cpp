#include "solver/questions/volume.hpp"

#include "models/radiator.hpp"
#include "models/units.hpp"
#include "networks/network.hpp"
#include "solver/questions/circulating.hpp"
#include "solver/questions/reheat.hpp"
#include "solver/questions/variants.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;
using networks::Link;
using networks::Network;
using networks::Owner;

constexpr double open_low_m3_w = 15e-6; // 15 to 20 l for each kW of a heat pump
constexpr double open_high_m3_w = 20e-6;
constexpr double fan_convector_m3_kw = 0.4e-3; // common practice, no source

double cylinder_m3(double bore_m, double length_m) {
    return 0.25 * models::pi * bore_m * bore_m * length_m;
}

bool is_body(const House &house, const Link &link) {
    return link.owner.kind == Owner::Kind::Emitter &&
           house.emitters[link.owner.index].kind == networks::Emitter::Kind::Radiator &&
           std::holds_alternative<networks::LocalLoss>(link.component);
}

double link_volume_m3(const House &house, const Link &link) {
    const auto *pipe = std::get_if<networks::PipeFriction>(&link.component);
    if (pipe != nullptr && link.owner.kind == Owner::Kind::Separator && house.separator->volume_m3)
        return *house.separator->volume_m3;
    if (pipe != nullptr)
        return cylinder_m3(pipe->pipe.bore_m, pipe->pipe.length_m);
    if (is_body(house, link))
        return radiator_volume_m3(house, house.emitters[link.owner.index]);
    return 0.0;
}

std::string part_name(const House &house, const Network &network, const Link &link) {
    if (is_body(house, link))
        return network.owner_name(house, link.owner) + ", body";
    if (link.owner.kind == Owner::Kind::Run)
        return fmt::format("run {}", house.runs[link.owner.index].name);
    if (link.owner.kind == Owner::Kind::Manifold)
        return fmt::format("{}, bars", house.manifolds[link.owner.index].name);
    return network.owner_name(house, link.owner);
}

} // namespace

double radiator_volume_m3(const House &house, const networks::Emitter &radiator) {
    if (radiator.volume_m3)
        return *radiator.volume_m3;
    double rated_w = 0.0;
    if (const auto *rating = std::get_if<models::Radiator>(&radiator.emission)) {
        rated_w = models::radiator_size_w(*rating);
    } else if (house.source) {
        // One that gives its heat at the design temperatures, at the rating's.
        const double mean_c = house.source->flow_temperature_c - 0.5 * radiator.drop_k;
        const models::Radiator as_designed{radiator.heat_w, 1.3, mean_c, mean_c,
                                           std::min(radiator.indoor_c, mean_c - 1.0)};
        rated_w = models::radiator_size_w(as_designed);
    }
    if (radiator.body == networks::Emitter::Body::FanConvector)
        return fan_convector_m3_kw * rated_w * 1e-3;
    return house.habits[networks::Habit::RadiatorVolume] * rated_w * 1e-3;
}

std::vector<VolumePart> volumes(const House &house) {
    // Zones move no pipe, so that one network shows both the parts and what stays open.
    const Network network = as_built(with_zones(house, {}));
    const std::vector<char> always = on_closed_way(network);
    std::vector<VolumePart> out;
    for (std::size_t e = 0; e < network.links.size(); ++e) {
        const Link &link = network.links[e];
        const double volume = link_volume_m3(house, link);
        if (volume <= 0.0)
            continue;
        const std::string what = part_name(house, network, link);
        const bool open = always[e] != 0;
        const auto known = std::find_if(out.begin(), out.end(), [&](const VolumePart &part) {
            return part.what == what && part.open_always == open;
        });
        if (known == out.end())
            out.push_back({what, volume, open});
        else
            known->volume_m3 += volume;
    }
    return out;
}

double held_water_m3(const House &house) {
    double sum = 0.0;
    for (const VolumePart &part : volumes(house))
        sum += part.volume_m3;
    return sum;
}

double open_volume_m3(const House &house, const std::vector<std::string> &open_zones) {
    const Network network = as_built(with_zones(house, open_zones));
    const std::vector<char> open = on_closed_way(network);
    double sum = 0.0;
    for (std::size_t e = 0; e < network.links.size(); ++e)
        if (open[e])
            sum += link_volume_m3(house, network.links[e]);
    return sum;
}

WantedVolume wanted_volume(const House &sized) {
    const networks::Source &source = *sized.source;
    if (source.least_open_volume_m3)
        return {source.least_open_volume_m3, source.least_open_volume_m3,
                "`least_open_volume` in the file"};
    if (source.kind != networks::Source::Kind::HeatPump)
        return {};
    const bool rated = !std::holds_alternative<std::monostate>(source.heat) && sized.outdoor_c;
    double heat_w = 0.0;
    if (rated)
        heat_w = source_at(sized, source.flow_temperature_c).greatest_w;
    else
        for (const networks::Emitter &emitter : sized.emitters)
            heat_w += emitter.heat_w;
    return {open_low_m3_w * heat_w, open_high_m3_w * heat_w,
            fmt::format("15 to 20 l for each kW of {}; common practice, no source",
                        rated ? "its output" : "the design load")};
}

} // namespace headroom::solver
