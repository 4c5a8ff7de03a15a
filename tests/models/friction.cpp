#include "models/friction.hpp"

#include "tests/support/derivative_check.hpp"
#include "tests/support/friction_factor.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinRel;

namespace {

struct NamedTransition {
    Transition transition;
    const char *name;
};

const std::vector<NamedTransition> transitions{
    {Transition::Early, "early"}, {Transition::Middle, "middle"}, {Transition::Late, "late"}};
const std::vector<double> roughnesses{0.0,  1e-6, 1e-5, 1e-4,  1e-3, 2e-3,
                                      5e-3, 0.01, 0.02, 0.035, 0.05};
const std::vector<double> curvatures{0.0,  1e-6, 1e-5, 1e-4, 5e-4, 1e-3, 2e-3, 5e-3, 0.01,
                                     0.02, 0.04, 0.06, 0.08, 0.1,  0.12, 0.15, 0.18, 0.2};

struct Case {
    FrictionCurve curve;
    std::string text;
};

/// Every roughness in every bend at every transition.
std::vector<Case> all_cases() {
    std::vector<Case> cases;
    for (const auto &[transition, name] : transitions)
        for (const double roughness : roughnesses)
            for (const double curvature : curvatures)
                cases.push_back({friction_curve(roughness, curvature, transition),
                                 std::string(name) + " transition, relative roughness " +
                                     std::to_string(roughness) + ", curvature " +
                                     std::to_string(curvature)});
    return cases;
}

HagenNumber hagen(const FrictionCurve &curve, double reynolds) {
    double inverse_root = 0.0;
    return hagen_number(curve, reynolds, inverse_root);
}

/// The Hagen number as a law, so that the shared checks apply: Re in place of flow.
auto as_law(const FrictionCurve &curve) {
    return [&curve](double reynolds) {
        const HagenNumber number = hagen(curve, reynolds);
        return Loss{number.value, number.slope};
    };
}

/// Reynolds numbers from rest to a million, thick within the transition and at its ends.
std::vector<double> reynolds_sweep(const FrictionCurve &curve) {
    std::vector<double> sweep = spread(0.0, curve.laminar_until, 60);
    const std::vector<double> band = spread(curve.laminar_until, curve.turbulent_from, 202);
    sweep.insert(sweep.end(), band.begin() + 1, band.end());
    for (double re = 1.02 * curve.turbulent_from; re < 1e6; re *= 1.1)
        sweep.push_back(re);
    return sweep;
}

} // namespace

TEST_CASE("In laminar flow of a straight pipe the Hagen number is 32 Re") {
    for (const auto &[transition, name] : transitions) {
        const FrictionCurve curve = friction_curve(0.01, 0.0, transition);
        for (const double reynolds : {0.0, 1e-9, 1.0, 500.0, 2000.0}) {
            INFO(name << " transition, Re " << reynolds);
            CHECK(hagen(curve, reynolds).value == 32.0 * reynolds);
            CHECK(hagen(curve, reynolds).slope == 32.0);
        }
    }
}

TEST_CASE("The Colebrook root satisfies Colebrook's equation") {
    for (const double roughness : roughnesses)
        for (const double reynolds : {100.0, 2300.0, 4000.0, 1e4, 1e5, 1e6, 1e8}) {
            const double x = colebrook_inverse_root(reynolds, roughness);
            INFO("Re " << reynolds << ", relative roughness " << roughness);
            CHECK_THAT(x,
                       WithinRel(-2.0 * std::log10(roughness / 3.7 + 2.51 * x / reynolds), 1e-13));
        }
}

TEST_CASE("The Colebrook root does not depend on the guess it starts from") {
    for (const double guess : {0.5, 3.0, 5.0, 7.0, 12.0, 40.0}) {
        INFO("guess " << guess);
        CHECK_THAT(colebrook_inverse_root(4500.0, 1e-3, guess),
                   WithinRel(colebrook_inverse_root(4500.0, 1e-3), 1e-13));
        CHECK_THAT(colebrook_inverse_root(2e5, 0.0, guess),
                   WithinRel(colebrook_inverse_root(2e5, 0.0), 1e-13));
    }
}

