#pragma once

#include <cmath>
#include <string>

namespace headroom::solver {

enum class StopReason {
    NotSolved,
    Converged, ///< every mass balance and every law within the stated tolerances
    IterationLimit,
    CheckFailed, ///< the flows found do not meet every law and balance of the whole network
    Singular,    ///< the node matrix could not be factorised
    NonFinite,
    Contradiction, ///< fixed flows and shut or limiting parts admit no flow at all
    Unsettled,     ///< an outer iteration (temperatures, tees, valves, pump control) did not end
};

/// How a solve ended, with what it reached against what was asked.
struct Outcome {
    StopReason reason = StopReason::NotSolved;
    int newton_steps = 0;
    double worst_mass_kg_s = 0.0; ///< largest imbalance at a node
    double mass_tolerance_kg_s = 0.0;
    double worst_law_pa = 0.0; ///< largest disagreement of a link's law with its pressures
    double law_tolerance_pa = 0.0;
    std::string worst_equation; ///< "mass balance at `N7`", "law of `run primaries, flow: pipe`"
    std::string explanation;    ///< one sentence for a person

    bool converged() const { return reason == StopReason::Converged; }
};

/// Tolerances: mass to 1e-10 of the largest flow; each law to 1e-6 Pa or 1e-9 of the largest
/// loss, whichever is larger.
inline constexpr double mass_tolerance = 1e-10;
inline constexpr double law_tolerance_pa = 1e-6;
inline constexpr double law_tolerance_relative = 1e-9;

/// Whether a residual is worse than the worst so far; what is no number is worse than any that is.
inline bool worse(double residual, double worst) {
    return residual > worst || std::isnan(residual);
}

} // namespace headroom::solver
