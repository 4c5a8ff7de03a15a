// The limit curve of models/floor_en1264.hpp.
#include "models/floor_en1264.hpp"

#include "models/table.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace headroom::models {
namespace {

constexpr double widest_spacing = 0.375;

// Tables of EN 1264-2 by spacing (rows) and cover over screed conductivity (columns).
constexpr std::array cover_entries{0.01,   0.0208, 0.0292, 0.0375, 0.0458,
                                   0.0542, 0.0625, 0.0708, 0.0792};
using CoverRow = std::array<double, cover_entries.size()>;
constexpr std::array b_spacings{0.05, 0.075, 0.10, 0.15, 0.20, 0.225, 0.30, 0.375};
constexpr std::array<CoverRow, b_spacings.size()> b_table{
    {{85, 91.5, 96.8, 100, 100, 100, 100, 100, 100},
     {75.3, 83.5, 89.9, 96.3, 99.5, 100, 100, 100, 100},
     {66, 75.4, 82.9, 89.3, 95.5, 98.8, 100, 100, 100},
     {51, 61.1, 69.2, 76.3, 82.7, 87.5, 91.8, 95.1, 97.8},
     {38.5, 48.2, 56.2, 63.1, 69.1, 74.5, 81.3, 86.4, 90},
     {33, 42.5, 49.5, 56.5, 62, 67.5, 75.3, 81.6, 86.1},
     {20.5, 26.8, 31.6, 36.4, 41.5, 47.5, 57.5, 65.3, 72.4},
     {11.5, 13.7, 15.5, 18.2, 21.5, 27.5, 40, 49.1, 58.3}}};
constexpr std::array n_spacings{0.05, 0.075, 0.10, 0.15, 0.20, 0.225, 0.2625, 0.30, 0.3375, 0.375};
constexpr std::array<CoverRow, n_spacings.size()> n_table{
    {{0.008, 0.005, 0.002, 0, 0, 0, 0, 0, 0},
     {0.024, 0.021, 0.018, 0.011, 0.002, 0, 0, 0, 0},
     {0.046, 0.043, 0.041, 0.033, 0.014, 0.005, 0, 0, 0},
     {0.088, 0.085, 0.082, 0.076, 0.055, 0.038, 0.024, 0.014, 0.006},
     {0.131, 0.130, 0.129, 0.123, 0.105, 0.083, 0.057, 0.040, 0.028},
     {0.155, 0.154, 0.153, 0.146, 0.130, 0.110, 0.077, 0.056, 0.041},
     {0.197, 0.196, 0.196, 0.190, 0.173, 0.150, 0.110, 0.083, 0.062},
     {0.254, 0.253, 0.253, 0.245, 0.228, 0.195, 0.145, 0.114, 0.086},
     {0.322, 0.321, 0.321, 0.310, 0.293, 0.260, 0.187, 0.148, 0.115},
     {0.422, 0.421, 0.421, 0.405, 0.385, 0.325, 0.230, 0.183, 0.142}}};

// For thicker screed, by cover over spacing.
constexpr std::array depth_entries{0.173, 0.20, 0.25, 0.30, 0.35, 0.40, 0.45,
                                   0.50,  0.55, 0.60, 0.65, 0.70, 0.75};
using DepthRow = std::array<double, depth_entries.size()>;
constexpr DepthRow b_by_depth{27.5, 40, 57.5, 69.5, 78.2, 84.4, 88.3,
                              91.6, 94, 96.3, 98.6, 99.8, 100};
constexpr DepthRow n_by_depth{0.32,  0.23,  0.145, 0.097, 0.067, 0.048, 0.033,
                              0.023, 0.015, 0.009, 0.005, 0.002, 0};

struct Curve {
    double b, n;
};

template <std::size_t N>
double entry(const std::array<double, N> &spacings, const std::array<CoverRow, N> &table,
             double spacing, const Bracket &cover) {
    const Bracket row = bracket(spacings, spacing);
    const double narrow = cover.of(table[row.lower]);
    return narrow + row.share * (cover.of(table[row.lower + 1]) - narrow);
}

/// B_G and n_G at a spacing within 0.05 to 0.375 m.
std::optional<Curve> limit_curve(double spacing, double cover, double conductivity) {
    const double depth = cover / conductivity;
    if (depth < cover_entries.front())
        return std::nullopt;
    if (depth <= cover_entries.back()) {
        const Bracket column = bracket(cover_entries, depth);
        return Curve{entry(b_spacings, b_table, spacing, column),
                     entry(n_spacings, n_table, spacing, column)};
    }
    const double ratio = cover / spacing;
    if (ratio < depth_entries.front())
        return std::nullopt;
    if (ratio >= depth_entries.back()) // the surface is even: the base curve at 9 K
        return Curve{b_by_depth.back(), n_by_depth.back()};
    const Bracket column = bracket(depth_entries, ratio);
    return Curve{column.of(b_by_depth), column.of(n_by_depth)};
}

} // namespace

std::optional<En1264Limit> en1264_limit(const FloorSection &section, double surface_excess_k) {
    const auto characteristic = en1264_characteristic(section);
    if (!characteristic || !(surface_excess_k > 0.0))
        return std::nullopt;
    const bool wide = section.spacing_m > widest_spacing;
    if (wide && section.cover_m > depth_entries.front() * section.spacing_m)
        return std::nullopt;
    const double spacing = std::min(section.spacing_m, widest_spacing);
    const auto curve = limit_curve(spacing, section.cover_m, section.layer_conductivity_w_m_k);
    if (!curve)
        return std::nullopt;
    const double phi = std::pow(surface_excess_k / 9.0, 1.1);
    const double narrowed = spacing / section.spacing_m; // 1 unless wide
    const double at_spacing = characteristic->characteristic_w_m2_k / narrowed;
    En1264Limit limit;
    limit.b_factor = curve->b;
    limit.exponent = curve->n;
    limit.excess_k = phi * std::pow(curve->b / at_spacing, 1.0 / (1.0 - curve->n));
    limit.heat_w_m2 = at_spacing * limit.excess_k * narrowed;
    return limit;
}

} // namespace headroom::models
