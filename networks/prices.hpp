// What parts and work cost: a list with its own currency, or relative figures shipped with the
// program. Invented; they rank changes and are no offer.
#pragma once

#include "networks/fields.hpp"

#include <array>
#include <map>
#include <string>

namespace headroom::networks {

/// Items priced by one figure each, and the work that is given in hours.
enum class Priced {
    LayingPerMetre,      ///< work of laying a metre of floor loop
    RepipingPerMetre,    ///< work of renewing a metre of run, one pipe, with making good
    Fitting,             ///< an elbow or the like, fitted
    Valve,               ///< a valve, fitted
    LoopPort,            ///< a manifold's port with valve and flow meter
    Actuator,            ///< on a loop, with its share of wiring
    Thermostat,          ///< in a room
    Circulator,          ///< a larger one in place of the source's
    SecondaryPump,       ///< in a circuit of its own, wired
    Mixer,               ///< with its actuator and sensor
    Header,              ///< with its connections
    Bypass,              ///< pipe and valve between flow and return
    Removal,             ///< taking a part out and closing the pipe
    RadiatorPerKilowatt, ///< of output rated at 75/65/20
    RadiatorSwap,        ///< work of changing one
    GlycolPerLitre,
    Setting,         ///< a visit to change a setting
    WarmerPerKelvin, ///< what a kelvin of flow temperature is worth over the years
    Hour,            ///< of a fitter's work
    BalancingHours,  ///< from here on hours: to balance a loop or radiator and write it down
    ZoneHours,       ///< to pair, set and try a thermostat with its actuators
    MixerHours,      ///< to set and try a mixer, its weather curve and high-limit stat
    Count
};

struct PricedInfo {
    std::string_view key; ///< in the file
    double relative;      ///< shipped: a metre of 16 mm floor pipe is 1
};

inline constexpr std::array<PricedInfo, static_cast<std::size_t>(Priced::Count)> priced_table{{
    {"laying_per_metre", 1.2},
    {"repiping_per_metre", 25.0},
    {"fitting", 8.0},
    {"valve", 35.0},
    {"loop_port", 40.0},
    {"actuator", 45.0},
    {"thermostat", 90.0},
    {"circulator", 260.0},
    {"secondary_pump", 330.0},
    {"mixer", 240.0},
    {"header", 280.0},
    {"bypass", 110.0},
    {"removal", 60.0},
    {"radiator_per_kilowatt", 130.0},
    {"radiator_swap", 120.0},
    {"glycol_per_litre", 4.0},
    {"setting", 15.0},
    {"warmer_per_kelvin", 120.0},
    {"hour", 55.0},
    {"balancing_time", 0.25},
    {"zone_time", 0.5},
    {"mixer_time", 2.0},
}};

class Prices {
public:
    Prices();
    double operator[](Priced item) const { return figures_[static_cast<std::size_t>(item)]; }
    /// A metre of pipe by name; where the list has no such name, by its family's figure for each
    /// millimetre of bore.
    double pipe_per_metre(const std::string &name, double bore_m) const;

    std::string currency; ///< empty: relative figures
    bool stated = false;  ///< by the file, at least in part
    void set(Priced item, double figure) {
        figures_[static_cast<std::size_t>(item)] = figure;
        given_[static_cast<std::size_t>(item)] = true;
    }
    /// By the file; else the figure is invented.
    bool given(Priced item) const { return given_[static_cast<std::size_t>(item)]; }
    std::map<std::string, double> pipes; ///< a metre by name

private:
    std::array<double, static_cast<std::size_t>(Priced::Count)> figures_{};
    std::array<bool, static_cast<std::size_t>(Priced::Count)> given_{};
};

/// `prices:` of a house file.
void read_prices(Fields &root, Prices &prices, Diagnostics &diagnostics);

} // namespace headroom::networks
