#include "models/climate.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace headroom::models {
namespace {

// Hours of bins 1 K apart, the first at `first_c`.
template <std::size_t N>
constexpr std::array<TemperatureBin, N> bins_from(int first_c, const int (&hours)[N]) {
    std::array<TemperatureBin, N> bins{};
    for (std::size_t i = 0; i < N; ++i)
        bins[i] = {static_cast<double>(first_c + static_cast<int>(i)),
                   static_cast<double>(hours[i])};
    return bins;
}

constexpr auto average_bins =
    bins_from(-10, {1,   25,  23,  24,  27,  68,  91,  89,  165, 173, 240, 280, 320,
                    357, 356, 303, 330, 326, 348, 335, 315, 215, 169, 151, 105, 74});
constexpr auto warmer_bins =
    bins_from(2, {3, 22, 63, 63, 175, 162, 259, 360, 428, 430, 503, 444, 384, 294});
constexpr auto colder_bins =
    bins_from(-22, {1,   6,   13,  17,  19,  26,  39,  41,  35,  52,  37,  41,  43,
                    54,  90,  125, 169, 195, 278, 306, 454, 385, 490, 533, 380, 228,
                    261, 279, 229, 269, 233, 230, 243, 191, 146, 150, 97,  61});

static_assert(average_bins.back().outdoor_c == 15.0);
static_assert(warmer_bins.back().outdoor_c == 15.0);
static_assert(colder_bins.back().outdoor_c == 15.0);

} // namespace

HeatingClimate heating_climate(ClimateKind kind) {
    switch (kind) {
    case ClimateKind::Warmer:
        return {2.0, warmer_bins};
    case ClimateKind::Colder:
        return {-22.0, colder_bins};
    case ClimateKind::Average:
        break;
    }
    return {-10.0, average_bins};
}

double part_load_ratio(double outdoor_c, double design_c) {
    return std::max(0.0, (outdoor_c - heating_ends_c) / (design_c - heating_ends_c));
}

} // namespace headroom::models
