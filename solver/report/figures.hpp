// Figures as people read them; the only place where SI turns into trade units.
#pragma once

#include "models/units.hpp"

#include <cmath>
#include <fmt/format.h>
#include <string>

namespace headroom::solver {

inline std::string kpa(double pressure_pa) {
    return fmt::format("{:.1f}", pressure_pa * 1e-3);
}
inline std::string kpa2(double pressure_pa) {
    return fmt::format("{:.2f}", pressure_pa * 1e-3);
}
inline std::string signed_kpa(double pressure_pa) {
    return fmt::format("{:+.1f}", pressure_pa * 1e-3);
}
inline std::string metres_head(double pressure_pa) {
    return fmt::format("{:.2f}", pressure_pa / models::pa_per_metre_head);
}
inline std::string bar(double pressure_pa) {
    return fmt::format("{:.3f}", pressure_pa * 1e-5);
}
inline std::string l_min(double flow_m3_s) {
    return fmt::format("{:.2f}", flow_m3_s * 6.0e4);
}
inline std::string percent(double share) {
    return fmt::format("{:.0f} %", share * 100.0);
}
inline std::string fixed(double value, int digits) {
    return fmt::format("{:.{}f}", value, digits);
}

} // namespace headroom::solver
