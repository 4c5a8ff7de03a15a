#include "models/pipe_heat_loss.hpp"

#include "models/units.hpp"

#include <cmath>

namespace headroom::models {

double pipe_transmittance_w_m_k(const PipeWall &pipe) {
    const double outside = pipe.bore_m + 2.0 * pipe.wall_m;
    const double surface = outside + 2.0 * pipe.insulation_m;
    double resistance_mk_w = 0.0;
    if (pipe.wall_m > 0.0)
        resistance_mk_w += std::log(outside / pipe.bore_m) / (2.0 * pi * pipe.conductivity_w_m_k);
    if (pipe.insulation_m > 0.0)
        resistance_mk_w += std::log(surface / outside) / (2.0 * pi * pipe.insulation_w_m_k);
    const double film = pipe.insulation_m > 0.0 ? insulated_surface_w_m2k : bare_surface_w_m2k;
    resistance_mk_w += 1.0 / (pi * surface * film);
    return 1.0 / resistance_mk_w;
}

} // namespace headroom::models
