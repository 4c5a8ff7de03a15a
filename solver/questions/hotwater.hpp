// The cylinder on its diverter: how long a reheat takes, what its coil passes, what it costs, and
// what the rooms and the circulator make of it.
#pragma once

#include "networks/house.hpp"
#include "solver/outcome.hpp"
#include "solver/questions/drive.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// The source on the coil with the store at one temperature.
struct ReheatRow {
    double store_c;
    double sent_c;
    double back_c;
    double heat_w;      ///< into the store, mean where the source cycles
    double source_w;    ///< its greatest output at that flow temperature
    double efficiency;  ///< COP, or of a boiler
    double at_s;        ///< since the reheat began
    bool held;          ///< the allowed flow temperature holds the output back
    bool cycles;        ///< the coil passes less than the source's least output
    bool within_rating; ///< else the source's figures were held at their end
};

struct Reheat {
    double from_c;
    double to_c;
    std::optional<double> output_w; ///< the source held at; absent: all it has
    double time_s;
    double heat_kwh;
    double input_kwh;                    ///< electricity, or gross heat of gas
    std::optional<double> held_from_c;   ///< store above which the output is held back
    std::optional<double> cycles_from_c; ///< store above which the source cycles
    std::vector<ReheatRow> rows;
};

/// What coil it takes at one flow temperature.
struct CoilRow {
    double flow_c;
    double efficiency;
    double greatest_w;
    double least_w;
    bool within_rating;
    /// UA to pass the output with the store at store_to; absent where no coil can at this flow.
    std::optional<double> ua_greatest_w_k, ua_least_w_k;
    std::optional<double> area_greatest_m2, area_least_m2; ///< at the stated conductance
};

struct RoomCooling {
    std::string room;
    std::optional<double> time_constant_h;
    std::optional<double> falls_k;       ///< in the reheat from cold
    std::optional<double> falls_usual_k; ///< in the reheat from reheat_from
};

struct UsualDay {
    double draw_m3;
    double draw_c;
    double heat_kwh;
    std::optional<double> reheats; ///< a day, from reheat_from
    std::optional<double> time_s;  ///< of them all: rooms without heat
    std::optional<double> input_kwh;
};

struct PasteurisingAnswer {
    double from_c;
    double to_c;
    double every_h;
    double source_to_c; ///< the source does it up to here, direct electricity above
    double source_kwh;  ///< heat
    double source_s;
    double source_input_kwh;
    double direct_kwh;
    std::optional<double> direct_s; ///< absent without an immersion heater
    double year_heat_kwh;
    double year_input_kwh;
};

/// Diverter over: the coil in place of the rooms.
struct CoilState {
    double wanted_m3_s;
    double flow_m3_s; ///< with the circulator as it is, at most as wanted
    bool driven;
    bool can_be_driven; ///< some head drives it
    double needed_pa;
    double available_pa;
    double headroom_pa;
    std::optional<double> least_flow_m3_s; ///< of the source
    std::vector<CircuitStep> circuit;
};

struct HotWaterAnswer {
    std::string house;
    networks::TextForm form;
    std::string fluid;
    bool heat_pump = false;
    std::optional<double> outdoor_c;
    double store_m3 = 0.0;
    double store_kwh = 0.0; ///< from cold to store_to
    double cold_c = 0.0;
    double store_to_c = 0.0;
    double allowed_c = 0.0;                    ///< hottest water sent
    std::optional<double> at_tap_c, at_tap_m3; ///< warm water from a full store, unmixed, at most
    double ua_w_k = 0.0;
    std::optional<double> coil_area_m2;
    double effectiveness = 0.0;
    double passes_w = 0.0; ///< at the end of the reheat, at the allowed flow temperature
    double greatest_w = 0.0;
    double least_w = 0.0; ///< of the source at the allowed flow temperature
    double set_w = 0.0;   ///< output at which the coil just keeps up: neither cycling nor held back
    bool coil_too_small = false; ///< no output does: passes_w is below least_w
    double reached_c = 0.0;      ///< store at which the coil just passes the least output
    CoilState state;
    std::vector<Reheat> reheats;
    std::vector<CoilRow> coils;
    std::vector<RoomCooling> rooms;
    std::optional<UsualDay> day;
    std::optional<PasteurisingAnswer> pasteurising;
    std::vector<std::string> unknown; ///< what was left out for want of a key
    std::vector<std::string> cautions;
    Outcome outcome;
};

/// The keys without which nothing can be answered; empty if all are there.
std::vector<std::string> missing_for_hot_water(const networks::House &house);

/// For a house with a source and a described cylinder (missing_for_hot_water is empty).
HotWaterAnswer hot_water(const networks::House &house);

} // namespace headroom::solver
