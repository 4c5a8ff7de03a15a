#include "models/saturation.hpp"

#include <cmath>

namespace headroom::models {
namespace {

// n1 to n10 of the quadratic.
constexpr double n1 = 0.11670521452767e4;
constexpr double n2 = -0.72421316703206e6;
constexpr double n3 = -0.17073846940092e2;
constexpr double n4 = 0.12020824702470e5;
constexpr double n5 = -0.32325550322333e7;
constexpr double n6 = 0.14915108613530e2;
constexpr double n7 = -0.48232657361591e4;
constexpr double n8 = 0.40511340542057e6;
constexpr double n9 = -0.23855557567849;
constexpr double n10 = 0.65017534844798e3;

constexpr double zero_c_in_k = 273.15;

} // namespace

double saturation_pressure_pa(double temperature_c) {
    const double kelvin = temperature_c + zero_c_in_k;
    const double t = kelvin + n9 / (kelvin - n10);
    const double a = t * t + n1 * t + n2;
    const double b = n3 * t * t + n4 * t + n5;
    const double c = n6 * t * t + n7 * t + n8;
    return 1e6 * std::pow(2.0 * c / (-b + std::sqrt(b * b - 4.0 * a * c)), 4.0);
}

double saturation_temperature_c(double pressure_pa) {
    const double b = std::pow(1e-6 * pressure_pa, 0.25);
    const double e = b * b + n3 * b + n6;
    const double f = n1 * b * b + n4 * b + n7;
    const double g = n2 * b * b + n5 * b + n8;
    const double d = 2.0 * g / (-f - std::sqrt(f * f - 4.0 * e * g));
    const double sum = n10 + d;
    return 0.5 * (sum - std::sqrt(sum * sum - 4.0 * (n9 + n10 * d))) - zero_c_in_k;
}

} // namespace headroom::models
