#include "solver/questions/pump_duty.hpp"

#include "solver/root.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <iterator>

namespace headroom::solver {
namespace {

using networks::Habit;
using networks::House;
using networks::Owner;
using networks::Pump;
using networks::PumpMode;

const Pump *pump_of(const House &house, const Owner &owner) {
    if (owner.kind == Owner::Kind::Source)
        return &house.source->circulator;
    if (owner.kind == Owner::Kind::Run && house.runs[owner.index].pump)
        return &*house.runs[owner.index].pump;
    return nullptr;
}

// Straight between the points of a power curve, held at its ends.
double drawn_w(const std::vector<std::pair<double, double>> &points, double flow_m3_s) {
    const auto above = std::upper_bound(
        points.begin(), points.end(), flow_m3_s,
        [](double flow, const std::pair<double, double> &point) { return flow < point.first; });
    if (above == points.begin())
        return above->second;
    const auto below = std::prev(above);
    if (above == points.end())
        return below->second;
    const double share = (flow_m3_s - below->first) / (above->first - below->first);
    return below->second + share * (above->second - below->second);
}

PumpPower power_from(const House &house, double hydraulic_w, double electric_w, bool assumed) {
    PumpPower out;
    out.hydraulic_w = hydraulic_w;
    out.electric_w = electric_w;
    out.shaft_w = electric_w * house.habits[Habit::MotorEfficiency];
    out.efficiency = electric_w > 0.0 ? hydraulic_w / electric_w : 0.0;
    out.assumed = assumed;
    return out;
}

PumpPower power_by_efficiency(const House &house, const Pump &pump, double hydraulic_w) {
    const double efficiency = pump.efficiency.value_or(house.habits[Habit::PumpEfficiency]);
    return power_from(house, hydraulic_w, hydraulic_w / efficiency, !pump.efficiency);
}

bool stands_at_pressure(const Pump &pump) {
    return pump.mode == PumpMode::ConstantPressure || pump.mode == PumpMode::ProportionalPressure;
}

} // namespace

PumpPower pump_power(const House &house, const Pump &pump, double flow_m3_s, double rise_pa) {
    // A pump that others push through gives the water nothing.
    const double hydraulic_w = std::max(0.0, rise_pa * flow_m3_s);
    if (pump.electric.empty())
        return power_by_efficiency(house, pump, hydraulic_w);
    return power_from(house, hydraulic_w, drawn_w(pump.electric, flow_m3_s), false);
}

PumpPower pump_power_at(const House &house, const Pump &pump, double flow_m3_s, double rise_pa,
                        double speed) {
    PumpPower out = pump_power(house, pump, flow_m3_s, rise_pa);
    if (pump.electric.empty())
        return out;
    if (pump.mode == PumpMode::FixedSpeed)
        out.electric_w = models::affinity_power(
            drawn_w(pump.electric, flow_m3_s * pump.speed / speed), speed / pump.speed);
    else if (stands_at_pressure(pump) && pump.setting_pa > 0.0)
        out.electric_w *= rise_pa / pump.setting_pa;
    return power_from(house, out.hydraulic_w, out.electric_w, false);
}

double speed_for(const models::PumpCurve &curve, double flow_m3_s, double pressure_pa) {
    constexpr double slowest = 0.01;
    constexpr double fastest = 10.0;
    return bracketed_root(
        [&](double speed) {
            return models::pump_pressure(curve, flow_m3_s, speed).pressure_pa - pressure_pa;
        },
        slowest, fastest, 1e-6);
}

std::string pump_mode(const networks::Component &component, const Solution &solution,
                      networks::LinkId link) {
    if (std::holds_alternative<networks::StoppedPump>(component))
        return "stopped";
    const auto &pump = std::get<networks::RunningPump>(component);
    if (pump.control == networks::PumpControl::Proportional)
        return "proportional pressure";
    if (std::isfinite(pump.most_kg_s))
        return solution.flow_kg_s[link] >= pump.most_kg_s * (1.0 - 1e-9)
                   ? "constant flow"
                   : "constant flow, not reached";
    if (std::isfinite(pump.setting_pa))
        return "constant pressure";
    return fmt::format("fixed speed {:.3g} %", 100.0 * pump.speed);
}

std::vector<PumpDuty> pump_duties(const House &house, const networks::Network &network,
                                  const Solution &solution) {
    std::vector<PumpDuty> out;
    for (networks::LinkId id = 0; id < network.links.size(); ++id) {
        const networks::Link &link = network.links[id];
        const auto *running = std::get_if<networks::RunningPump>(&link.component);
        if (running == nullptr && !std::holds_alternative<networks::StoppedPump>(link.component))
            continue;
        const Pump *pump = pump_of(house, link.owner);
        if (pump == nullptr)
            continue;
        const double density_kg_m3 = solution.fluid[id].density_kg_m3;
        PumpDuty duty;
        duty.owner = link.owner;
        duty.where = network.owner_name(house, link.owner);
        duty.mode = pump_mode(link.component, solution, id);
        duty.running = running != nullptr;
        duty.flow_m3_s = solution.flow_kg_s[id] / density_kg_m3;
        duty.rise_pa = -solution.loss_pa[id];
        duty.inlet_pa = solution.pressure_pa[link.from];
        duty.inlet_known = solution.absolute && solution.pressure_known[link.from] != 0;
        duty.eei = pump->eei;
        if (running != nullptr) {
            duty.speed = speed_for(running->curve, std::max(0.0, duty.flow_m3_s),
                                   std::max(0.0, duty.rise_pa) * 1000.0 / density_kg_m3);
            duty.power = pump_power(house, *pump, duty.flow_m3_s, duty.rise_pa);
        }
        out.push_back(std::move(duty));
    }
    return out;
}

} // namespace headroom::solver
