#include "models/floor_conduction.hpp"

#include "models/floor_grid.hpp"

#include <Eigen/SparseCholesky>

#include <algorithm>
#include <cmath>
#include <vector>

namespace headroom::models {
namespace {

constexpr double still_water = 1e-3; // cells nearer to the bore than this share of their size

constexpr std::size_t below = wall_shapes;
using Index = Eigen::Index;

/// A face between a cell and the water side of the pipe wall.
struct WaterFace {
    Index cell;
    double conductance;
    std::array<double, wall_shapes> shape; ///< cos(m phi) where the line meets the bore
};

/// A face between a cell and the room or the space below.
struct EndFace {
    Index cell;
    double conductance;
};

class HalfCell {
public:
    HalfCell(const FloorSection &section, int refinement);
    std::optional<FloorResponse> response();
    std::optional<FloorField> field(double wall_k, double below_k);

private:
    Index number(std::size_t column, std::size_t row) const {
        return static_cast<Index>(row * grid_.columns() + column);
    }
    Index cells() const { return static_cast<Index>(grid_.columns() * grid_.rows()); }
    bool is_water(std::size_t column, std::size_t row) const;
    double lambda(std::size_t column, std::size_t row) const;
    double across_x(std::size_t column, std::size_t row) const;
    double across_y(std::size_t column, std::size_t row) const;
    void add(Index cell, Index other, double conductance);
    void couple(Index cell, Index other, double conductance);
    void wet(Index cell, double conductance, double cosine);
    void add_inner_faces();
    void add_end_faces();
    Eigen::VectorXd heating(std::size_t port) const;
    void read(const Eigen::VectorXd &temperature, std::size_t port, FloorResponse &response) const;

