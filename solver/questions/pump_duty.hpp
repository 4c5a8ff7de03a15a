// What a pump does at its duty: rise, speed, power.
#pragma once

#include "networks/house.hpp"
#include "networks/network.hpp"
#include "solver/solution.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// Power of a pump at a duty. Hydraulic power is  dp V ; the electric power stands in the file
/// against flow, or is  dp V / efficiency  with the file's wire-to-water efficiency or the habit's.
struct PumpPower {
    double hydraulic_w = 0.0;
    double shaft_w = 0.0; ///< electric power times the efficiency of the motor, a habit
    double electric_w = 0.0;
    double efficiency = 0.0; ///< wire to water
    bool assumed = false;    ///< the efficiency is the habit
};

/// As the pump is set in the file.
PumpPower pump_power(const networks::House &house, const networks::Pump &pump, double flow_m3_s,
                     double rise_pa);

/// At another speed than the file's. Where the file gives power against flow at a fixed speed n0,
///     P(V, n) = (n/n0)^3 P(V n0/n, n0)
/// (affinity laws, [Crane2009], eq. 7-33); at a pressure setting, power in proportion to the rise.
PumpPower pump_power_at(const networks::House &house, const networks::Pump &pump, double flow_m3_s,
                        double rise_pa, double speed);

/// The relative speed n at which a curve passes through a duty, from the affinity laws
///     p = n^2 p(V/n, 1) .
/// `pressure_pa` >= 0 at 1000 kg/m3; between 0.01 and 10.
double speed_for(const models::PumpCurve &curve, double flow_m3_s, double pressure_pa);

/// One pump of a solved network.
struct PumpDuty {
    networks::Owner owner{};
    std::string where;
    std::string mode;
    bool running = false;
    double flow_m3_s = 0.0;
    double rise_pa = 0.0;
    double speed = 0.0; ///< of the curve through the duty; 0 for a stopped pump
    double inlet_pa = 0.0;
    bool inlet_known = false; ///< a true gauge pressure
    PumpPower power;
    std::optional<double> eei; ///< where the file gives it
};

/// Every pump of a solved network, in its order. A source replaced by an ideal rise has none.
std::vector<PumpDuty> pump_duties(const networks::House &house, const networks::Network &network,
                                  const Solution &solution);

/// How a pump runs, in words.
std::string pump_mode(const networks::Component &component, const Solution &solution,
                      networks::LinkId link);

} // namespace headroom::solver
