// Outlet and output of a 1000 W radiator at reduced flow, solved apart with scipy 1.10.1 as the
// ordinary differential equation m c dT/dx = -k (T - room)^1.3.
#include "models/radiator.hpp"

#include <array>
#include <catch2/catch.hpp>

using namespace headroom::models;

TEST_CASE("a radiator at low flow follows the plug-flow equation") {
    struct Row {
        double share, out_c, output_w;
    };
    constexpr std::array rows{Row{1.0, 65.0, 1000.0}, Row{0.5, 57.2402, 887.99},
                              Row{0.25, 46.2672, 718.32}, Row{0.10, 31.0035, 439.97},
                              Row{2.0, 69.6743, 1065.14}};
    const Radiator radiator{1000.0};
    const double c = 4187.0;
    const double full_flow = 1000.0 / (c * 10.0);
    for (const Row &row : rows) {
        INFO("share " << row.share);
        const RadiatorState state = radiator_state(radiator, 75.0, 20.0, row.share * full_flow, c);
        CHECK(state.out_c == Approx(row.out_c).margin(1e-4));
        CHECK(state.output_w == Approx(row.output_w).margin(0.01));
    }
}
