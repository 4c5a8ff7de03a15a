// The half cell of a floor section cut into rectangles, and what conducts in it. By symmetry the
// half cell runs from the pipe's axis (x = 0) to midway between two pipes (x = spacing/2); y counts
// upwards from the pipe's axis.
#pragma once

#include "models/floor_section.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace headroom::models {

/// Cell edges, ascending. Every straight edge of a material lies on one.
struct FloorGrid {
    std::vector<double> x, y;

    std::size_t columns() const { return x.size() - 1; }
    std::size_t rows() const { return y.size() - 1; }
    double width(std::size_t i) const { return x[i + 1] - x[i]; }
    double height(std::size_t j) const { return y[j + 1] - y[j]; }
    double centre_x(std::size_t i) const { return 0.5 * (x[i] + x[i + 1]); }
    double centre_y(std::size_t j) const { return 0.5 * (y[j] + y[j + 1]); }
};

/// Cells of even size over the pipe that grow in proportion to the distance from it. Each
/// `refinement` above 0 cuts every cell of the grid before it into two by two.
FloorGrid floor_grid(const FloorSection &section, int refinement);

/// Conductivity at every point of the half cell. The pipe's wall and sheath are true rings; what
/// lies round them has straight edges on the grid, so that it is uniform within a cell.
class FloorMaterial {
public:
    explicit FloorMaterial(const FloorSection &section);

    /// Conductivity [W/(m K)] of what surrounds the pipe at a point, as if no pipe were there.
    double surrounding(double x_m, double y_m) const;

    /// Integral of ds/conductivity [m2 K/W] over a straight piece parallel to an axis, from
    /// `from_m` to `to_m` > `from_m` at the distance `offset_m` of its line from the pipe's axis.
    /// Inside the bore it counts nothing: all the water side of the wall has one temperature.
    double resistance(double from_m, double to_m, double offset_m, double surrounding) const;

    double bore_radius_m() const { return radii_[0]; }
    /// Half chord [m] of the pipe's outside (or its sheath's) at a distance from the axis.
    double outer_chord(double offset_m) const;

private:
    FloorSection section_;
    std::array<double, 3> radii_{};          ///< bore, outside of pipe, outside of sheath
    std::array<double, 2> conductivities_{}; ///< wall, sheath
};

/// The round part of the diffuser plate, a sheet along the lower outside quarter of the pipe. The
/// cells just inside the sheet's circle hold its temperature: measured from them, a line ends where
/// it meets the circle. Its flat parts lie in cells of their own.
class PlateSheet {
public:
    PlateSheet(const FloorSection &section, const FloorGrid &grid);

    bool holds(std::size_t column, std::size_t row) const; ///< never without a plate

    /// A step along the sheet from one cell to the next.
    struct Step {
        std::size_t column_a, row_a, column_b, row_b;
        double conductance_w_m_k; ///< per metre of pipe: conductivity times thickness over length
    };
    /// All steps, the last ones into the plate's upright part.
    std::vector<Step> steps() const;

private:
    bool inside(std::size_t column, std::size_t row) const;

    const FloorGrid &grid_;
    double radius_ = 0.0;
    double thickness_ = 0.0;
    double conductivity_ = 0.0;
    std::size_t columns_ = 0, rows_from_ = 0, rows_to_ = 0; ///< that the quarter covers
};

} // namespace headroom::models
