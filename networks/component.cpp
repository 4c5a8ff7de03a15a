#include "networks/component.hpp"

#include "models/local_loss.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headroom::networks {
namespace {

constexpr double unbounded = std::numeric_limits<double>::infinity();
constexpr double ordinary_velocity_m_s = 0.6;
constexpr double ordinary_valve_loss_pa = 2000.0;

template <class... Fs> struct Overloaded : Fs... { using Fs::operator()...; };
template <class... Fs> Overloaded(Fs...) -> Overloaded<Fs...>;

double flow_at_velocity(double bore_m, const models::FluidState &fluid) {
    return ordinary_velocity_m_s * models::bore_area_m2(bore_m) * fluid.density_kg_m3;
}

double flow_at_kv(double kv_m3_h, const models::FluidState &fluid) {
    return std::sqrt(ordinary_valve_loss_pa / models::kv_resistance(kv_m3_h, fluid.density_kg_m3));
}

// The flow at which the proportional line meets the curve's end: where it asks for its full
// setting.
double proportional_full_flow(const RunningPump &pump) {
    double low = 0.0;
    double high = 2.0 * pump.speed * pump.curve.points.back().flow_m3_s;
    for (int i = 0; i < 60; ++i) {
        const double mid = 0.5 * (low + high);
        const double rise = models::pump_pressure(pump.curve, mid, pump.speed).pressure_pa;
        // Left of a droop's peak the curve may lie under the setting without being spent.
        const bool spent =
            rise < pump.proportional_pa && mid > pump.speed * pump.curve.peak_flow_m3_s;
        (spent ? high : low) = mid;
    }
    return high;
}

} // namespace

FlowBounds flow_bounds(const Component &component) {
    return std::visit(Overloaded{
                          [](const OneWay &) {
                              return FlowBounds{0.0, unbounded};
                          },
                          [](const FlowLimiter &v) {
                              return FlowBounds{-unbounded, v.most_kg_s};
                          },
                          [](const Shut &) {
                              return FlowBounds{0.0, 0.0};
                          },
                          [](const RunningPump &p) {
                              return FlowBounds{-unbounded, p.most_kg_s};
                          },
                          [](const auto &) {
                              return FlowBounds{-unbounded, unbounded};
                          },
                      },
                      component);
}

models::Loss component_loss(const Component &component, const models::FluidState &fluid,
                            double flow_kg_s, double &warm) {
    const double density = fluid.density_kg_m3;
    return std::visit(
        Overloaded{
            [&](const PipeFriction &p) {
                return models::pipe_loss(p.pipe, fluid, flow_kg_s, warm);
            },
            [&](const LocalLoss &f) {
                return models::quadratic_loss(models::zeta_resistance(f.zeta, f.bore_m, density),
                                              flow_kg_s);
            },
            [&](const FlowFactor &v) {
                return models::quadratic_loss(models::kv_resistance(v.kv_m3_h, density), flow_kg_s);
            },
            [&](const OneWay &v) {
                models::Loss loss =
                    models::quadratic_loss(models::kv_resistance(v.kv_m3_h, density), flow_kg_s);
                loss.pressure_pa += v.opens_pa;
                return loss;
            },
            [&](const FlowLimiter &v) {
                return models::quadratic_loss(models::kv_resistance(v.kv_m3_h, density), flow_kg_s);
            },
            [](const Shut &) { return models::Loss{}; },
            [&](const RunningPump &p) {
                return models::running_pump_loss(p.curve, p.speed, p.limit_pa, density, flow_kg_s);
            },
            [&](const StoppedPump &p) {
                return models::quadratic_loss(models::stopped_pump_resistance(p.curve, density),
                                              flow_kg_s);
            },
            [&](const TeeLeg &t) {
                models::Loss loss = models::quadratic_loss(t.resistance, flow_kg_s);
                loss.pressure_pa -= t.gain_pa;
                return loss;
            },
            [](const PressureRise &r) {
                return models::Loss{-r.rise_pa, 0.0};
            },
        },
        component);
}

double ordinary_flow(const Component &component, const models::FluidState &fluid) {
    return std::visit(
        Overloaded{
            [&](const PipeFriction &p) { return flow_at_velocity(p.pipe.bore_m, fluid); },
            [&](const LocalLoss &f) { return flow_at_velocity(f.bore_m, fluid); },
            [&](const FlowFactor &v) { return flow_at_kv(v.kv_m3_h, fluid); },
            [&](const OneWay &v) { return flow_at_kv(v.kv_m3_h, fluid); },
            [&](const FlowLimiter &v) {
                return std::min(flow_at_kv(v.kv_m3_h, fluid), std::max(v.most_kg_s, 1e-6));
            },
            [&](const RunningPump &p) {
                return std::min(0.5 * p.speed * p.curve.points.back().flow_m3_s *
                                    fluid.density_kg_m3,
                                std::max(p.most_kg_s, 1e-6));
            },
            [&](const StoppedPump &p) {
                return 0.5 * p.curve.points.back().flow_m3_s * fluid.density_kg_m3;
            },
            [](const auto &) { return unbounded; },
        },
        component);
}

bool rises_with_flow(const RunningPump &pump) {
    return pump.control != PumpControl::None || pump.curve.peak_flow_m3_s > 0.0;
}

double control_pressure(const RunningPump &pump, double density_kg_m3, double flow_kg_s) {
    const double flow_m3_s = std::max(flow_kg_s / density_kg_m3, 0.0);
    const double curve_pa = models::pump_pressure(pump.curve, flow_m3_s, pump.speed).pressure_pa;
    double wanted = std::min(curve_pa, pump.setting_pa);
    if (pump.control == PumpControl::Proportional) {
        const double share = std::min(flow_m3_s / proportional_full_flow(pump), 1.0);
        wanted = std::min(wanted, pump.proportional_pa * 0.5 * (1.0 + share));
    }
    return wanted;
}

} // namespace headroom::networks
