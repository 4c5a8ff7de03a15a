#include "models/floor_en1264.hpp"

#include "models/table.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace headroom::models {
namespace {

constexpr double surface_coefficient = 10.8;
constexpr double reference_cover = 0.045;
constexpr double reference_conductivity = 1.0;
constexpr double widest_spacing = 0.375;
constexpr double reference_system = 6.7; // B for the reference wall
constexpr double reference_wall = 0.002;
constexpr double reference_wall_conductivity = 0.35;

// Tables A.1 to A.3 of EN 1264-2.
constexpr std::array covering_entries{0.0, 0.05, 0.10, 0.15};
constexpr std::array spacing_entries{0.05, 0.075, 0.10, 0.15, 0.20, 0.225, 0.30, 0.375};
using CoveringRow = std::array<double, covering_entries.size()>;
using SpacingTable = std::array<CoveringRow, spacing_entries.size()>;
constexpr CoveringRow a_spacing_row{1.230, 1.188, 1.156, 1.134};
constexpr SpacingTable a_cover_table{{{1.069, 1.056, 1.043, 1.037},
                                      {1.066, 1.053, 1.041, 1.035},
                                      {1.063, 1.050, 1.039, 1.0335},
                                      {1.057, 1.046, 1.035, 1.0305},
                                      {1.051, 1.041, 1.0315, 1.0275},
                                      {1.048, 1.038, 1.0295, 1.026},
                                      {1.0395, 1.031, 1.024, 1.021},
                                      {1.030, 1.0221, 1.0181, 1.015}}};
constexpr SpacingTable a_diameter_table{{{1.013, 1.013, 1.012, 1.011},
                                         {1.021, 1.019, 1.016, 1.014},
                                         {1.029, 1.025, 1.022, 1.018},
                                         {1.040, 1.034, 1.029, 1.024},
                                         {1.046, 1.040, 1.035, 1.030},
                                         {1.049, 1.043, 1.038, 1.033},
                                         {1.053, 1.049, 1.044, 1.039},
                                         {1.056, 1.051, 1.046, 1.042}}};

double between(const SpacingTable &table, const Bracket &spacing, const Bracket &covering) {
    const double narrow = covering.of(table[spacing.lower]);
    const double wide = covering.of(table[spacing.lower + 1]);
    return narrow + spacing.share * (wide - narrow);
}

/// What the pipe's wall and sheath resist beyond the reference wall: sum of ln(outside/inside) /
/// (2 lambda) [m K/W].
double extra_wall(const FloorPipe &pipe) {
    const double overall = pipe.overall_diameter_m();
    const double outside = pipe.outside_diameter_m;
    double sum = std::log(outside / pipe.bore_m()) / (2.0 * pipe.wall_conductivity_w_m_k);
    if (overall > outside)
        sum += std::log(overall / outside) / (2.0 * pipe.sheath_conductivity_w_m_k);
    return sum - std::log(overall / (overall - 2.0 * reference_wall)) /
                     (2.0 * reference_wall_conductivity);
}

double thickest_cover(double spacing) {
    return std::max(0.100, 0.5 * spacing);
}

} // namespace

En1264Range en1264_range(const FloorSection &section) {
    if (floor_section_fault(section) != nullptr)
        return En1264Range::Impossible;
    if (section.board)
        return En1264Range::DryBoard;
    if (section.surface_coefficient_w_m2_k != surface_coefficient)
        return En1264Range::SurfaceCoefficient;
    if (section.spacing_m < spacing_entries.front())
        return En1264Range::Spacing;
    const double diameter = section.pipe.overall_diameter_m();
    if (diameter < 0.008 || diameter > 0.030)
        return En1264Range::Diameter;
    if (section.cover_m < 0.010)
        return En1264Range::Cover;
    if (section.covering_resistance_m2k_w > covering_entries.back())
        return En1264Range::CoveringResistance;
    if (section.spacing_m > widest_spacing && section.cover_m > thickest_cover(widest_spacing))
        return En1264Range::WideAndThick;
    return En1264Range::Covered;
}

std::optional<En1264Characteristic> en1264_characteristic(const FloorSection &section) {
    if (en1264_range(section) != En1264Range::Covered)
        return std::nullopt;
    const double spacing = std::min(section.spacing_m, widest_spacing);
    const double cover = std::min(section.cover_m, thickest_cover(spacing));
    const double covering_resistance = section.covering_resistance_m2k_w;
    const double screed = section.layer_conductivity_w_m_k;
    const Bracket by_covering = bracket(covering_entries, covering_resistance);
    const Bracket by_spacing = bracket(spacing_entries, spacing);

    En1264Characteristic result;
    result.a_covering =
        (1.0 / surface_coefficient + reference_cover / reference_conductivity) /
        (1.0 / surface_coefficient + reference_cover / screed + covering_resistance);
    result.a_spacing = by_covering.of(a_spacing_row);
    result.m_spacing = 1.0 - spacing / 0.075;
    result.a_cover = between(a_cover_table, by_spacing, by_covering);
    result.m_cover = 100.0 * (reference_cover - cover);
    result.a_diameter = between(a_diameter_table, by_spacing, by_covering);
    result.m_diameter = 250.0 * (section.pipe.overall_diameter_m() - 0.020);
    const double factors = result.a_covering * std::pow(result.a_spacing, result.m_spacing) *
                           std::pow(result.a_cover, result.m_cover) *
                           std::pow(result.a_diameter, result.m_diameter);
    result.system_w_m2_k =
        1.0 / (1.0 / reference_system + 1.1 / pi * factors * spacing * extra_wall(section.pipe));
    double characteristic = result.system_w_m2_k * factors;
    if (section.cover_m > cover)
        characteristic = 1.0 / (1.0 / characteristic + (section.cover_m - cover) / screed);
    result.characteristic_w_m2_k = characteristic * spacing / section.spacing_m;
    return result;
}

double surface_limit_c(FloorZone zone) {
    switch (zone) {
    case FloorZone::Bathroom:
        return 33.0;
    case FloorZone::Perimeter:
        return 35.0;
    case FloorZone::Occupied:
        break;
    }
    return 29.0;
}

double base_curve_excess_k(double heat_w_m2) {
    return std::pow(heat_w_m2 / 8.92, 1.0 / 1.1);
}

std::optional<DownwardLoss> downward_loss(const FloorSection &section, double heat_up_w_m2,
                                          double room_c, double below_c) {
    DownwardLoss loss;
    loss.upper_resistance_m2k_w = 1.0 / surface_coefficient + section.covering_resistance_m2k_w +
                                  section.cover_m / section.layer_conductivity_w_m_k;
    loss.lower_resistance_m2k_w = section.insulation_resistance_m2k_w() +
                                  section.slab_resistance_m2k_w +
                                  section.lower_surface_resistance_m2k_w;
    if (!(heat_up_w_m2 > 0.0) || !(loss.lower_resistance_m2k_w > 0.0))
        return std::nullopt;
    loss.heat_down_w_m2 = (heat_up_w_m2 * loss.upper_resistance_m2k_w + room_c - below_c) /
                          loss.lower_resistance_m2k_w;
    loss.water_share = 1.0 + loss.heat_down_w_m2 / heat_up_w_m2;
    return loss;
}

double supply_excess_k(double excess_k, double drop_k) {
    const double half = excess_k + 0.5 * drop_k;
    return drop_k > 0.5 * excess_k ? half + drop_k * drop_k / (12.0 * excess_k) : half;
}

} // namespace headroom::models
