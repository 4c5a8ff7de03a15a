// Figures of reports, in the units asked for where there is a choice (questions/figure_words.hpp).
#pragma once

#include "solver/questions/figure_words.hpp"

#include <fmt/format.h>
#include <string>
#include <string_view>

namespace headroom::solver {

inline std::string kpa(double pressure_pa) {
    return fixed(pressure_pa * 1e-3, 1);
}
inline std::string kpa2(double pressure_pa) {
    return fixed(pressure_pa * 1e-3, 2);
}
inline std::string signed_kpa(double pressure_pa) {
    return signed_pressure(TextForm{}, pressure_pa);
}
/// Heads of columns: "loss kPa" or "loss m", "before l/min".
inline std::string pressure_head(TextForm form) {
    return form.metres_head ? "m" : "kPa";
}
inline std::string in_pressure(TextForm form, std::string_view what) {
    return fmt::format("{} {}", what, pressure_head(form));
}
inline std::string in_flow(TextForm form, std::string_view what) {
    return fmt::format("{} {}", what, flow_unit(form));
}
inline std::string metres_head(double pressure_pa) {
    return fixed(pressure_pa / models::pa_per_metre_head, 2);
}
/// "28.4 kPa (2.90 m)", or the head alone where that is asked for.
inline std::string both_pressures(TextForm form, double pressure_pa,
                                  std::string_view between = " (") {
    if (form.metres_head)
        return pressure_words(form, pressure_pa);
    return fmt::format("{} kPa{}{} m{}", kpa(pressure_pa), between, metres_head(pressure_pa),
                       between == " (" ? ")" : "");
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
