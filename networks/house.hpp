// A house as the engineer describes it, in SI, with names resolved to catalogue parts but nothing
// expanded yet. Questions are asked by changing a copy of this.
#pragma once

#include "models/boiler.hpp"
#include "models/fluid.hpp"
#include "models/friction.hpp"
#include "models/heat_pump.hpp"
#include "models/room_loss.hpp"
#include "networks/catalogue.hpp"
#include "networks/emitters.hpp"
#include "networks/habit.hpp"
#include "networks/pipework.hpp"
#include "networks/prices.hpp"
#include "networks/site_reading.hpp"
#include "networks/text_form.hpp"
#include "networks/year.hpp"

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace headroom::networks {

enum class CurveStates { Gross, External };

struct Source {
    enum class Kind { Boiler, HeatPump, SolidFuel };
    Kind kind = Kind::Boiler;
    double flow_temperature_c = 45.0;
    bool flow_temperature_given = true; ///< else found from what the emitters need
    std::optional<double> drop_k;
    std::optional<double> least_flow_m3_s;
    std::optional<double> greatest_drop_k;      ///< that any emitter is designed for
    std::optional<double> least_open_volume_m3; ///< water it must always be able to circulate
    std::variant<std::monostate, models::HeatPump, models::Boiler> heat; ///< empty: not described
    Pump circulator;
    CurveStates states = CurveStates::Gross;
    std::vector<Resistance> inner;  ///< exchanger, valves, strainer inside the source (gross curve)
    std::optional<double> derating; ///< share of residual head lost to a thicker liquid
    /// In place of circulator and inner parts: an ideal pressure rise between the connections.
    std::optional<double> ideal_rise_pa;
    std::optional<double> highest_c;      ///< what it sends at most, its control failing too
    std::optional<double> least_return_c; ///< of a boiler not made for condensate
    std::string heat_leak;                ///< SolidFuel: run that takes its heat by gravity
    std::optional<double> slumber_w;      ///< SolidFuel: what it gives even when shut down
    Place place;
    Place heat_leak_place;
};

struct FabricPart {
    std::string what; ///< "wall", "window", ...
    models::FabricElement element;
};

struct Room {
    std::string name;
    std::optional<double> floor_area_m2;
    double indoor_c = 20.0;
    double loss_w = 0.0; ///< the surveyed figure, or else worked out from what follows
    std::optional<double> surveyed_w;
    std::vector<FabricPart> fabric;
    std::optional<double> thermal_bridge_w_m2k;
    std::optional<double> volume_m3;
    std::optional<double> air_changes_per_h;
    std::optional<double> time_constant_h; ///< heat stored over heat loss coefficient
    Place place;
};

/// Tolerances: the first three make headroom a band, all of them are drawn from when a verdict is
/// repeated. Shares of the middle estimate, either way, but for the filter's.
struct Margin {
    double curve = 0.05;     ///< of the circulator's head
    double bore = 0.01;      ///< of every bore
    double filter = 0.50;    ///< growth of strainer and filter losses by dirt
    double length = 0.05;    ///< of each loop and run
    double fittings = 0.20;  ///< of the loss coefficients of fittings
    double roughness = 0.50; ///< of every pipe: that much more, or less by the same factor
    double heat_loss = 0.10; ///< of each room's heat
    bool stated = false;
};

/// What pipe may carry, for a conversion to be judged by; habit where not given.
struct PipeLimits {
    std::optional<double> velocity_m_s;
    std::optional<double> loss_pa_m; ///< of a metre of pipe
};

/// What `drive` and others do to the whole network.
struct Condition {
    bool buoyancy = false;
    bool rooms_float =
        false;              ///< rooms settle where output meets loss, not at their set temperature
    bool hot_water = false; ///< diverter over to the coil
    models::Transition transition = models::Transition::Middle;
    double bore_factor = 1.0;
    double filter_factor = 1.0;
    double fitting_factor = 1.0;
    double roughness_factor = 1.0;
    double curve_factor = 1.0;
    std::optional<double> all_water_c; ///< cold start: every link at this temperature
    std::optional<double> sent_c;      ///< what the source sends while emitters stay as designed
};

struct House;

/// A named set of changes laid over the base of the file: a house of its own.
struct Proposal {
    std::string name;
    std::shared_ptr<const House> house;
};

struct House {
    std::string name;
    std::string note;
    models::Fluid fluid;
    bool fluid_stated = false;
    std::optional<double> outdoor_c;
    double air_heat = models::air_heat_standard; ///< W/(m3 K) per air change an hour
    double open_water_c = 20.0;                  ///< of a network without a source
    std::optional<double> cold_start_c;
    std::map<std::string, double> storeys; ///< level names
    std::map<std::string, double> levels;  ///< of places and nodes [m]
    bool levels_given = false;
    std::vector<Room> rooms;
    std::vector<FloorBuild> floors;
    std::optional<Source> source;
    std::vector<Run> runs;
    std::optional<Separator> separator;
    std::vector<Manifold> manifolds;
    std::vector<Emitter> emitters;
    std::vector<Laying> layings;
    std::vector<Bypass> bypasses;
    std::optional<HotWater> hot_water;
    std::vector<Tee> tees;
    std::vector<HeldPressure> held;
    std::vector<OpenVessel> vessels;
    std::vector<FixedFlow> fixed;
    std::optional<Fill> fill;
    std::vector<SiteReading> readings;
    Margin margin;
    Year year;
    CycleStore cycle_store;
    Tariff tariff;
    Prices prices;
    PipeLimits pipe_limits;
    Habits habits;
    Catalogue catalogue;
    Condition condition;
    TextForm text_form;
    std::vector<Proposal> proposals;
};

/// The warmest water a floor loop takes: as stated, else assumed.
inline double floor_limit_c(const House &house, const Emitter &loop) {
    return loop.flow_limit_c.value_or(house.habits[Habit::FloorLimit]);
}

} // namespace headroom::networks
