// Figures as people read them, in the units asked for. Some answers carry flows in l/min, as their
// names say, and the sheet, which has one set of units, turns SI into them where it draws.
#pragma once

#include "models/units.hpp"
#include "networks/text_form.hpp"

#include <fmt/format.h>
#include <string>

namespace headroom::solver {

using networks::TextForm;

/// Rounded to some digits, never "-0".
inline std::string fixed(double value, int digits) {
    const std::string text = fmt::format("{:.{}f}", value, digits);
    return text.find_first_of("123456789") == std::string::npos && text[0] == '-' ? text.substr(1)
                                                                                  : text;
}

/// A head or a loss, to the digits asked of kPa; a metre of head has one more.
inline std::string pressure(TextForm form, double pressure_pa, int kpa_digits = 1) {
    return form.metres_head ? fixed(pressure_pa / models::pa_per_metre_head, kpa_digits + 1)
                            : fixed(pressure_pa * 1e-3, kpa_digits);
}
/// With its sign, and "+0.0" for what rounds to nothing.
inline std::string signed_pressure(TextForm form, double pressure_pa) {
    const std::string text = pressure(form, pressure_pa);
    return text[0] == '-' ? text : "+" + text;
}
inline std::string pressure_unit(TextForm form) {
    return form.metres_head ? "m head" : "kPa";
}
inline std::string pressure_words(TextForm form, double pressure_pa, int kpa_digits = 1) {
    return pressure(form, pressure_pa, kpa_digits) + " " + pressure_unit(form);
}

/// A flow, to the digits asked of l/min; m3/h has two more.
inline std::string flow_of_l_min(TextForm form, double flow_l_min, int l_min_digits = 1) {
    return form.m3_h ? fixed(flow_l_min * 0.06, l_min_digits + 2) : fixed(flow_l_min, l_min_digits);
}
inline std::string flow(TextForm form, double flow_m3_s, int l_min_digits = 2) {
    return flow_of_l_min(form, flow_m3_s * 6.0e4, l_min_digits);
}
inline std::string flow_unit(TextForm form) {
    return form.m3_h ? "m3/h" : "l/min";
}
inline std::string flow_words(TextForm form, double flow_m3_s, int l_min_digits = 2) {
    return flow(form, flow_m3_s, l_min_digits) + " " + flow_unit(form);
}

} // namespace headroom::solver
