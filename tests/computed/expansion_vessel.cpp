// Expansion of water from IAPWS-IF97 densities at 0.2 MPa, by python3 iapws; vessels by hand from
// the formula of EN 12828 annex D as remembered; the older form from a printed boiler manual.
#include "models/expansion_vessel.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("Water grows from 10 degC as its density in IAPWS-IF97 falls") {
    struct Row {
        double hot_c, percent;
    };
    for (const Row &row :
         {Row{30, 0.40702698565233675}, Row{40, 0.7539547406678615}, Row{50, 1.179880767785213},
          Row{60, 1.6775990214138448}, Row{70, 2.2423243988096475}, Row{80, 2.870993447815784},
          Row{90, 3.5618657600156034}}) {
        INFO(row.hot_c << " degC");
        // Densities here are fitted to 1.2e-6, so that a difference of two is off by 2.4e-4 %.
        CHECK_THAT(100.0 * expansion_share({}, 10.0, row.hot_c),
                   agrees_with(row.percent, 0.0, "python3 iapws, 0.2 MPa", 2.4e-4));
    }
}

TEST_CASE("Vessels are those worked by hand from the remembered formula of EN 12828") {
    struct Row {
        double system_l, expansion, static_bar, taken_l, vessel_l;
    };
    for (const Row &row :
         {Row{150, 0.0287, 0.5, 7.305, 15.0397}, Row{150, 0.0118, 0.5, 4.77, 9.82059},
          Row{100, 0.0287, 1.0, 5.87, 17.12083}}) {
        INFO(row.system_l << " l, growth " << row.expansion);
        const VesselSize size =
            vessel_size({row.system_l * 1e-3, row.expansion, row.static_bar * 1e5, 3e5});
        CHECK_THAT((size.expansion_m3 + size.reserve_m3) * 1e3,
                   agrees_with(row.taken_l, 1e-12, "by hand"));
        CHECK_THAT(size.volume_m3 * 1e3,
                   agrees_with(row.vessel_l, 0.0, "by hand, EN 12828 annex D from memory", 5e-5));
    }
}

TEST_CASE("Without a reserve the vessel is that of the older form V = e C / (1 - p_i / p_f)") {
    // 600 l, e 0.035, 2.3 and 4.0 bar absolute: 49.41 l, data of a printed boiler manual.
    const VesselSize size = vessel_size({0.6, 0.035, 1.0e5, 3.5e5});
    const double without_reserve_l =
        1e3 * size.volume_m3 * size.expansion_m3 / (size.expansion_m3 + size.reserve_m3);
    CHECK_THAT(without_reserve_l, agrees_with(49.41, 0.0, "printed boiler manual", 0.005));
}
