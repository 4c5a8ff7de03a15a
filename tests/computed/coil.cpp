// A mixed store heated through a coil by a source of one output: time as the integral of M c / Q(T)
// by adaptive quadrature of python3 scipy 1.10 (scipy.integrate.quad, split where the allowed flow
// temperature begins to hold the output back), not by the closed form. The heat a coil passes, by
// marching dT/dx = -UA/C (T - T_store) along it with scipy.integrate.solve_ivp at 1e-12.
#include "models/coil.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A store's heating time is the integral of its heat capacity over what the coil passes") {
    constexpr CoilInStore coil{877000.0, 900.0, 1200.0, 55.0};
    struct Row {
        double from_c, to_c, output_w, time_s;
    };
    for (const Row &row :
         {Row{10.0, 50.0, 6000.0, 6077.962848462481}, Row{45.0, 50.0, 6000.0, 962.1295151291486},
          Row{10.0, 40.0, 6000.0, 4385.0}, Row{10.0, 54.0, 3000.0, 13924.631460416173}}) {
        INFO(row.from_c << " to " << row.to_c << " degC at " << row.output_w << " W");
        CHECK_THAT(heating_time_s(coil, row.from_c, row.to_c, row.output_w),
                   agrees_with(row.time_s, 1e-10, "scipy.integrate.quad"));
    }
}

TEST_CASE("What a coil passes is what marching along it gives") {
    constexpr CoilInStore coil{877000.0, 900.0, 1200.0, 55.0};
    CHECK_THAT(coil_heat_w(coil, 50.0, 1e9),
               agrees_with(3165.800683547167, 1e-9, "scipy.integrate.solve_ivp"));
}
