#include "models/cop_regression.hpp"

namespace headroom::models {
namespace {

struct Quadratic {
    double constant, linear, square;
    double least_lift_k, greatest_lift_k;
};

RegressionCop at_lift(const Quadratic &fit, double lift_k) {
    const HeldValue lift = held_within(lift_k, fit.least_lift_k, fit.greatest_lift_k);
    return {fit.constant + lift.value * (fit.linear + lift.value * fit.square), lift.status};
}

} // namespace

RegressionCop staffell_2012_air_cop(double lift_k) {
    return at_lift({6.81, -0.121, 0.000630, 15.0, 60.0}, lift_k);
}

RegressionCop staffell_2012_ground_cop(double lift_k) {
    return at_lift({8.77, -0.150, 0.000734, 20.0, 60.0}, lift_k);
}

RegressionCop ruhnau_2019_air_cop(double lift_k) {
    return at_lift({6.08, -0.09, 0.0005, 15.0, 60.0}, lift_k);
}

RegressionCop ruhnau_2019_ground_cop(double lift_k) {
    return at_lift({10.29, -0.21, 0.0012, 15.0, 60.0}, lift_k);
}

} // namespace headroom::models
