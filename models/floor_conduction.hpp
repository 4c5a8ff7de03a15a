// Two-dimensional steady conduction in a floor section.
#pragma once

#include "models/floor_output.hpp"
#include "models/floor_section.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace headroom::models {

/// The section's linear response, extrapolated to the limit of fine grids (Richardson, second
/// order) from two grids. The finer one is fine enough that this last step is at most 0.15 % of any
/// result, which bounds the error by 0.1 % if the order is at least 1.5;
/// FloorResponse::grid_correction says how large the step was. A section that needs more than two
/// refinements is returned with what it reached.
///     div(lambda grad theta) = 0
/// is solved in the half cell by finite volumes. A face between two cells conducts
/// g = length / integral(ds/lambda) along the line between their centres, in which the round pipe
/// wall and sheath count by their true chords; where the line meets the bore the wall's temperature
/// is set. Top: covering and surface coefficient to the room; bottom: slab and lower surface to the
/// space below; sides: symmetry.
/// nullopt if floor_section_fault() names a fault. Constant properties; pipes straight and equally
/// warm side by side, which a spiral laying gives on average. [Patankar1980, sec. 4.2-3]
std::optional<FloorResponse> floor_response(const FloorSection &section);

/// The response on one grid, refined `refinement` times, for studies of convergence.
std::optional<FloorResponse> floor_response_on_grid(const FloorSection &section, int refinement);

/// Temperature over the half cell, at the centres of the cells of floor_grid(section, 0); inside
/// the bore that of the wall. x from the pipe's axis, y upwards from it.
struct FloorField {
    std::vector<double> x_m, y_m;
    std::vector<double> above_room_k; ///< row by row, x fastest

    double at(std::size_t column, std::size_t row) const {
        return above_room_k[row * x_m.size() + column];
    }
};

/// The same equations for a drawing: an even inner wall `wall_k` and a space below `below_k` above
/// the room, on the coarsest grid. nullopt as above.
std::optional<FloorField> floor_field(const FloorSection &section, double wall_k, double below_k);

} // namespace headroom::models
