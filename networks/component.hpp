// What a link of the network can be. Plain structs in a variant; one function gives loss and slope.
#pragma once

#include "models/fluid.hpp"
#include "models/loss.hpp"
#include "models/pipe.hpp"
#include "models/pump.hpp"

#include <variant>

namespace headroom::networks {

/// Wall friction of a pipe.
struct PipeFriction {
    models::Pipe pipe;
};

/// Fittings by loss coefficient on the velocity in a bore.
struct LocalLoss {
    double zeta;
    double bore_m;
};

/// Kv of a joint that is there only to join: a few mPa at a house's flow.
inline constexpr double no_loss_kv_m3_h = 1e4;

/// Anything by Kv.
struct FlowFactor {
    double kv_m3_h;
};

/// Passes from `from` to `to` only, once the pressure difference exceeds `opens_pa`: a check valve,
/// or a bypass valve that opens at a set pressure.
struct OneWay {
    double kv_m3_h;
    double opens_pa;
};

/// Passes at most `most_kg_s` and takes at least the loss of its open valve.
struct FlowLimiter {
    double kv_m3_h;
    double most_kg_s;
};

/// A shut valve.
struct Shut {};

/// How a running pump follows the flow. The rising laws are solved outside the flow equations, by
/// moving `RunningPump::limit_pa`.
enum class PumpControl { None, Proportional };

struct RunningPump {
    models::PumpCurve curve;
    double speed = 1.0;
    double setting_pa = models::no_limit; ///< constant pressure
    /// Of its law: the setting, or where the working point is sought what that search has set.
    double limit_pa = models::no_limit;
    double most_kg_s = models::no_limit; ///< constant flow
    PumpControl control = PumpControl::None;
    double proportional_pa = 0.0; ///< set head at the curve's crossing; half of it at rest
};

struct StoppedPump {
    models::PumpCurve curve;
};

/// A leg of a tee whose loss follows the split; the frozen values of the present outer step.
struct TeeLeg {
    double resistance = 0.0; ///< loss = resistance m|m|
    double gain_pa = 0.0;    ///< a negative loss, held constant
};

/// An ideal pressure rise from `from` to `to`.
struct PressureRise {
    double rise_pa;
};

using Component = std::variant<PipeFriction, LocalLoss, FlowFactor, OneWay, FlowLimiter, Shut,
                               RunningPump, StoppedPump, TeeLeg, PressureRise>;

/// Flows a component lets pass. Where a bound binds, its pressure difference is free beyond the
/// law's value there.
struct FlowBounds {
    double least_kg_s;
    double most_kg_s;
};

FlowBounds flow_bounds(const Component &component);

/// Loss within the bounds; see models/loss.hpp for signs. `warm` carries 1/sqrt(f) of a pipe from
/// call to call; start it at 0.
models::Loss component_loss(const Component &component, const models::FluidState &fluid,
                            double flow_kg_s, double &warm);

/// A flow at which the component's loss is of ordinary size, to start the iteration from.
double ordinary_flow(const Component &component, const models::FluidState &fluid);

/// Whether a pump's pressure can rise with the flow: a proportional control, or a drooping curve
/// left of its peak. Its working point is sought from outside, by moving its limit.
bool rises_with_flow(const RunningPump &pump);

/// Pressure [Pa] the pump holds at a flow: the least of curve, setting and proportional line.
double control_pressure(const RunningPump &pump, double density_kg_m3, double flow_kg_s);

} // namespace headroom::networks
