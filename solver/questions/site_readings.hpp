// What a solved house shows on the meters and gauges that were read on site.
#pragma once

#include "networks/house.hpp"
#include "solver/questions/settings.hpp"

#include <string>
#include <vector>

namespace headroom::solver {

/// The house as it stands on the day of the readings: the file's valves, pumps and mixers, at
/// design temperatures, with buoyancy where levels are given.
networks::House as_read(networks::House house);

/// One value a reading of the house, in its order: m3/s, Pa or degC by kind. Meters show the volume
/// at their own valve. A gauge between two points shows the difference that still water in its
/// hoses leaves. A pump shows its own rise: of a source given by residual head, what it has
/// outside.
std::vector<double> read_off(const networks::House &house, const SolvedHouse &solved);

/// The loop of a reading that the program, laying its room, did not make; empty if there is none.
std::string loop_not_laid(const networks::House &house);

/// "meter of `kitchen 1`", "circulator of the source, head".
std::string reading_name(const networks::SiteReading &reading);

} // namespace headroom::solver
