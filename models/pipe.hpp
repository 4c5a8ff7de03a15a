#pragma once

#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/loss.hpp"

namespace headroom::models {

/// A length of round pipe, part of which may lie in bends (a floor loop). Build it with make_pipe.
struct Pipe {
    double length_m = 0.0;
    double bore_m = 0.0;
    double roughness_m = 0.0;
    double curved_share = 0.0; ///< share of the length that lies in bends, 0 to 1
    FrictionCurve straight;
    FrictionCurve curved;
};

struct PipeShape {
    double length_m;
    double bore_m;
    double roughness_m;
    double curved_share = 0.0;
    double bend_diameter_m = 0.0; ///< centre-line diameter of the bends; needed if curved_share > 0
    double constant_friction_factor = 0.0; ///< a stated Darcy friction factor; 0 means computed
    Transition transition = Transition::Middle;
};

Pipe make_pipe(const PipeShape &shape);

/// Loss of wall friction [Pa] and its slope at `flow_kg_s`, either direction (odd in flow).
/// loss = Hg mu^2 L / (rho D^3) with Hg the Hagen number of models/friction.hpp; the straight and
/// the curved share are added. `inverse_root` warm-starts Colebrook's law between calls.
Loss pipe_loss(const Pipe &pipe, const FluidState &fluid, double flow_kg_s, double &inverse_root);

double reynolds_number(double bore_m, const FluidState &fluid, double flow_kg_s);
double velocity_m_s(double bore_m, const FluidState &fluid, double flow_kg_s);

enum class Regime { Still, Laminar, Transition, Turbulent };

/// Regime of the straight share of the pipe.
Regime flow_regime(const Pipe &pipe, double reynolds);

} // namespace headroom::models