TEST_CASE("A turbulent friction curve carries the Colebrook factor") {
    for (const double roughness : roughnesses) {
        const FrictionCurve curve = friction_curve(roughness, 0.0, Transition::Middle);
        for (const double reynolds : {4000.0, 4600.0, 2e4, 1e6}) {
            INFO("Re " << reynolds << ", relative roughness " << roughness);
            CHECK_THAT(friction_factor(curve, reynolds),
                       WithinRel(colebrook_friction_factor(reynolds, roughness), 1e-12));
        }
    }
}

TEST_CASE("Value and slope agree on both sides of each end of the transition") {
    for (const Case &item : all_cases()) {
        INFO(item.text);
        for (const double join : {item.curve.laminar_until, item.curve.turbulent_from}) {
            INFO("join at Re " << join);
            const HagenNumber below = hagen(item.curve, std::nextafter(join, 0.0));
            const HagenNumber above = hagen(item.curve, std::nextafter(join, 1e9));
            CHECK_THAT(below.value, WithinRel(above.value, 1e-9));
            CHECK_THAT(below.slope, WithinRel(above.slope, 1e-9));
        }
    }
}

TEST_CASE("Value and slope agree on both sides of the flow at which a bend is first felt") {
    for (const double curvature : {1e-3, 0.04, 0.2}) {
        const FrictionCurve curve = friction_curve(0.0, curvature, Transition::Middle);
        const double onset = 11.6 / std::sqrt(curvature);
        INFO("curvature " << curvature);
        const HagenNumber below = hagen(curve, onset * (1.0 - 1e-13));
        const HagenNumber above = hagen(curve, onset * (1.0 + 1e-13));
        CHECK_THAT(below.value, WithinRel(above.value, 1e-9));
        CHECK_THAT(below.slope, WithinRel(above.slope, 1e-9));
    }
}

TEST_CASE("f Re^2 rises strictly for every roughness, bend and transition") {
    for (const Case &item : all_cases()) {
        INFO(item.text);
        check_rises(as_law(item.curve), reynolds_sweep(item.curve));
    }
}

TEST_CASE("The slope of the Hagen number is its derivative from rest to a million") {
    for (const Case &item : all_cases()) {
        INFO(item.text);
        std::vector<double> within;
        for (const double reynolds : {1.0, 50.0, 400.0, 1500.0, 1e5, 1e6})
            within.push_back(reynolds);
        for (const double share : {0.01, 0.2, 0.5, 0.8, 0.99})
            within.push_back(item.curve.laminar_until +
                             share * (item.curve.turbulent_from - item.curve.laminar_until));
        for (const double factor : {1.01, 1.5, 3.0})
            within.push_back(factor * item.curve.turbulent_from);
        check_slopes(as_law(item.curve), within, 1e-3);
    }
}

TEST_CASE("The slope of the Hagen number is its derivative at the ends of the transition") {
    // The curvature of the law jumps there, which puts the difference off by a quarter of step
    // times jump: with a step of 1e-8 of the Reynolds number, below 1e-5 of the slope.
    for (const Case &item : all_cases()) {
        INFO(item.text);
        for (const double join : {item.curve.laminar_until, item.curve.turbulent_from})
            check_slope(as_law(item.curve), join, 1e-8 * join, 1e-5);
    }
}

