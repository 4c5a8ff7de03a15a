#include "models/tee.hpp"

namespace headroom::models {

double converging_tee_run(double share) {
    return 1.55 * share - share * share;
}

double converging_tee_branch(double share, double bore_ratio) {
    const double area_ratio = bore_ratio * bore_ratio;
    double c = 1.0;
    if (area_ratio > 0.35)
        c = share <= 0.4 ? 0.9 * (1.0 - share) : 0.55;
    const double velocity_ratio = share / area_ratio;
    const double run_share = 1.0 - share;
    return c * (1.0 + velocity_ratio * velocity_ratio - 2.0 * run_share * run_share);
}

double diverging_tee_run(double share, double bore_ratio) {
    double m = 0.4;
    if (bore_ratio * bore_ratio > 0.4)
        m = (share <= 0.5 ? 2.0 : 0.3) * (2.0 * share - 1.0);
    return m * share * share;
}

double diverging_tee_branch(double share, double bore_ratio) {
    const double area_ratio = bore_ratio * bore_ratio;
    const double velocity_ratio = share / area_ratio;
    const double h = bore_ratio <= 2.0 / 3.0 ? 1.0 : 0.3;
    const double g = area_ratio <= 2.0 / 3.0 ? 1.0 : 1.0 + 0.3 * share * share;
    return g * (1.0 + h * velocity_ratio * velocity_ratio);
}

} // namespace headroom::models
