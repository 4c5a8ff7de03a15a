#include "models/expansion_vessel.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace headroom::models;
using Catch::WithinAbs;
using Catch::WithinRel;

TEST_CASE("In the least vessel the least and the greatest fill pressure are one") {
    for (const double system_m3 : {0.05, 0.15, 1.2}) {
        const VesselSize size = vessel_size({system_m3, 0.0168, 0.5e5, 3e5});
        const FillRange range = fill_range(size, size.volume_m3);
        CHECK_THAT(range.least_pa, WithinRel(range.most_pa, 1e-10));
        const FillRange roomy = fill_range(size, 1.5 * size.volume_m3);
        CHECK(roomy.least_pa < range.least_pa);
        CHECK(roomy.most_pa > range.most_pa);
    }
}

TEST_CASE("Filled to its greatest pressure a vessel reaches the final pressure when hot") {
    const VesselSize size = vessel_size({0.15, 0.0287, 0.5e5, 3e5});
    const FillRange range = fill_range(size, 0.025);
    CHECK_THAT(pressure_when_hot_pa(size, 0.025, range.most_pa), WithinRel(size.final_pa, 1e-12));
    CHECK(pressure_when_hot_pa(size, 0.025, range.least_pa) < size.final_pa);
}

TEST_CASE("A vessel squeezed out, or one precharged as high as the valve opens, has no end") {
    const VesselSize size = vessel_size({1.0, 0.03, 0.5e5, 3e5});
    CHECK(std::isinf(pressure_when_hot_pa(size, 0.02, 1e5)));
    CHECK(std::isinf(vessel_size({0.15, 0.02, 2.3e5, 3e5}).volume_m3));
}

TEST_CASE("The reserve is three litres at least, the precharge 0.7 bar at least") {
    const VesselSize small = vessel_size({0.1, 0.02, 0.0, 3e5});
    CHECK_THAT(small.reserve_m3, WithinRel(3e-3, 1e-15));
    CHECK_THAT(small.precharge_pa, WithinAbs(0.7e5, 1e-9));
    const VesselSize large = vessel_size({1.0, 0.02, 1.0e5, 6e5});
    CHECK_THAT(large.reserve_m3, WithinRel(5e-3, 1e-15));
    CHECK_THAT(large.precharge_pa, WithinAbs(1.3e5, 1e-9));
    CHECK_THAT(large.final_pa, WithinAbs(5.4e5, 1e-9)); // a tenth below 6 bar
}

TEST_CASE("Glycol by volume and by mass lead back to each other, and it grows more than water") {
    for (const auto kind : {FluidKind::PropyleneGlycol, FluidKind::EthyleneGlycol})
        for (const double share : {0.1, 0.25, 0.5})
            CHECK_THAT(glycol_volume_share(kind, glycol_mass_share(kind, share)),
                       WithinRel(share, 1e-14));
    const Fluid glycol{FluidKind::PropyleneGlycol, 0.25};
    CHECK(expansion_share(glycol, 10.0, 50.0) > expansion_share({}, 10.0, 50.0));
    CHECK(expansion_share({}, 40.0, 40.0) == 0.0);
}
