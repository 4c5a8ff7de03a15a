// Heat that water loses through a pipe's wall and its insulation on the way.
#pragma once

namespace headroom::models {

/// A pipe and what is round it.
struct PipeWall {
    double bore_m;
    double wall_m;                   ///< 0: no resistance counted
    double conductivity_w_m_k;       ///< of the wall; used if wall_m > 0
    double insulation_m = 0.0;       ///< thickness; 0 for a bare pipe
    double insulation_w_m_k = 0.035; ///< used if insulation_m > 0
};

/// Heat transfer from the outer surface to still air of a room, convection and radiation together
/// [W/(m2 K)]: insulated and bare pipes indoors, [EN15316-3] (from memory).
inline constexpr double insulated_surface_w_m2k = 8.0;
inline constexpr double bare_surface_w_m2k = 14.0;

/// Heat per metre of pipe and K of water over its surroundings [W/(m K)]:
///     1/U' = ln(da/di)/(2 pi lambda) + ln(D/da)/(2 pi lambda_ins) + 1/(pi D h)   [EN15316-3]
/// di bore, da = di + 2 wall, D = da + 2 insulation [m], h as above. The water's own film is left
/// out, which gives a little too much heat: below 1 % where the flow is turbulent.
/// Along such a pipe water nears its surroundings by exp(-U' L / (m c)).
/// Bore > 0, thicknesses >= 0, conductivities > 0 where used.
double pipe_transmittance_w_m_k(const PipeWall &pipe);

} // namespace headroom::models
