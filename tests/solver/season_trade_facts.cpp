// What the trade holds of a year. Each is common practice, no source, put to a house not tuned for
// it.
#include "solver/questions/season.hpp"
#include "tests/support/one_radiator.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;

namespace {

double most_starts(const solver::SeasonAnswer &answer) {
    double most = 0.0;
    for (const solver::SeasonBin &bin : answer.with_curve.totals.bins)
        most = std::max(most, bin.cycle.starts_per_h);
    return most;
}

// A condensing boiler that turns down to a fifth of its output.
solver::SeasonAnswer with_boiler(double greatest_w, const std::string &more = "") {
    tests::OneRadiator house;
    house.source = "kind: boiler, greatest_output: " + std::to_string(greatest_w) +
                   " W, least_output: " + std::to_string(0.2 * greatest_w) + " W";
    house.more = "year: {climate: average}\n" + more;
    return solver::season(tests::house_of(house.text()));
}

} // namespace

TEST_CASE("a source four times too large cycles for most of the year") {
    const solver::SeasonAnswer fits = with_boiler(2300.0);
    const solver::SeasonAnswer large = with_boiler(4.0 * 2300.0);
    double cycling_h = 0.0;
    for (const solver::SeasonBin &bin : large.with_curve.totals.bins)
        if (bin.cycle.starts_per_h > 0.0)
            cycling_h += bin.hours;
    CHECK(cycling_h > 0.5 * large.with_curve.totals.hours);
    CHECK(large.with_curve.totals.starts > 4.0 * fits.with_curve.totals.starts);
    // On 36 l, most of it in the radiator: 5 K of it take 0.75 MJ, and a least output of 1840 W is
    // started at most P / (4 E) = 2.2 times an hour.
    CHECK(most_starts(large) == Approx(2.2).epsilon(0.02));
}

TEST_CASE("water added to a system that cycles makes starts fewer in proportion") {
    const solver::SeasonAnswer bare = with_boiler(9200.0, "cycling: {added_water: 0 l}\n");
    const solver::SeasonAnswer buffered = with_boiler(9200.0, "cycling: {added_water: 100 l}\n");
    const double ratio = (bare.store.held_water_m3 + 0.1) / bare.store.held_water_m3;
    CHECK(most_starts(bare) == Approx(ratio * most_starts(buffered)).epsilon(1e-6));
}

TEST_CASE("5 K less in the flow raises a heat pump's seasonal COP") {
    for (const char *example :
         {"warm-floor.yaml", "direct-16mm.yaml", "microbore-radiators.yaml"}) {
        const solver::SeasonAnswer answer = solver::season(tests::example_house(example));
        CHECK(answer.turned_down.totals.seasonal_performance >
              answer.with_curve.totals.seasonal_performance);
    }
}

TEST_CASE("a heat pump on a weather curve beats one held at its design temperature") {
    for (const char *example :
         {"warm-floor.yaml", "direct-16mm.yaml", "microbore-radiators.yaml"}) {
        const solver::SeasonAnswer answer = solver::season(tests::example_house(example));
        CHECK(answer.with_curve.totals.seasonal_performance >
              answer.fixed.totals.seasonal_performance);
    }
}
