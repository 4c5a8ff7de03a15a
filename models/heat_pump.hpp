// A heat pump heating water: output and coefficient of performance against the temperatures of its
// source (outdoor air, or brine from the ground) and of the flow it makes.
#pragma once

#include "models/source_range.hpp"

#include <cstddef>
#include <optional>
#include <variant>
#include <vector>

namespace headroom::models {

/// Greatest output at one pair of temperatures, defrosting left out or in as the defrost allowance
/// of the heat pump assumes.
struct RatedPoint {
    double source_c;
    double flow_c;
    double output_w; ///< above 0
    double cop;      ///< heat over electricity, above 0
};

/// Rated points by flow temperature; build it with make_rated_table. Output and COP run straight
/// between the points of one flow temperature and straight between flow temperatures, so that
/// nowhere within do they leave the values of the points around, and on a full grid they are
/// bilinear. A flow temperature need not have every source temperature of the others.
struct RatedTable {
    struct Line {
        double flow_c;
        std::vector<RatedPoint> points; ///< source temperature rising
    };
    std::vector<Line> lines; ///< flow temperature rising
};

/// The first point that cannot be used: a value that is not finite, an output or COP not above 0,
/// or temperatures that repeat an earlier point's; nullopt if all can.
std::optional<std::size_t> unusable_point(const std::vector<RatedPoint> &points);

/// In any order; at least one point, none unusable.
RatedTable make_rated_table(std::vector<RatedPoint> points);

/// A stated fraction of what no machine between the two water and source temperatures can exceed,
/// and one output at all temperatures. Limits are common practice, no source.
struct CarnotRating {
    double output_w; ///< above 0
    double fraction; ///< 0 to 1; 0.40 to 0.45 is typical (from memory)
    double lowest_source_c = -25.0;
    double highest_source_c = 35.0;
    double lowest_flow_c = 20.0;
    double highest_flow_c = 65.0;
    double least_lift_k = 15.0; ///< above 0; flow cooler than this above the source gains nothing
};

/// Heat lost to defrosting, as a share of the output below a source temperature: a plain step.
/// Electricity stays, so that the COP falls by the same share. Leave the share 0 where the rated
/// points have it in them, as tests by EN 14511 do, and for a brine source.
struct Defrost {
    double below_c = 5.0;
    double output_share_lost = 0.0; ///< 0 to below 1
};

struct HeatPump {
    std::variant<RatedTable, CarnotRating> rating;
    double least_output_share = 0.0; ///< lowest steady over greatest output, 0 to 1
    Defrost defrost;
    /// C_c: what cycling costs, see heat_pump_load(); 0.9 where not measured, 1 for nothing.
    /// [EN14825, from memory]
    double cycling_coefficient = 0.9;
};

/// At full output.
struct HeatPumpState {
    double output_w;
    double cop;
    double electrical_w;   ///< output over COP
    double least_output_w; ///< lowest steady output
    RangeStatus source;    ///< against what the rating covers; held at its end
    RangeStatus flow;
    RangeStatus lift; ///< Below where a Carnot rating's least lift was taken
    bool defrosting;  ///< the allowance was taken off
};

bool within_rating(const HeatPumpState &state);

/// (T_flow + 273.15) / (T_flow - T_source) [-], temperatures in degC; the flow must be warmer.
double carnot_cop(double source_c, double flow_c);

/// Output and COP at a source and a flow temperature [degC], from the table or as
///     COP = fraction (T_flow + 273.15) / (T_flow - T_source) ,
/// less the defrost allowance. Heat is positive into the water. Outside the rating nothing is
/// extrapolated: each temperature is held at its nearest end, and the status says which; a flow
/// `Above` is one the heat pump is not known to reach. Where the two flow temperatures beside a
/// point cover different source temperatures, each is held on its own.
HeatPumpState heat_pump_state(const HeatPump &heat_pump, double source_c, double flow_c);

struct HeatPumpLoad {
    double output_w;     ///< mean over on and off
    double electrical_w; ///< mean
    double cop;          ///< 0 when off
    double short_w;      ///< heat asked for and not given
    LoadStatus load;
};

/// What it gives and draws when `heat_w` is asked for [W]. Modulating, the COP is that at full
/// output. Below the least output it cycles:
///     COP = COP_full r / (C_c r + 1 - C_c) ,  r = heat / least output ,
/// so that electricity falls to 1 - C_c of that at least output as heat nears zero. At none or less
/// it is off and draws nothing. Above the greatest output it gives that and says what is missing.
/// [EN14825, from memory]
HeatPumpLoad heat_pump_load(const HeatPump &heat_pump, const HeatPumpState &state, double heat_w);

} // namespace headroom::models
