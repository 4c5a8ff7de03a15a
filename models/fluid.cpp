#include "models/fluid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <span>

namespace headroom::models {
namespace {

double polynomial(std::span<const double> coefficients, double x) {
    double value = 0.0;
    for (auto it = coefficients.rbegin(); it != coefficients.rend(); ++it)
        value = value * x + *it;
    return value;
}

FluidState water_state(double temperature_c) {
    static constexpr std::array density{988.090695613,   -22.5960640426,  -8.23243223246,
                                        1.55237428864,   -0.538532996462, 0.234451220969,
                                        -0.171686354378, 0.06155414942};
    static constexpr std::array ln_viscosity{-7.51189932395,    -0.83928304656,    0.227488076193,
                                             -0.0708058524282,  0.0283122508319,   -0.0123418772534,
                                             0.00493044051487,  -0.00232095100599, 0.00133375292214,
                                             -0.000395565029195};
    static constexpr std::array heat_capacity{4179.3204092,   10.7597812576,  27.5431024714,
                                              -3.35965325713, 2.75121338262,  -1.73616445915,
                                              5.39388437158,  -6.90725018677, 2.65512942126};
    static constexpr std::array conductivity{0.640663380703,   0.0561300000167,   -0.0214864896639,
                                             0.00337184871577, -0.00264532313967, 0.00121206084372};
    const double x = (std::clamp(temperature_c, 0.0, 110.0) - 50.0) / 50.0;
    return {polynomial(density, x), std::exp(polynomial(ln_viscosity, x)),
            polynomial(heat_capacity, x), polynomial(conductivity, x)};
}

// [Melinder2010]: sum of C_ij (x - xm)^i (t - tm)^j, x in mass %, t in degC; the exponents i + j
// run over the triangle below. Viscosity is the exponential of its sum, in mPa s.
struct MelinderTable {
    double mean_share_percent;
    double mean_temperature_c;
    std::array<double, 18> freezing, density, heat_capacity, conductivity, ln_viscosity;
};

constexpr MelinderTable propylene{
    30.7031,
    32.7083,
    // freezing
    {{-13.25, -3.82e-05, 7.865e-07, -1.733e-09, -0.6631, 6.774e-06, -6.242e-08, -7.819e-10,
      -0.01094, 5.332e-08, -4.169e-09, 3.288e-11, -0.0002283, -1.131e-08, 1.918e-10, -3.409e-06,
      8.035e-11, 1.465e-08}},
    // density
    {{1018, -0.5406, -0.002666, 1.347e-05, 0.7604, -0.00945, 5.541e-05, -1.343e-07, -0.002498,
      2.7e-05, -4.018e-07, 3.376e-09, -0.000155, 2.829e-06, -7.175e-09, -1.131e-06, -2.221e-08,
      2.342e-08}},
    // heat capacity
    {{3882, 2.699, -0.001659, -1.032e-05, -13.04, 0.0507, -4.752e-05, 1.522e-06, -0.1598, 9.534e-05,
      1.167e-05, -4.87e-08, 0.0003539, 3.102e-05, -2.95e-07, 5e-05, -7.135e-07, -4.959e-07}},
    // conductivity
    {{0.4513, 0.0007955, 3.482e-08, -5.966e-09, -0.004795, -1.678e-05, 8.941e-08, 1.493e-10,
      2.076e-05, 1.563e-07, -4.615e-09, 9.897e-12, -9.083e-08, -2.518e-09, 6.543e-11, -5.952e-10,
      -3.605e-11, 2.104e-11}},
    // ln viscosity
    {{0.6837, -0.03045, 0.0002525, -1.399e-06, 0.03328, -0.0003984, 4.332e-06, -1.86e-08, 5.453e-05,
      -8.6e-08, -1.593e-08, -4.465e-11, -3.9e-06, 1.054e-07, -1.589e-09, -1.587e-08, 4.475e-10,
      3.564e-09}},
};

constexpr MelinderTable ethylene{
    30.8462,
    31.728,
    // freezing
    {{-15.25, -1.566e-06, -2.278e-07, 2.169e-09, -0.808, -1.339e-06, 2.047e-08, -2.717e-11,
      -0.01334, 6.322e-08, 2.373e-10, -2.183e-12, -7.293e-05, 1.764e-09, -2.442e-11, 1.006e-06,
      -7.662e-11, 1.14e-09}},
    // density
    {{1034, -0.4781, -0.002692, 4.725e-06, 1.311, -0.006876, 4.805e-05, 1.69e-08, 7.49e-05,
      7.855e-05, -3.995e-07, 4.982e-09, -0.0001062, 1.229e-06, -1.153e-08, -9.623e-07, -7.211e-08,
      4.891e-08}},
    // heat capacity
    {{3737, 2.93, -0.004675, -1.389e-05, -17.99, 0.1046, -0.0004147, 1.847e-07, -0.09933, 0.0003516,
      5.109e-06, -7.138e-08, 0.00261, -1.189e-06, -1.643e-07, 1.537e-05, -4.272e-07, -1.618e-06}},
    // conductivity
    {{0.472, 0.0008903, -1.058e-06, -2.789e-09, -0.004286, -1.473e-05, 1.059e-07, -1.142e-10,
      1.747e-05, 6.814e-08, -3.612e-09, 2.365e-12, 3.017e-08, -2.412e-09, 4.004e-11, -1.322e-09,
      2.555e-11, 2.678e-11}},
    // ln viscosity
    {{0.4705, -0.0255, 0.0001782, -7.669e-07, 0.02471, -0.0001171, 1.052e-06, -1.634e-08, 3.328e-06,
      1.086e-06, 1.051e-08, -6.475e-10, 1.659e-06, 3.157e-09, 4.063e-10, 3.089e-08, 1.831e-10,
      -1.865e-09}},
};

double melinder_sum(const std::array<double, 18> &c, double x, double t) {
    static constexpr std::array<int, 6> temperature_terms{4, 4, 4, 3, 2, 1};
    double sum = 0.0;
    double x_power = 1.0;
    std::size_t next = 0;
    for (int terms : temperature_terms) {
        double t_power = 1.0;
        for (int j = 0; j < terms; ++j) {
            sum += c[next++] * x_power * t_power;
            t_power *= t;
        }
        x_power *= x;
    }
    return sum;
}

const MelinderTable &melinder_table(FluidKind kind) {
    return kind == FluidKind::PropyleneGlycol ? propylene : ethylene;
}

FluidState glycol_state(const Fluid &fluid, double temperature_c) {
    const MelinderTable &table = melinder_table(fluid.kind);
    const double x = 100.0 * fluid.glycol_mass_share - table.mean_share_percent;
    const double t =
        std::clamp(temperature_c, freezing_point_c(fluid), 100.0) - table.mean_temperature_c;
    return {melinder_sum(table.density, x, t),
            1e-3 * std::exp(melinder_sum(table.ln_viscosity, x, t)),
            melinder_sum(table.heat_capacity, x, t), melinder_sum(table.conductivity, x, t)};
}

} // namespace

double freezing_point_c(const Fluid &fluid) {
    if (fluid.kind != FluidKind::PropyleneGlycol && fluid.kind != FluidKind::EthyleneGlycol)
        return 0.0;
    const MelinderTable &table = melinder_table(fluid.kind);
    // The freezing curve depends on the share alone; its temperature terms are fit residue.
    return melinder_sum(table.freezing, 100.0 * fluid.glycol_mass_share - table.mean_share_percent,
                        0.0);
}

FluidState fluid_state(const Fluid &fluid, double temperature_c) {
    switch (fluid.kind) {
    case FluidKind::Water:
        return water_state(temperature_c);
    case FluidKind::Stated: {
        FluidState state = water_state(temperature_c);
        state.density_kg_m3 = fluid.stated_density_kg_m3;
        state.viscosity_pa_s = fluid.stated_viscosity_pa_s;
        return state;
    }
    case FluidKind::PropyleneGlycol:
    case FluidKind::EthyleneGlycol:
        break;
    }
    return glycol_state(fluid, temperature_c);
}

namespace {

constexpr double pure_water_density = 998.2;

double pure_glycol_density(FluidKind kind) {
    return kind == FluidKind::PropyleneGlycol ? 1036.0 : 1113.0;
}

} // namespace

double glycol_mass_share(FluidKind kind, double volume_share) {
    const double glycol_mass = volume_share * pure_glycol_density(kind);
    return glycol_mass / (glycol_mass + (1.0 - volume_share) * pure_water_density);
}

double glycol_volume_share(FluidKind kind, double mass_share) {
    const double glycol_volume = mass_share / pure_glycol_density(kind);
    return glycol_volume / (glycol_volume + (1.0 - mass_share) / pure_water_density);
}

std::string fluid_name(const Fluid &fluid) {
    std::array<char, 64> text{};
    switch (fluid.kind) {
    case FluidKind::Water:
        return "water";
    case FluidKind::Stated:
        std::snprintf(text.data(), text.size(), "liquid of %.6g kg/m3 and %.6g mPa s",
                      fluid.stated_density_kg_m3, fluid.stated_viscosity_pa_s * 1e3);
        return text.data();
    case FluidKind::PropyleneGlycol:
    case FluidKind::EthyleneGlycol:
        break;
    }
    std::snprintf(text.data(), text.size(), "water with %.3g %% %s glycol by mass",
                  100.0 * fluid.glycol_mass_share,
                  fluid.kind == FluidKind::PropyleneGlycol ? "propylene" : "ethylene");
    return text.data();
}

} // namespace headroom::models
