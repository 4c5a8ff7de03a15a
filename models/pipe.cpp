#include "models/pipe.hpp"

#include "models/units.hpp"

#include <cmath>

namespace headroom::models {

Pipe make_pipe(const PipeShape &shape) {
    Pipe pipe{shape.length_m, shape.bore_m, shape.roughness_m, shape.curved_share, {}, {}};
    if (shape.constant_friction_factor > 0.0) {
        pipe.straight = constant_friction(shape.constant_friction_factor);
        pipe.curved = pipe.straight;
        return pipe;
    }
    const double relative_roughness = shape.roughness_m / shape.bore_m;
    pipe.straight = friction_curve(relative_roughness, 0.0, shape.transition);
    if (shape.curved_share > 0.0)
        pipe.curved = friction_curve(relative_roughness, shape.bore_m / shape.bend_diameter_m,
                                     shape.transition);
    return pipe;
}

double reynolds_number(double bore_m, const FluidState &fluid, double flow_kg_s) {
    return 4.0 * std::abs(flow_kg_s) / (pi * bore_m * fluid.viscosity_pa_s);
}

double velocity_m_s(double bore_m, const FluidState &fluid, double flow_kg_s) {
    return flow_kg_s / (fluid.density_kg_m3 * bore_area_m2(bore_m));
}

Loss pipe_loss(const Pipe &pipe, const FluidState &fluid, double flow_kg_s, double &inverse_root) {
    const double d = pipe.bore_m;
    const double reynolds_per_flow = 4.0 / (pi * d * fluid.viscosity_pa_s);
    const double reynolds = reynolds_per_flow * std::abs(flow_kg_s);
    const double scale = fluid.viscosity_pa_s * fluid.viscosity_pa_s * pipe.length_m /
                         (fluid.density_kg_m3 * d * d * d);
    HagenNumber number = hagen_number(pipe.straight, reynolds, inverse_root);
    if (pipe.curved_share > 0.0) {
        const HagenNumber curved = hagen_number(pipe.curved, reynolds, inverse_root);
        number.value += pipe.curved_share * (curved.value - number.value);
        number.slope += pipe.curved_share * (curved.slope - number.slope);
    }
    return {std::copysign(scale * number.value, flow_kg_s),
            scale * number.slope * reynolds_per_flow};
}

Regime flow_regime(const Pipe &pipe, double reynolds) {
    if (reynolds < 1.0)
        return Regime::Still;
    if (reynolds <= pipe.straight.laminar_until)
        return Regime::Laminar;
    return reynolds < pipe.straight.turbulent_from ? Regime::Transition : Regime::Turbulent;
}

} // namespace headroom::models
