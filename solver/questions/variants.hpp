// Houses made from a house. Every question changes the House and expands it again.
#pragma once

#include "networks/house.hpp"

namespace headroom::solver {

/// Every emitter open, its balancing valve an ideal limiter at the design flow; zone valves open.
/// A heat leak is not limited: its valves stay fully open, and it takes what it then takes.
networks::House with_ideal_balancing(networks::House house);

/// No pump but the source's, no mixer; the header's common pipe stays.
networks::House without_other_pumps(networks::House house);

/// No pump but the source's, no mixer, header bridged out: the single-circulator house. The
/// source's circulator runs on its highest curve.
networks::House single_circulator(networks::House house);

/// Every running pump on its highest curve: full speed, or the file's where that is higher.
networks::House at_full_speed(networks::House house);

/// The house at the bad or the good end of its margin: transition, bores, circulator curve,
/// filters.
networks::House at_band_end(const networks::House &house, bool worse);

/// A pump that gives the same rise [Pa] at every flow.
models::PumpCurve flat_curve(double rise_pa);

/// Source replaced by an ideal pressure rise between its connections; or the pump of a run by one
/// that gives the same rise (at 1000 kg/m3, as in pump curves) at every flow.
networks::House with_ideal_rise(networks::House house, double rise_pa,
                                std::optional<std::size_t> run = {});

/// Names of all zones, in the order of the file.
std::vector<std::string> zone_names(const networks::House &house);

/// Everything in the zones that are not `open` shut.
networks::House with_zones(networks::House house, const std::vector<std::string> &open);

} // namespace headroom::solver
