#include "models/boiler.hpp"

#include "models/flue_gas.hpp"

#include <catch2/catch.hpp>

#include <initializer_list>

using namespace headroom::models;
using Catch::WithinRel;

namespace {

// Invented.
Boiler condensing_boiler() {
    Boiler boiler{20000.0};
    boiler.least_w = 5000.0;
    boiler.case_loss_share = 0.004;
    return boiler;
}

Boiler dry_boiler() {
    Boiler boiler{20000.0};
    boiler.condensing = false;
    boiler.approach_k = 80.0;
    return boiler;
}

} // namespace

TEST_CASE("The gas burnt covers output and case loss at the flue's efficiency") {
    const Boiler boiler = condensing_boiler();
    for (const double heat : {1000.0, 5000.0, 12000.0, 20000.0})
        for (const double back : {25.0, 40.0, 60.0}) {
            const BoilerState state = boiler_state(boiler, back, heat);
            INFO("heat " << heat << " W, return " << back << " degC");
            CHECK(state.output_w == heat);
            CHECK_THAT(state.gas_w * flue_efficiency(back + 7.5, 1.25, true).gross,
                       WithinRel(heat + 80.0, 1e-13));
            CHECK_THAT(state.efficiency, WithinRel(heat / state.gas_w, 1e-14));
            CHECK(state.efficiency < flue_efficiency(back + 7.5, 1.25, true).gross);
        }
}

TEST_CASE("A condensing boiler gains as its return cools and most below its dew point") {
    const Boiler boiler = condensing_boiler();
    double before = 0.0;
    for (double back = 90.0; back >= 20.0; back -= 0.5) {
        const double efficiency = boiler_state(boiler, back, 10000.0).efficiency;
        INFO("return " << back << " degC");
        CHECK(efficiency > before);
        before = efficiency;
    }
    const auto at = [&](double back) { return boiler_state(boiler, back, 10000.0).efficiency; };
    CHECK(at(30.0) - at(40.0) > 5.0 * (at(60.0) - at(70.0)));
}

TEST_CASE("Condensate starts where return and approach reach the dew point") {
    const Boiler boiler = condensing_boiler();
    const double start = flue_dew_point_c(boiler.air_ratio) - boiler.approach_k;
    CHECK(boiler_state(boiler, start + 0.1, 10000.0).condensate_share == 0.0);
    CHECK(boiler_state(boiler, start - 0.1, 10000.0).condensate_share > 0.0);
}

TEST_CASE("A boiler modulates, cycles, falls short or is off by the heat asked of it") {
    const Boiler boiler = condensing_boiler();
    CHECK(boiler_state(boiler, 40.0, 5000.0).load == LoadStatus::Modulates);
    CHECK(boiler_state(boiler, 40.0, 20000.0).load == LoadStatus::Modulates);

    const BoilerState little = boiler_state(boiler, 40.0, 1000.0);
    CHECK(little.load == LoadStatus::Cycles);
    CHECK(little.output_w == 1000.0);

    const BoilerState much = boiler_state(boiler, 40.0, 26000.0);
    CHECK(much.load == LoadStatus::FallsShort);
    CHECK(much.output_w == 20000.0);
    CHECK(much.short_w == 6000.0);

    for (const double none : {0.0, -1.0}) {
        const BoilerState off = boiler_state(boiler, 40.0, none);
        CHECK(off.load == LoadStatus::Off);
        CHECK(off.output_w == 0.0);
        CHECK(off.gas_w == 0.0);
        CHECK(off.efficiency == 0.0);
        CHECK(off.short_w == 0.0);
    }
}

TEST_CASE("A case that loses heat costs more of a small load than of a large one") {
    const Boiler boiler = condensing_boiler();
    double before = 0.0;
    for (double heat = 500.0; heat <= 20000.0; heat += 500.0) {
        const double efficiency = boiler_state(boiler, 40.0, heat).efficiency;
        CHECK(efficiency > before);
        before = efficiency;
    }
    Boiler tight = boiler;
    tight.case_loss_share = 0.0;
    CHECK_THAT(boiler_state(tight, 40.0, 500.0).efficiency,
               WithinRel(boiler_state(tight, 40.0, 20000.0).efficiency, 1e-14));
}

TEST_CASE("A boiler that must not condense never recovers latent heat") {
    const BoilerState warm = boiler_state(dry_boiler(), 60.0, 10000.0);
    CHECK(warm.condensate_share == 0.0);
    CHECK(warm.efficiency < 0.87);
    Boiler close = dry_boiler();
    close.approach_k = 20.0;
    const BoilerState cold = boiler_state(close, 25.0, 10000.0);
    CHECK(cold.condensate_share == 0.0);
    CHECK(cold.efficiency < methane_net_j_mol / methane_gross_j_mol);
}

TEST_CASE("A return too cold or too hot for the relation is held and said to be") {
    const Boiler boiler = condensing_boiler();
    const BoilerState cold = boiler_state(boiler, 8.0, 10000.0);
    CHECK(cold.flue == RangeStatus::Below);
    CHECK(cold.efficiency == boiler_state(boiler, 17.5, 10000.0).efficiency);
    CHECK(boiler_state(boiler, 50.0, 10000.0).flue == RangeStatus::Inside);
    Boiler hot = dry_boiler();
    hot.approach_k = 220.0;
    CHECK(boiler_state(hot, 60.0, 10000.0).flue == RangeStatus::Above);
}
