// How much water the network holds, and how much of it can circulate.
#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// The water of one part of the house.
struct VolumePart {
    std::string what; ///< "run primaries", "loop kitchen 1", "radiator landing, body"
    double volume_m3;
    bool open_always; ///< water can pass with every zone shut
};

/// Every part that holds water, in the order of the network: pipes by their bores, manifold bars,
/// the header or buffer by its `volume` or its bore and height, radiators by their `volume` or by
/// habit for each kW at 75/65/20 (fan convectors: 0.4 l). Left out: the cylinder's coil, and what
/// is inside the source.
std::vector<VolumePart> volumes(const networks::House &house);

/// All that volumes() finds [m3].
double held_water_m3(const networks::House &house);

/// Water [m3] that can circulate with the zones `open_zones` open and all others shut: that of
/// every pipe and body on a closed way through parts that are not shut. A bypass or check valve
/// counts as a way. Loops and radiators that the file shuts stay shut.
double open_volume_m3(const networks::House &house, const std::vector<std::string> &open_zones);

/// Water that a source wants to circulate with every zone shut.
struct WantedVolume {
    std::optional<double> low_m3, high_m3; ///< absent where nothing is known of it
    std::string by;                        ///< who says so
};

/// The file's figure, or for a heat pump 15 to 20 l for each kW of its output or, where that is not
/// given, of the design load (common practice, no source).
WantedVolume wanted_volume(const networks::House &sized);

/// Water in a radiator [m3].
double radiator_volume_m3(const networks::House &house, const networks::Emitter &radiator);

} // namespace headroom::solver
