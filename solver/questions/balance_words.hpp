// A balanced house's pumps and valves in words and in the figures read on site.
#pragma once

#include "solver/questions/balanced.hpp"

#include <optional>
#include <string>

namespace headroom::solver {

/// "source", or the run's name.
std::string pump_name(const networks::House &house, const Circuit &circuit);
/// "the source's circulator", "the pump of `riser`".
std::string pump_title(const networks::House &house, const Circuit &circuit);
std::string mode_words(const networks::Pump &pump);
/// The pump as the file has it.
const networks::Pump &pump_found(const Balanced &work, const BalancedPump &pump);
/// What to set it to, in its own mode; empty if it stays as it is.
std::string setting_words(const Balanced &work, const BalancedPump &pump);

/// Turns of a lockshield whose table the file has.
std::optional<double> turns_of(const networks::Emitter &emitter, double kv_m3_h);

/// A meter, where there is one, has a flow on its scale.
bool meter_holds(const std::optional<networks::MeterRange> &meter, double flow_m3_s);

/// Volume flow at the balancing valve of the emitter at `order` in the network's order.
double valve_m3_s(const SolvedHouse &house, std::size_t order);

} // namespace headroom::solver
