// The year: weather curve, energy by outdoor temperature, cycling, and what other flow temperatures
// would change.
#pragma once

#include "solver/questions/cycle_store.hpp"
#include "solver/questions/weather.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// On-off running at one outdoor temperature.
struct BinCycle {
    double starts_per_h = 0.0; ///< 0 where the source modulates
    double run_s = 0.0;        ///< of one start
    double rest_s = 0.0;
    double water_only_starts_per_h = 0.0; ///< without the floors' mass
};

struct SeasonBin {
    double outdoor_c = 0.0;
    double hours = 0.0;
    double heat_w = 0.0;  ///< asked of the source
    double given_w = 0.0; ///< by it
    double source_c = 0.0;
    double return_c = 0.0;
    double efficiency = 0.0; ///< COP or gross efficiency
    double input_w = 0.0;    ///< electricity or gross heat of gas
    double least_w = 0.0;
    bool within_rating = true;
    BinCycle cycle;
};

struct SeasonTotals {
    /// False of solid fuel: how a fire burns is not described, so that no input, efficiency, cost
    /// or carbon dioxide is given; all of them are then 0 or absent.
    bool fuel_known = true;
    double hours = 0.0;     ///< in which there is heating
    double need_kwh = 0.0;  ///< of the rooms, free heat taken off
    double room_kwh = 0.0;  ///< the rooms get, where the source gives all it is asked for
    double heat_kwh = 0.0;  ///< from the source into the water; of floors, with what goes downwards
    double short_kwh = 0.0; ///< asked of the source beyond what it can give
    double flattered_kwh = 0.0; ///< of heat_kwh: warmer or colder outside than its figures go
    double source_electricity_kwh = 0.0;
    double gas_kwh = 0.0; ///< gross
    std::optional<double> pump_kwh;
    double electricity_kwh = 0.0;        ///< source and pumps
    double seasonal_performance = 0.0;   ///< heat over what the source takes; 0 without heat
    double performance_with_pumps = 0.0; ///< heat over all that source and pumps take
    double starts = 0.0;
    std::optional<double> cost; ///< where the tariff has every price needed
    std::optional<double> co2_kg;
    std::vector<SeasonBin> bins;
};

/// One way of running the house for the year.
struct SeasonScenario {
    std::string name;
    Operation operation;
    SeasonTotals totals;
};

struct CurveCircuit {
    double flow_c;
    double return_c;
    std::optional<double> hot_share; ///< of a mixer
    bool held_low, held_high;
};

struct CurvePoint {
    double outdoor_c;
    double source_c;
    double return_c;
    std::vector<CurveCircuit> circuits; ///< as in SeasonAnswer::circuits
    std::vector<double> room_need_w;    ///< as in SeasonAnswer::rooms
    std::vector<double> room_gets_w;
};

struct CircuitInfo {
    std::string name;
    bool mixer;
    double design_c; ///< held all year without a weather curve
    std::optional<double> highest_c;
};

/// A room on the design day with the flow temperature turned down.
struct RoomTurnedDown {
    std::string room;
    double wanted_c;
    double need_w;
    double gets_w;
    double settles_c;
};

struct SeasonAssumption {
    std::string what;
    std::string value;
};

struct SeasonAnswer {
    std::string house;
    networks::TextForm form;
    bool heat_pump = false;
    std::string climate; ///< words for it
    double design_outdoor_c = 0.0;
    double heating_limit_c = 0.0;
    double loss_w = 0.0;            ///< of the rooms on the design day
    double needed_c = 0.0;          ///< flow temperature on the design day
    std::optional<double> stated_c; ///< that of the file
    std::vector<CircuitInfo> circuits;
    std::vector<std::string> rooms;
    std::vector<CurvePoint> curve; ///< free heat left out
    SeasonScenario with_curve, turned_down, fixed;
    std::vector<RoomTurnedDown> turned_down_rooms;
    std::optional<double> pump_electric_w;
    StoredHeat store;
    std::string currency;
    std::vector<SeasonAssumption> assumed;
    std::vector<std::string> warnings;
};

/// By how much `turned_down` is turned down.
inline constexpr double turned_down_k = 5.0;

/// Why the year cannot be worked out: no source, no outdoor design temperature below the
/// heating limit, nothing that heats. Empty if it can.
std::string why_no_season(const networks::House &house);

/// The year of a house for which why_no_season() is empty. Each outdoor temperature of the climate
/// is steady for its hours; pumps run at the duty found for the house as it stands whenever there
/// is heating.
SeasonAnswer season(const networks::House &house);

/// What stands beside a year's cost where part of its heat lies beyond the source's figures: how
/// much, and that the cost is too low; else empty.
std::string flattered_words(const SeasonTotals &totals);

/// Its totals on the weather curve; nothing where why_no_season() says so.
std::optional<SeasonTotals> year_on_curve(const networks::House &house);

/// What has to be said beside that year, of the house that `which` names: its curve heats every
/// room, where the water that the file sends on the design day would not. Empty where it would, or
/// where there is no year.
std::string year_note(const networks::House &house, const std::string &which, double sent_c,
                      double needed_c);

/// Fills SeasonAnswer::assumed.
void add_season_assumed(const HeatingHouse &house, SeasonAnswer &answer);

/// The totals of one way of running it.
SeasonTotals season_totals(const HeatingHouse &house, const Operation &operation);

/// The year's hours at each outdoor temperature: the file's, or its climate's.
std::vector<models::TemperatureBin> season_hours(const networks::House &house);

} // namespace headroom::solver
