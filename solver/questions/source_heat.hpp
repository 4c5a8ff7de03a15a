#pragma once

#include "networks/house.hpp"

#include <optional>

namespace headroom::solver {

/// How the source meets a load at one condition, where the file says what it gives.
struct SourceHeat {
    double load_w = 0.0;
    double greatest_w = 0.0; ///< steady output at these temperatures
    double short_w = 0.0;    ///< load it cannot give
    double least_w = 0.0;    ///< lowest steady output
    double efficiency = 0.0; ///< COP of a heat pump, gross efficiency of a boiler
    double input_w = 0.0;    ///< electricity, or gross heat of gas
    bool heat_pump = false;
    bool cycles = false;       ///< the load is below its least output
    bool within_rating = true; ///< else its figures were held at their end
    bool flattered = false;    ///< held where the true ones are worse: warmer sent, colder outside
};

/// The source as described by `heat` at an outdoor temperature (heat pump) or a return temperature
/// (boiler), asked for `load_w`. It must be described.
SourceHeat source_heat_at(const networks::Source &source, double outdoor_c, double flow_c,
                          double return_c, double load_w);

/// The source at the design day's outdoor temperature (heat pump) or the return temperature
/// (boiler), asked for `load_w`. Nothing without a description or, for a heat pump, an outdoor
/// temperature.
std::optional<SourceHeat> source_heat(const networks::House &house, double flow_c, double return_c,
                                      double load_w);

/// Return below which a boiler that the file calls not condensing corrodes: stated, else assumed.
/// Nothing of any other source.
std::optional<double> least_return_c(const networks::House &house);

/// What is to be said of water that comes back this cool; empty where it is warm enough.
std::string cold_return(const networks::House &house, double return_c);

/// The source's least flow in l/min, if the file gives it.
std::optional<double> least_flow_l_min(const networks::House &house);

} // namespace headroom::solver
