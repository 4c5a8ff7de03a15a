#pragma once

namespace headroom::networks {

/// What lies round a pipe that loses heat on the way.
struct PipeSurroundings {
    double air_c = 0.0;
    double insulation_m = 0.0; ///< 0: bare
    double insulation_w_m_k = 0.035;
    bool insulation_stated = false;
};

} // namespace headroom::networks
