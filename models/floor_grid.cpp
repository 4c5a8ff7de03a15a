#include "models/floor_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headroom::models {
namespace {

constexpr double cells_per_diameter = 32.0;
constexpr double growth_per_metre = 0.18; // of cell size with distance from the fine core
constexpr double plate_end_cells = 1.5;   // times the core's cell size at the plate's free end

/// The size that cells should have along one axis: fine within `core`, and again at `point`.
struct CellSize {
    double core_from, core_to;
    double size;
    double point; ///< not a number for none

    double operator()(double at) const {
        const double from_core = std::max({0.0, core_from - at, at - core_to});
        const double wanted = size + growth_per_metre * from_core;
        if (std::isnan(point))
            return wanted;
        return std::min(wanted, plate_end_cells * size + growth_per_metre * std::abs(at - point));
    }
};

/// Cuts [from, to] into cells of about the wanted size and appends their upper edges.
void append_cells(std::vector<double> &edges, double from, double to, const CellSize &size,
                  int refinement) {
    constexpr std::size_t samples = 256;
    std::array<double, samples + 1> count{}; // cells below each sample
    const double step = (to - from) / static_cast<double>(samples);
    for (std::size_t k = 0; k < samples; ++k)
        count[k + 1] = count[k] + step / size(from + step * (static_cast<double>(k) + 0.5));
    const double coarse = std::max(1.0, std::ceil(count[samples] - 1e-6));
    const auto cells = static_cast<std::size_t>(std::ldexp(coarse, refinement));
    std::size_t k = 0;
    for (std::size_t cell = 1; cell < cells; ++cell) {
        const double wanted =
            count[samples] * static_cast<double>(cell) / static_cast<double>(cells);
        while (count[k + 1] < wanted)
            ++k;
        edges.push_back(from + step * (static_cast<double>(k) +
                                       (wanted - count[k]) / (count[k + 1] - count[k])));
    }
    edges.push_back(to);
}

std::vector<double> axis(std::vector<double> breaks, const CellSize &size, int refinement) {
    std::sort(breaks.begin(), breaks.end());
    std::vector<double> edges{breaks.front()};
    for (const double next : breaks)
        if (next - edges.back() > 1e-7)
            append_cells(edges, edges.back(), next, size, refinement);
    return edges;
}

std::size_t cell_at(const std::vector<double> &edges, double at) {
    const auto above = std::upper_bound(edges.begin(), edges.end(), at);
    const auto cell = std::distance(edges.begin(), above) - 1;
    return static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(cell, 0, std::ssize(edges) - 2));
}

} // namespace

FloorGrid floor_grid(const FloorSection &section, int refinement) {
    const double radius = 0.5 * section.pipe.overall_diameter_m();
    const double size =
        std::min(section.pipe.outside_diameter_m / cells_per_diameter, 0.5 * section.pipe.wall_m);
    const double underside = -section.axis_height_m();
    std::vector<double> x{0.0, radius, 0.5 * section.spacing_m};
    std::vector<double> y{underside - section.insulation_thickness_m, underside, -radius, 0.0,
                          radius};
    double layer_base = radius;
    double plate_end = std::nan("");
    if (section.board && section.board->plate) {
        const DiffuserPlate &plate = *section.board->plate;
        plate_end = 0.5 * plate.width_m;
        layer_base += plate.thickness_m;
        x.push_back(radius + plate.thickness_m);
        x.push_back(plate_end);
        y.push_back(layer_base);
    }
    y.push_back(layer_base + section.cover_m);
    const double core = radius + 2.0 * size;
    return {axis(x, {0.0, core, size, plate_end}, refinement),
            axis(y, {-core, core, size, std::nan("")}, refinement)};
}

FloorMaterial::FloorMaterial(const FloorSection &section)
    : section_(section), radii_{0.5 * section.pipe.bore_m(), 0.5 * section.pipe.outside_diameter_m,
                                0.5 * section.pipe.overall_diameter_m()},
      conductivities_{section.pipe.wall_conductivity_w_m_k,
                      section.pipe.sheath_conductivity_w_m_k} {}

double FloorMaterial::surrounding(double x_m, double y_m) const {
    if (y_m < -section_.axis_height_m())
        return section_.insulation_conductivity_w_m_k;
    if (!section_.board)
        return section_.layer_conductivity_w_m_k;
    const GrooveBoard &board = *section_.board;
    const double top = radii_[2];
    const double plate_thickness = board.plate ? board.plate->thickness_m : 0.0;
    if (y_m > top + plate_thickness)
        return section_.layer_conductivity_w_m_k;
    const bool in_groove = x_m < radii_[2];
    if (in_groove && y_m > 0.0)
        return board.groove_filling_conductivity_w_m_k;
    if (board.plate) {
        if (y_m > 0.0 && x_m < radii_[2] + plate_thickness)
            return board.plate->conductivity_w_m_k;
        if (y_m > top)
            return x_m < 0.5 * board.plate->width_m ? board.plate->conductivity_w_m_k
                                                    : section_.layer_conductivity_w_m_k;
    }
    return board.conductivity_w_m_k;
}

