// Figures as people read them; the only place where SI turns into trade units.
#pragma once

#include "models/units.hpp"

#include <cmath>
#include <fmt/format.h>
#include <string>

namespace headroom::solver {

/// Rounded to some digits, never "-0".
inline std::string fixed(double value, int digits) {
    const std::string text = fmt::format("{:.{}f}", value, digits);
    return text.find_first_of("123456789") == std::string::npos && text[0] == '-' ? text.substr(1)
                                                                                  : text;
}

inline std::string kpa(double pressure_pa) {
    return fixed(pressure_pa * 1e-3, 1);
}
inline std::string kpa2(double pressure_pa) {
    return fixed(pressure_pa * 1e-3, 2);
}
/// With its sign, and "+0.0" for what rounds to nothing.
inline std::string signed_kpa(double pressure_pa) {
    const std::string text = fixed(pressure_pa * 1e-3, 1);
    return text[0] == '-' ? text : "+" + text;
}
inline std::string metres_head(double pressure_pa) {
    return fixed(pressure_pa / models::pa_per_metre_head, 2);
}
inline std::string bar(double pressure_pa) {
    return fixed(pressure_pa * 1e-5, 3);
}
inline std::string l_min(double flow_m3_s) {
    return fixed(flow_m3_s * 6.0e4, 2);
}
inline std::string minutes(double time_s) {
    return fixed(time_s / 60.0, 0);
}
inline std::string hours(double time_s) {
    return fixed(time_s / models::seconds_per_hour, 1);
}
inline std::string litres(double volume_m3, int digits = 0) {
    return fixed(volume_m3 * 1e3, digits);
}
inline std::string percent(double share) {
    return fixed(share * 100.0, 0) + " %";
}

} // namespace headroom::solver
