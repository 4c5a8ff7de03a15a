#include "solver/questions/site_readings.hpp"

#include "models/units.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::solver {
namespace {

using networks::House;
using networks::LinkId;
using networks::Network;
using networks::SiteReading;

networks::NodeId node_named(const Network &network, const std::string &name) {
    const auto found = std::find_if(network.nodes.begin(), network.nodes.end(),
                                    [&](const networks::Node &node) { return node.name == name; });
    return static_cast<networks::NodeId>(found - network.nodes.begin());
}

LinkId pump_at(const House &house, const Network &network, const std::string &name) {
    for (std::size_t r = 0; r < house.runs.size(); ++r)
        if (house.runs[r].name == name && house.runs[r].pump)
            return pump_link(network, r);
    return pump_link(network, std::nullopt);
}

LinkId meter_at(const House &house, const Network &network, const std::string &name) {
    for (const networks::EmitterLinks &links : network.emitters)
        if (house.emitters[links.emitter].name == name)
            return *links.balancing;
    return 0;
}

double volume_m3_s(const Solution &solution, LinkId link) {
    return solution.flow_kg_s[link] / solution.fluid[link].density_kg_m3;
}

// Pressure less the weight of the still column it is measured along.
double level_free_pa(const SolvedHouse &house, const std::string &point) {
    const networks::NodeId node = node_named(house.network, point);
    return house.solution.pressure_pa[node] + house.network.reference_density_kg_m3 *
                                                  models::gravity_m_per_s2 *
                                                  house.network.nodes[node].elevation_m;
}

} // namespace

House as_read(House house) {
    house.condition.buoyancy = true;
    return house;
}

std::vector<double> read_off(const House &house, const SolvedHouse &solved) {
    const Solution &solution = solved.solution;
    std::vector<double> out;
    for (const SiteReading &reading : house.readings)
        switch (reading.kind) {
        case SiteReading::Kind::MeterFlow:
            out.push_back(volume_m3_s(solution, meter_at(house, solved.network, reading.at)));
            break;
        case SiteReading::Kind::PumpFlow:
            out.push_back(volume_m3_s(solution, pump_at(house, solved.network, reading.at)));
            break;
        case SiteReading::Kind::PumpHead:
            out.push_back(-solution.loss_pa[pump_at(house, solved.network, reading.at)]);
            break;
        case SiteReading::Kind::PressureBetween:
            out.push_back(level_free_pa(solved, reading.at) - level_free_pa(solved, reading.other));
            break;
        case SiteReading::Kind::TemperatureAt:
            out.push_back(solution.heat.node_c[node_named(solved.network, reading.at)]);
            break;
        }
    return out;
}

std::string loop_not_laid(const House &house) {
    for (const SiteReading &reading : house.readings)
        if (reading.kind == SiteReading::Kind::MeterFlow &&
            std::none_of(house.emitters.begin(), house.emitters.end(),
                         [&](const networks::Emitter &e) { return e.name == reading.at; }))
            return reading.at;
    return {};
}

std::string reading_name(const SiteReading &reading) {
    const std::string pump =
        reading.at == "source" ? "circulator" : fmt::format("pump of `{}`", reading.at);
    switch (reading.kind) {
    case SiteReading::Kind::MeterFlow:
        return fmt::format("meter of `{}`", reading.at);
    case SiteReading::Kind::PumpFlow:
        return pump + ", flow shown";
    case SiteReading::Kind::PumpHead:
        return pump + ", head shown";
    case SiteReading::Kind::PressureBetween:
        return fmt::format("between `{}` and `{}`", reading.at, reading.other);
    case SiteReading::Kind::TemperatureAt:
        return fmt::format("temperature at `{}`", reading.at);
    }
    return "";
}

} // namespace headroom::solver