double FloorMaterial::resistance(double from_m, double to_m, double offset_m,
                                 double surrounding) const {
    const double nearest = std::clamp(0.0, from_m, to_m);
    if (std::hypot(nearest, offset_m) >= radii_[2])
        return (to_m - from_m) / surrounding;
    // Where the line crosses the three circles, in ascending order.
    std::array<double, 7> cuts{};
    std::size_t count = 0;
    const auto cut = [&](double at) {
        if (at > from_m && at < to_m)
            cuts[count++] = at;
    };
    std::array<double, 3> half_chords{};
    for (std::size_t ring = 0; ring < 3; ++ring)
        half_chords[ring] =
            std::sqrt(std::max(0.0, radii_[ring] * radii_[ring] - offset_m * offset_m));
    for (std::size_t ring = 3; ring-- > 0;)
        cut(-half_chords[ring]);
    for (const double half_chord : half_chords)
        cut(half_chord);
    cuts[count++] = to_m;
    double sum = 0.0;
    double at = from_m;
    for (std::size_t k = 0; k < count; ++k) {
        const double radius = std::hypot(0.5 * (at + cuts[k]), offset_m);
        const double length = cuts[k] - at;
        if (radius >= radii_[2])
            sum += length / surrounding;
        else if (radius >= radii_[1])
            sum += length / conductivities_[1];
        else if (radius >= radii_[0])
            sum += length / conductivities_[0];
        at = cuts[k];
    }
    return sum;
}

double FloorMaterial::outer_chord(double offset_m) const {
    return std::sqrt(std::max(0.0, radii_[2] * radii_[2] - offset_m * offset_m));
}

PlateSheet::PlateSheet(const FloorSection &section, const FloorGrid &grid) : grid_(grid) {
    if (!section.board || !section.board->plate)
        return;
    radius_ = 0.5 * section.pipe.overall_diameter_m();
    thickness_ = section.board->plate->thickness_m;
    conductivity_ = section.board->plate->conductivity_w_m_k;
    columns_ = cell_at(grid.x, radius_ * (1.0 + 1e-9));
    rows_from_ = cell_at(grid.y, -radius_ * (1.0 - 1e-9));
    rows_to_ = cell_at(grid.y, 1e-9 * radius_);
}

bool PlateSheet::inside(std::size_t column, std::size_t row) const {
    return std::hypot(grid_.centre_x(column), grid_.centre_y(row)) < radius_;
}

bool PlateSheet::holds(std::size_t column, std::size_t row) const {
    if (column >= columns_ || row < rows_from_ || row >= rows_to_)
        return false;
    return inside(column, row) && (row == rows_from_ || !inside(column + 1, row - 1));
}

std::vector<PlateSheet::Step> PlateSheet::steps() const {
    std::vector<Step> steps;
    const double sheet = conductivity_ * thickness_;
    const auto angle = [this](std::size_t column, std::size_t row) { // from straight down
        return std::atan2(grid_.centre_x(column), -grid_.centre_y(row));
    };
    const auto step = [&](std::size_t column, std::size_t row, std::size_t next_column,
                          std::size_t next_row) {
        if (holds(column, row) && holds(next_column, next_row))
            steps.push_back(
                {column, row, next_column, next_row,
                 sheet / (radius_ * (angle(next_column, next_row) - angle(column, row)))});
    };
    for (std::size_t row = rows_from_; row < rows_to_; ++row)
        for (std::size_t column = 0; column < columns_; ++column) {
            step(column, row, column + 1, row);
            step(column, row, column, row + 1);
        }
    if (rows_to_ == 0)
        return steps;
    // The end of the sheet feeds the whole thickness of the upright part above it.
    const std::size_t top = rows_to_ - 1, last = columns_ - 1;
    const double length = radius_ * (0.5 * std::numbers::pi - angle(last, top)) + 0.5 * thickness_ +
                          0.5 * grid_.height(rows_to_);
    for (std::size_t column = columns_; grid_.centre_x(column) < radius_ + thickness_; ++column)
        steps.push_back(
            {last, top, column, rows_to_, conductivity_ * grid_.width(column) / length});
    return steps;
}

} // namespace headroom::models
