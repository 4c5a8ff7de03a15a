// How each described floor and radiator comes to its output, factor by factor.
#pragma once

#include "models/floor_en1264.hpp"
#include "models/pipe.hpp"
#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

/// A floor section that one or more loops share: the standard's factors and the conduction grid.
struct FloorFactors {
    std::string floor, pipe; ///< names
    models::FloorSection section;
    std::vector<std::string> loops;
    models::En1264Range range = models::En1264Range::Covered;
    std::optional<models::En1264Characteristic> factors; ///< where the range is Covered
    std::size_t cells = 0;                               ///< of the finest conduction grid
    double grid_step_share = 0.0; ///< largest change from that grid to the limit of fine ones
};

/// A floor loop at its water on the design day.
struct LoopOutput {
    std::string name;
    std::size_t section;             ///< into EmittersAnswer::sections
    double asked_w_m2;               ///< heat up that its room needs
    double drop_k, reynolds;         ///< of its water
    models::Regime regime;           ///< of its flow
    std::optional<double> film_mk_w; ///< resistance of the water film, a metre of pipe
    /// Heat up per K of mean water above the room: by the standard; by conduction with the pipe's
    /// inner wall as warm as the water; by conduction with the film. Decisions use the last.
    std::optional<double> standard_w_m2k;
    double without_film_w_m2k, conduction_w_m2k;
    std::optional<double> standard_needs_c; ///< flow temperature by EN 1264-3 at its own drop
    double needs_c;                         ///< by conduction
    double surface_limit_c, surface_highest_c;
    double even_surface_c; ///< by the base curve: the surface were it evenly warm
    std::optional<models::En1264Limit> limit;
    std::optional<models::DownwardLoss> down; ///< by EN 1264-3
    double down_w_m2;                         ///< by conduction
};

/// A radiator, fan convector or towel rail at its water on the design day.
struct RadiatorOutput {
    std::string name;
    networks::Emitter::Body body;
    models::Radiator radiator;
    bool exponent_assumed;
    double room_c, room_w;
    double in_c, out_c; ///< at its own drop, the outlet exact
    double gives_w;     ///< there
    double excess_k;    ///< of the arithmetic mean of these over the room
    double factor;      ///< what it gives over its rated output and share
    double rated_share; ///< its rated output as connected over the room's heat: how oversized it is
    /// The rated output that would just do at this water, and how oversized that is. Nothing where
    /// the water is too cool to give any heat at that drop.
    std::optional<double> needs_rated_w, needs_rated_share;
};

struct EmittersAnswer {
    std::string house;
    networks::TextForm form;
    double flow_temperature_c = 0.0;
    bool temperature_computed = false;
    std::string set_by;
    std::vector<FloorFactors> sections;
    std::vector<LoopOutput> floors;
    std::vector<RadiatorOutput> radiators;
    std::vector<std::string> not_described; ///< loops and radiators whose heat the file states
    std::vector<std::string> warnings;
};

/// For a house with a source and an emitter whose build is described (why_no_emitters).
EmittersAnswer emitters(const networks::House &house);

/// Empty if `emitters` can be asked of the house, else why not.
std::string why_no_emitters(const networks::House &house);

/// What puts a section outside the standard's tables, in words; empty if nothing does.
std::string range_words(models::En1264Range range);

} // namespace headroom::solver