    const FloorSection &section_;
    FloorGrid grid_;
    FloorMaterial material_;
    PlateSheet sheet_;
    std::vector<Eigen::Triplet<double>> entries_;
    std::vector<WaterFace> water_faces_;
    std::vector<EndFace> top_, bottom_; ///< one for each column
};

HalfCell::HalfCell(const FloorSection &section, int refinement)
    : section_(section), grid_(floor_grid(section, refinement)), material_(section),
      sheet_(section, grid_) {
    entries_.reserve(static_cast<std::size_t>(8 * cells()));
    add_inner_faces();
    add_end_faces();
    for (const PlateSheet::Step &step : sheet_.steps())
        couple(number(step.column_a, step.row_a), number(step.column_b, step.row_b),
               step.conductance_w_m_k);
}

bool HalfCell::is_water(std::size_t column, std::size_t row) const {
    const double margin = still_water * std::min(grid_.width(column), grid_.height(row));
    return std::hypot(grid_.centre_x(column), grid_.centre_y(row)) <=
           material_.bore_radius_m() + margin;
}

double HalfCell::lambda(std::size_t column, std::size_t row) const {
    return material_.surrounding(grid_.centre_x(column), grid_.centre_y(row));
}

/// Resistance [m2 K/W] between the centres of a cell and the next on its right; from the sheet's
/// circle instead of the centre of a cell that the sheet holds.
double HalfCell::across_x(std::size_t column, std::size_t row) const {
    const double offset = grid_.centre_y(row);
    const double face = grid_.x[column + 1];
    const double here = lambda(column, row), next = lambda(column + 1, row);
    double from = grid_.centre_x(column), to = grid_.centre_x(column + 1);
    const bool from_sheet = sheet_.holds(column, row), to_sheet = sheet_.holds(column + 1, row);
    if (from_sheet && !to_sheet)
        from = material_.outer_chord(offset);
    else if (to_sheet && !from_sheet)
        to = material_.outer_chord(offset);
    double sum = 0.0;
    if (from < face)
        sum += material_.resistance(from, face, offset, here);
    return sum + material_.resistance(std::max(from, face), to, offset, next);
}

/// The same between a cell and the next above it.
double HalfCell::across_y(std::size_t column, std::size_t row) const {
    const double offset = grid_.centre_x(column);
    const double face = grid_.y[row + 1];
    const double here = lambda(column, row), next = lambda(column, row + 1);
    double from = grid_.centre_y(row), to = grid_.centre_y(row + 1);
    const bool from_sheet = sheet_.holds(column, row), to_sheet = sheet_.holds(column, row + 1);
    if (from_sheet && !to_sheet)
        from = -material_.outer_chord(offset);
    else if (to_sheet && !from_sheet)
        to = -material_.outer_chord(offset);
    double sum = material_.resistance(from, std::min(face, to), offset, here);
    if (to > face)
        sum += material_.resistance(face, to, offset, next);
    return sum;
}

void HalfCell::add(Index cell, Index other, double conductance) {
    entries_.emplace_back(static_cast<int>(cell), static_cast<int>(other), conductance);
}

void HalfCell::couple(Index cell, Index other, double conductance) {
    add(cell, cell, conductance);
    add(other, other, conductance);
    add(std::max(cell, other), std::min(cell, other), -conductance); // lower triangle
}

void HalfCell::wet(Index cell, double conductance, double cosine) {
    add(cell, cell, conductance);
    WaterFace face{cell, conductance, {}};
    face.shape[0] = 1.0;
    face.shape[1] = std::clamp(cosine, -1.0, 1.0);
    for (std::size_t m = 2; m < wall_shapes; ++m) // cos(m phi) = 2 cos(phi) cos((m-1)phi) - ...
        face.shape[m] = 2.0 * face.shape[1] * face.shape[m - 1] - face.shape[m - 2];
    water_faces_.push_back(face);
}

void HalfCell::add_inner_faces() {
    const double bore = material_.bore_radius_m();
    const auto chord = [bore](double offset) {
        return std::sqrt(std::max(0.0, bore * bore - offset * offset));
    };
    for (std::size_t row = 0; row < grid_.rows(); ++row)
        for (std::size_t column = 0; column < grid_.columns(); ++column) {
            const Index cell = number(column, row);
            const bool water = is_water(column, row);
            if (water)
                add(cell, cell, 1.0);
            if (column + 1 < grid_.columns() && !(water && is_water(column + 1, row))) {
                const double conductance = grid_.height(row) / across_x(column, row);
                if (water) // the bore's circle is left on its right-hand side
                    wet(number(column + 1, row), conductance, grid_.centre_y(row) / bore);
                else
                    couple(cell, number(column + 1, row), conductance);
            }
            if (row + 1 < grid_.rows()) {
                const bool next_water = is_water(column, row + 1);
                if (water && next_water)
                    continue;
                const double conductance = grid_.width(column) / across_y(column, row);
                const double crossing = chord(grid_.centre_x(column)) / bore;
                if (water)
                    wet(number(column, row + 1), conductance, crossing);
                else if (next_water)
                    wet(cell, conductance, -crossing);
                else
                    couple(cell, number(column, row + 1), conductance);
            }
        }
}

void HalfCell::add_end_faces() {
    const double over =
        section_.covering_resistance_m2k_w + 1.0 / section_.surface_coefficient_w_m2_k;
    const double under = section_.slab_resistance_m2k_w + section_.lower_surface_resistance_m2k_w;
    const std::size_t last = grid_.rows() - 1;
    for (std::size_t column = 0; column < grid_.columns(); ++column) {
        const double width = grid_.width(column);
        const double to_top = 0.5 * grid_.height(last) / lambda(column, last);
        const double lowest_node = sheet_.holds(column, 0)
                                       ? -material_.outer_chord(grid_.centre_x(column))
                                       : grid_.centre_y(0);
        const double to_bottom = material_.resistance(grid_.y[0], lowest_node,
                                                      grid_.centre_x(column), lambda(column, 0));
        top_.push_back({number(column, last), width / (to_top + over)});
        bottom_.push_back({number(column, 0), width / (to_bottom + under)});
        add(top_.back().cell, top_.back().cell, top_.back().conductance);
        add(bottom_.back().cell, bottom_.back().cell, bottom_.back().conductance);
    }
}

/// Heat into each cell with one wall shape, or the space below, at 1 K and all else at 0.
Eigen::VectorXd HalfCell::heating(std::size_t port) const {
    Eigen::VectorXd heat = Eigen::VectorXd::Zero(cells());
    if (port == below) {
        for (const EndFace &face : bottom_)
            heat[face.cell] += face.conductance;
    } else {
        for (const WaterFace &face : water_faces_)
            heat[face.cell] += face.conductance * face.shape[port];
    }
    return heat;
}

void HalfCell::read(const Eigen::VectorXd &temperature, std::size_t port,
                    FloorResponse &response) const {
    const double per_m2 = 2.0 / section_.spacing_m; // heat of the half cell to heat per floor area
    const double space_below = port == below ? 1.0 : 0.0;
    for (const WaterFace &face : water_faces_) {
        const double wall = port == below ? 0.0 : face.shape[port];
        const double heat = per_m2 * face.conductance * (wall - temperature[face.cell]);
        for (std::size_t m = 0; m < wall_shapes; ++m)
            response.wall[m][port] += heat * face.shape[m];
    }
    for (const EndFace &face : top_)
        response.up[port] += per_m2 * face.conductance * temperature[face.cell];
    for (const EndFace &face : bottom_)
        response.down[port] += per_m2 * face.conductance * (temperature[face.cell] - space_below);
    // The surface is level at both ends of the half cell: a parabola through two columns there.
    const auto surface = [&](std::size_t column) {
        return top_[column].conductance * temperature[top_[column].cell] /
               (grid_.width(column) * section_.surface_coefficient_w_m2_k);
    };
    const auto end = [&](double at, std::size_t first, std::size_t second) {
        const double a = grid_.centre_x(first) - at, b = grid_.centre_x(second) - at;
        return surface(first) - (surface(second) - surface(first)) * a * a / (b * b - a * a);
    };
    const std::size_t last = grid_.columns() - 1;
    response.over_pipe[port] = end(0.0, 0, 1);
    response.between_pipes[port] = end(grid_.x.back(), last, last - 1);
}

std::optional<FloorResponse> HalfCell::response() {
    Eigen::SparseMatrix<double> matrix(cells(), cells());
    matrix.setFromTriplets(entries_.begin(), entries_.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factored(matrix);
    if (factored.info() != Eigen::Success)
        return std::nullopt;
    FloorResponse response;
    response.spacing_m = section_.spacing_m;
    response.surface_coefficient_w_m2_k = section_.surface_coefficient_w_m2_k;
    response.cells = static_cast<std::size_t>(cells());
    for (std::size_t port = 0; port <= below; ++port)
        read(factored.solve(heating(port)), port, response);
    return response;
}

std::optional<FloorField> HalfCell::field(double wall_k, double below_k) {
    Eigen::SparseMatrix<double> matrix(cells(), cells());
    matrix.setFromTriplets(entries_.begin(), entries_.end());
    const Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factored(matrix);
    if (factored.info() != Eigen::Success)
        return std::nullopt;
    const Eigen::VectorXd temperature =
        factored.solve(wall_k * heating(0) + below_k * heating(below));
    FloorField field;
    for (std::size_t column = 0; column < grid_.columns(); ++column)
        field.x_m.push_back(grid_.centre_x(column));
    for (std::size_t row = 0; row < grid_.rows(); ++row) {
        field.y_m.push_back(grid_.centre_y(row));
        for (std::size_t column = 0; column < grid_.columns(); ++column)
            field.above_room_k.push_back(is_water(column, row) ? wall_k
                                                               : temperature[number(column, row)]);
    }
    return field;
}

} // namespace

std::optional<FloorField> floor_field(const FloorSection &section, double wall_k, double below_k) {
    if (floor_section_fault(section) != nullptr)
        return std::nullopt;
    return HalfCell(section, 0).field(wall_k, below_k);
}

std::optional<FloorResponse> floor_response_on_grid(const FloorSection &section, int refinement) {
    if (floor_section_fault(section) != nullptr)
        return std::nullopt;
    return HalfCell(section, refinement).response();
}

} // namespace headroom::models
