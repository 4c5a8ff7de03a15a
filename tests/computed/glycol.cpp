// Melinder's 2010 polynomials for glycol mixtures, evaluated term by term in double precision with
// python3 from the coefficients as published in a general property library, and printed to the
// digits below. They check that the coefficients were taken over whole.
#include "models/fluid.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace headroom::models;
using namespace headroom::tests;

namespace {

struct Row {
    FluidKind kind;
    double mass_percent, temperature_c, freezing_c, density, heat_capacity, conductivity, viscosity;
};

const std::vector<Row> rows{
    {FluidKind::PropyleneGlycol, 25.0, 0.0, -9.7854, 1025.8133, 3872.1504, 0.449553, 5.515056},
    {FluidKind::PropyleneGlycol, 25.0, 20.0, -9.7854, 1019.2776, 3920.4675, 0.467852, 2.445232},
    {FluidKind::PropyleneGlycol, 25.0, 35.0, -9.7854, 1012.4794, 3956.6707, 0.481389, 1.541743},
    {FluidKind::PropyleneGlycol, 25.0, 50.0, -9.7854, 1004.3783, 3992.3811, 0.494619, 1.072605},
    {FluidKind::PropyleneGlycol, 40.0, -10.0, -20.5682, 1046.4009, 3608.5959, 0.381887, 22.241360},
    {FluidKind::PropyleneGlycol, 10.0, 60.0, -2.8670, 989.8089, 4130.3436, 0.590179, 0.613657},
    {FluidKind::EthyleneGlycol, 25.0, 0.0, -10.9665, 1037.0196, 3762.8511, 0.464821, 3.697575},
    {FluidKind::EthyleneGlycol, 25.0, 20.0, -10.9665, 1031.0478, 3810.7037, 0.485916, 1.898944},
    {FluidKind::EthyleneGlycol, 25.0, 35.0, -10.9665, 1024.9011, 3845.8878, 0.500831, 1.279688},
    {FluidKind::EthyleneGlycol, 25.0, 50.0, -10.9665, 1017.4326, 3880.0756, 0.514923, 0.929061},
    {FluidKind::EthyleneGlycol, 40.0, -10.0, -23.8129, 1063.8255, 3389.8195, 0.402190, 9.050688},
    {FluidKind::EthyleneGlycol, 10.0, 60.0, -3.3572, 995.2320, 4083.0546, 0.599613, 0.563379}};

} // namespace

TEST_CASE("Glycol mixtures follow Melinder's polynomials in share and temperature") {
    for (const Row &row : rows) {
        const Fluid fluid{row.kind, row.mass_percent / 100.0};
        const FluidState state = fluid_state(fluid, row.temperature_c);
        INFO(fluid_name(fluid) << ", " << row.temperature_c << " degC");
        const std::string source = "polynomials of Melinder 2010 evaluated with python3";
        CHECK_THAT(state.density_kg_m3, agrees_with(row.density, 1e-7, source));
        CHECK_THAT(state.heat_capacity_j_kg_k, agrees_with(row.heat_capacity, 1e-7, source));
        CHECK_THAT(state.conductivity_w_m_k, agrees_with(row.conductivity, 2e-6, source));
        CHECK_THAT(state.viscosity_pa_s, agrees_with(1e-3 * row.viscosity, 1e-6, source));
        CHECK_THAT(freezing_point_c(fluid), agrees_with(row.freezing_c, 1e-9, source, 6e-5));
    }
}