TEST_CASE("An earlier transition never loses less than a later one") {
    for (const double roughness : roughnesses)
        for (const double curvature : curvatures) {
            const FrictionCurve early = friction_curve(roughness, curvature, Transition::Early);
            const FrictionCurve middle = friction_curve(roughness, curvature, Transition::Middle);
            const FrictionCurve late = friction_curve(roughness, curvature, Transition::Late);
            for (const double reynolds :
                 spread(0.9 * early.laminar_until, 1.1 * late.turbulent_from, 301)) {
                INFO("Re " << reynolds << ", relative roughness " << roughness << ", curvature "
                           << curvature);
                const double rounding = 1e-12 * hagen(middle, reynolds).value;
                CHECK(hagen(early, reynolds).value >= hagen(middle, reynolds).value - rounding);
                CHECK(hagen(middle, reynolds).value >= hagen(late, reynolds).value - rounding);
            }
        }
}

TEST_CASE("A warm start carried along a sweep changes no Hagen number") {
    const FrictionCurve curve = friction_curve(1e-3, 0.0, Transition::Middle);
    double carried = 0.0;
    for (const double reynolds : {100.0, 3000.0, 5000.0, 2e4, 8e5, 4100.0, 3999.0, 6e3}) {
        INFO("Re " << reynolds);
        CHECK_THAT(hagen_number(curve, reynolds, carried).value,
                   WithinRel(hagen(curve, reynolds).value, 1e-13));
    }
}

TEST_CASE("A bend is not felt below a Dean number of 11.6") {
    const FrictionCurve bend = friction_curve(0.0, 0.04, Transition::Middle);
    CHECK(friction_factor(bend, 57.0) == 64.0 / 57.0);
    CHECK(friction_factor(bend, 60.0) > 64.0 / 60.0);
}

TEST_CASE("Turbulent flow in a bend has the straight pipe's factor and 0.029 sqrt(curvature)") {
    for (const double curvature : {0.005, 0.04, 0.2})
        for (const double roughness : {0.0, 1e-3}) {
            const FrictionCurve curve = friction_curve(roughness, curvature, Transition::Middle);
            const double reynolds = 1.6 * curve.turbulent_from;
            INFO("curvature " << curvature << ", relative roughness " << roughness);
            CHECK_THAT(friction_factor(curve, reynolds),
                       WithinRel(colebrook_friction_factor(reynolds, roughness) +
                                     0.029 * std::sqrt(curvature),
                                 1e-12));
        }
}

TEST_CASE("A tighter bend loses more, in laminar and in turbulent flow") {
    double laminar = 64.0 / 1500.0;
    double turbulent = colebrook_friction_factor(3e4, 1e-4);
    for (const double curvature : {0.001, 0.01, 0.04, 0.1, 0.2}) {
        const FrictionCurve curve = friction_curve(1e-4, curvature, Transition::Middle);
        INFO("curvature " << curvature);
        CHECK(friction_factor(curve, 1500.0) > laminar);
        CHECK(friction_factor(curve, 3e4) > turbulent);
        laminar = friction_factor(curve, 1500.0);
        turbulent = friction_factor(curve, 3e4);
    }
}

TEST_CASE("A tighter bend stays laminar longer, and none turns before a straight pipe") {
    CHECK(curved_critical_reynolds(0.0) == 2300.0);
    CHECK(curved_critical_reynolds(1e-4) == 2300.0);
    double before = 2300.0;
    for (const double curvature : {0.005, 0.01, 0.04, 0.1, 0.2}) {
        INFO("curvature " << curvature);
        CHECK(curved_critical_reynolds(curvature) > before);
        before = curved_critical_reynolds(curvature);
    }
}

TEST_CASE("A stated friction factor gives f Re^2 / 2 at every flow") {
    const FrictionCurve curve = constant_friction(0.024);
    for (const double reynolds : {0.0, 10.0, 3000.0, 1e6}) {
        CHECK_THAT(hagen(curve, reynolds).value, WithinRel(0.012 * reynolds * reynolds, 1e-15));
        CHECK_THAT(hagen(curve, reynolds).slope, WithinRel(0.024 * reynolds, 1e-15));
    }
}
