// What was read on site.
#pragma once

#include "networks/diagnostic.hpp"

#include <string>

namespace headroom::networks {

/// Something read on site: what, where, and how exact.
struct SiteReading {
    enum class Kind { MeterFlow, PumpFlow, PumpHead, PressureBetween, TemperatureAt };
    Kind kind = Kind::MeterFlow;
    std::string at;        ///< loop or radiator; run or "source"; a point
    std::string other;     ///< the second point of PressureBetween
    double value = 0.0;    ///< m3/s, Pa or degC by kind
    double accuracy = 0.0; ///< one standard deviation, in m3/s, Pa or K
    Place at_place;
    Place other_place;
};

} // namespace headroom::networks
