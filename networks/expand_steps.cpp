#include "networks/expand_steps.hpp"

#include "models/local_loss.hpp"
#include "models/pipe_heat_loss.hpp"
#include "models/units.hpp"

#include <cassert>
#include <cmath>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

models::PumpCurve scaled(const models::PumpCurve &curve, double factor) {
    std::vector<models::CurvePoint> points = curve.points;
    for (models::CurvePoint &point : points)
        point.pressure_pa *= factor;
    return models::make_pump_curve(std::move(points));
}

} // namespace

std::optional<Component> local_component(const Resistance &r, double bore_m) {
    if (r.kv_m3_h)
        return FlowFactor{*r.kv_m3_h};
    if (r.zeta && *r.zeta > 0.0)
        return LocalLoss{*r.zeta, bore_m};
    if (r.loss_pa && *r.loss_pa > 0.0)
        return FlowFactor{models::kv_for_loss(r.at_m3_s * models::kv_reference_density, *r.loss_pa,
                                              models::kv_reference_density)};
    return std::nullopt;
}

double local_kv(const Resistance &r, double bore_m) {
    const auto component = local_component(r, bore_m);
    if (!component)
        return no_loss_kv_m3_h;
    if (const auto *loss = std::get_if<LocalLoss>(&*component))
        return std::sqrt(models::zeta_from_kv(1.0, bore_m) / loss->zeta);
    return std::get<FlowFactor>(*component).kv_m3_h;
}

Step StepMaker::pipe(const PipeChoice &pipe, double length_m, bool existing, double curved_share,
                     double bend_m) const {
    assert(!(length_m < 0.0));
    const double bore = pipe.bore_m * house_.condition.bore_factor;
    return {
        fmt::format("pipe {:.4g} m {}", length_m, pipe.name),
        PipeFriction{models::make_pipe({length_m, bore,
                                        house_.condition.roughness_factor *
                                            (existing ? pipe.aged_roughness_m : pipe.roughness_m),
                                        curved_share, bend_m, pipe.constant_friction_factor,
                                        house_.condition.transition})},
        {},
        true};
}

Exchange StepMaker::losses(const PipeChoice &pipe, double length_m,
                           const std::optional<PipeSurroundings> &surroundings) const {
    Exchange heat;
    if (!surroundings || !house_.source || house_.condition.all_water_c)
        return heat;
    heat.kind = Exchange::Kind::Loses;
    heat.rest_c = surroundings->air_c;
    const bool wall = pipe.wall_m > 0.0 && pipe.conductivity_w_m_k > 0.0;
    heat.conductance_w_k =
        length_m * models::pipe_transmittance_w_m_k(
                       {pipe.bore_m, wall ? pipe.wall_m : 0.0, pipe.conductivity_w_m_k,
                        surroundings->insulation_m, surroundings->insulation_w_m_k});
    return heat;
}

void StepMaker::fittings(const RunSide &side, double bore_m, std::vector<Step> &steps) const {
    double zeta = house_.condition.fitting_factor * side.zeta;
    int pieces = 0;
    for (const FittingCount &fitting : side.fittings) {
        const FittingType &type = *house_.catalogue.fitting(fitting.name);
        std::string words = fitting.name;
        for (char &c : words)
            if (c == '_')
                c = ' ';
        const double factor =
            house_.condition.fitting_factor * (type.filter ? house_.condition.filter_factor : 1.0);
        if (type.kv_m3_h > 0.0) {
            const double kv = type.kv_m3_h / std::sqrt(factor * fitting.count);
            steps.push_back({fmt::format("{} {}", fitting.count, words), FlowFactor{kv}});
        } else if (type.filter) {
            steps.push_back(
                {words, LocalLoss{factor * fitting.count * type.zeta_at(bore_m), bore_m}});
        } else {
            zeta += factor * fitting.count * type.zeta_at(bore_m);
            pieces += fitting.count;
        }
    }
    if (zeta > 0.0)
        steps.push_back({pieces > 0 ? fmt::format("{} fittings, zeta {:.4g}", pieces, zeta)
                                    : fmt::format("zeta {:.4g}", zeta),
                         LocalLoss{zeta, bore_m}});
}

void StepMaker::parts(const Run &run, Side side, double bore_m, std::vector<Step> &steps) const {
    for (const Part &part : run.parts) {
        if (part.side != side)
            continue;
        switch (part.kind) {
        case Part::Kind::Check:
            steps.push_back({part.name, OneWay{local_kv(part.resistance, bore_m), part.opens_pa}});
            break;
        case Part::Kind::Zone:
            if (!part.open)
                steps.push_back({part.name + ", shut", Shut{}});
            else if (auto loss = local_component(part.resistance, bore_m))
                steps.push_back({part.name, *loss});
            break;
        case Part::Kind::Balancing: {
            const double kv = models::valve_kv(part.characteristic, part.kvs_m3_h, part.travel,
                                               part.rangeability);
            if (kv > 0.0)
                steps.push_back({fmt::format("{} at {:.3g} %", part.name, 100.0 * part.travel),
                                 FlowFactor{kv}});
            else
                steps.push_back({part.name + ", shut", Shut{}});
            break;
        }
        case Part::Kind::Limiter:
            steps.push_back({part.name, FlowLimiter{local_kv(part.resistance, bore_m),
                                                    part.limit_m3_s * density(sent_c_)}});
            break;
        case Part::Kind::Plain:
            if (auto loss = local_component(part.resistance, bore_m))
                steps.push_back({part.name, *loss});
            break;
        }
    }
}

Step StepMaker::pump(const Pump &pump, std::string name, double curve_factor) const {
    if (pump.mode == PumpMode::Stopped)
        return {name + ", stopped", StoppedPump{pump.curve}};
    RunningPump running;
    running.curve = curve_factor == 1.0 ? pump.curve : scaled(pump.curve, curve_factor);
    running.speed = pump.speed;
    if (pump.mode == PumpMode::ConstantPressure)
        running.limit_pa = running.setting_pa = pump.setting_pa * curve_factor;
    if (pump.mode == PumpMode::ProportionalPressure) {
        running.control = PumpControl::Proportional;
        running.proportional_pa = pump.setting_pa * curve_factor;
    }
    if (pump.mode == PumpMode::ConstantFlow)
        running.most_kg_s = pump.flow_m3_s * density(sent_c_);
    return {std::move(name), std::move(running)};
}

Step StepMaker::port(std::string name, double kv_m3_h) {
    if (kv_m3_h <= 0.0)
        return {name + ", shut", Shut{}};
    return {std::move(name), FlowFactor{kv_m3_h}};
}

double StepMaker::density(double temperature_c) const {
    return models::fluid_state(house_.fluid, temperature_c).density_kg_m3;
}

} // namespace headroom::networks
