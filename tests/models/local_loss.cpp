#include "models/local_loss.hpp"

#include "models/units.hpp"
#include "tests/support/derivative_check.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;
using Catch::WithinAbs;
using Catch::WithinRel;

namespace {
const std::vector<double> resistances{1.0, 3.0e4, 2.0e8, 1.0e12};
}

TEST_CASE("A loss coefficient loses zeta rho v^2/2") {
    const double density = 992.0;
    const double flow = 0.15;
    const double velocity = flow / (density * bore_area_m2(0.0202));
    CHECK_THAT(zeta_resistance(2.5, 0.0202, density) * flow * flow,
               WithinRel(2.5 * density * velocity * velocity / 2.0, 1e-13));
}

TEST_CASE("A negative loss coefficient is a negative resistance of the same size") {
    CHECK(zeta_resistance(-0.4, 0.02, 1000.0) == -zeta_resistance(0.4, 0.02, 1000.0));
}

TEST_CASE("A valve at its Kv loses one bar of water of 1000 kg/m3") {
    const double flow = 2.5 * 1000.0 / 3600.0;
    CHECK_THAT(kv_resistance(2.5, 1000.0) * flow * flow, WithinRel(1e5, 1e-13));
}

TEST_CASE("A valve's loss at a volume flow is proportional to density") {
    const auto loss_at = [](double density) {
        const double flow = 1.2 / 3600.0 * density;
        return kv_resistance(2.5, density) * flow * flow;
    };
    CHECK_THAT(loss_at(960.0) / loss_at(1000.0), WithinRel(0.96, 1e-13));
}

TEST_CASE("A Kv and its loss coefficient in a bore are the same resistance") {
    for (const double kv : {0.05, 0.6, 2.5, 40.0})
        for (const double bore : {0.0074, 0.0136, 0.0516}) {
            INFO("Kv " << kv << ", bore " << bore);
            CHECK_THAT(zeta_resistance(zeta_from_kv(kv, bore), bore, 985.0),
                       WithinRel(kv_resistance(kv, 985.0), 1e-13));
        }
}

TEST_CASE("The Kv found for a loss gives that loss back") {
    for (const double flow : {0.004, 0.08, 1.3})
        for (const double pressure : {50.0, 3000.0, 2e5}) {
            const double kv = kv_for_loss(flow, pressure, 988.0);
            INFO("flow " << flow << ", loss " << pressure);
            CHECK_THAT(kv_resistance(kv, 988.0) * flow * flow, WithinRel(pressure, 1e-13));
        }
}

TEST_CASE("The slope of the quadratic law is its derivative, forwards, backwards and at rest") {
    for (const double resistance : resistances) {
        const double m0 = std::sqrt(0.01 / resistance);
        INFO("resistance " << resistance);
        const auto law = [&](double flow) { return quadratic_loss(resistance, flow); };
        check_slopes(law, {0.0, 1e-3 * m0, -m0, m0, 30.0 * m0, -30.0 * m0, 1e3 * m0, -1e5 * m0},
                     m0);
    }
}

TEST_CASE("The quadratic law is odd and rises through rest") {
    for (const double resistance : resistances) {
        const double m0 = std::sqrt(0.01 / resistance);
        INFO("resistance " << resistance);
        const auto law = [&](double flow) { return quadratic_loss(resistance, flow); };
        for (const double flow : {0.0, 0.1 * m0, m0, 50.0 * m0}) {
            CHECK(law(-flow).pressure_pa == -law(flow).pressure_pa);
            CHECK(law(-flow).slope_pa_s_per_kg == law(flow).slope_pa_s_per_kg);
        }
        check_rises(law, spread(-20.0 * m0, 20.0 * m0, 401));
        check_content_is_convex(law, spread(-20.0 * m0, 20.0 * m0, 81));
    }
}

TEST_CASE("Softening at rest changes the quadratic law by no more than 0.005 Pa") {
    for (const double resistance : resistances) {
        const double m0 = std::sqrt(0.01 / resistance);
        INFO("resistance " << resistance);
        for (const double multiple : {0.1, 0.5, 1.0, 3.0, 10.0, 100.0, 1000.0}) {
            const double flow = multiple * m0;
            const double hard = resistance * flow * flow;
            CHECK_THAT(quadratic_loss(resistance, flow).pressure_pa,
                       WithinAbs(hard, 0.005 + 1e-14 * hard));
        }
    }
}

TEST_CASE("A fitting without resistance loses nothing") {
    const Loss none = quadratic_loss(0.0, 0.7);
    CHECK(none.pressure_pa == 0.0);
    CHECK(none.slope_pa_s_per_kg == 0.0);
}
