// Weather curves and a year integrated by hand over three outdoor temperatures, in Python 3.11 with
// scipy 1.10.1 (one root), for a house of one radiator that loses 100 W/K at 20 degC inside.
#include "solver/questions/season.hpp"
#include "tests/support/one_radiator.hpp"

#include <catch2/catch.hpp>
#include <vector>

using namespace headroom;

namespace {

constexpr const char *three_hours =
    "year: {hours: [[-3 degC, 100 h], [2 degC, 1000 h], [7 degC, 500 h]]}\n";

double flow_at(const tests::OneRadiator &radiator, double outdoor_c) {
    return solver::at_outdoor(solver::heating_house(tests::house_of(radiator.text())), outdoor_c,
                              {})
        .source_c;
}

} // namespace

TEST_CASE("the curve of a linear emitter is the straight line of its design day") {
    // flow = 20 + 20 x, x = (20 - outdoor)/23. Heat capacity is taken at the water's own mean,
    // which varies by 0.1 % over the year: within 0.02 K.
    tests::OneRadiator linear;
    linear.exponent = "1.0";
    const std::vector<std::pair<double, double>> rows{
        {-3.0, 40.0}, {0.0, 37.391}, {5.0, 33.043}, {10.0, 28.696}, {15.0, 24.348}};
    for (const auto &[outdoor_c, flow_c] : rows)
        CHECK(flow_at(linear, outdoor_c) == Approx(flow_c).margin(0.02));
}

TEST_CASE("the curve of a radiator at the flow of its design day is that of plug flow") {
    // (out - room)^-0.3 - (in - room)^-0.3 stays what it is at 55/45/20; within 0.02 K as above.
    // The usual formula on arithmetic means gives 51.290, 44.854, 37.982, 30.362: up to 0.06 K
    // more.
    tests::OneRadiator panel;
    panel.sent = "55 degC";
    panel.drop = "10 K";
    panel.rated_at = "55/45/20";
    const std::vector<std::pair<double, double>> rows{
        {-3.0, 55.0}, {0.0, 51.2719}, {5.0, 44.8130}, {10.0, 37.9276}, {15.0, 30.3116}};
    for (const auto &[outdoor_c, flow_c] : rows)
        CHECK(flow_at(panel, outdoor_c) == Approx(flow_c).margin(0.02));
}

TEST_CASE("a radiator without a rating has the curve of one rated at its design temperatures") {
    tests::OneRadiator panel;
    panel.sent = "55 degC";
    panel.drop = "10 K";
    panel.rated_at = "55/45/20";
    tests::OneRadiator unrated = panel;
    unrated.rated_at = "";
    for (const double outdoor_c : {-3.0, 5.0, 15.0})
        CHECK(flow_at(unrated, outdoor_c) == Approx(flow_at(panel, outdoor_c)).margin(1e-6));
}

TEST_CASE("a year of three outdoor temperatures is that integrated by hand") {
    // Heat 100 (15.5 - T) W; COP 0.42 (flow + 273.15)/(flow - T) on the line above, and at 40 degC
    // held. Curves agree to 0.02 K, so COPs to 0.1 %.
    tests::OneRadiator linear;
    linear.exponent = "1.0";
    linear.more = three_hours;
    const solver::SeasonAnswer answer = solver::season(tests::house_of(linear.text()));
    const solver::SeasonTotals &curve = answer.with_curve.totals;
    CHECK(curve.hours == 1600.0);
    CHECK(curve.heat_kwh == Approx(1960.0).epsilon(1e-5)); // rooms are met to 1e-6
    CHECK(curve.source_electricity_kwh == Approx(491.5448).epsilon(1e-3));
    CHECK(curve.seasonal_performance == Approx(3.98743).epsilon(1e-3));
    CHECK(answer.fixed.totals.source_electricity_kwh == Approx(557.1649).epsilon(1e-5));
    CHECK(answer.turned_down.totals.heat_kwh == Approx(1760.0).epsilon(1e-3));
    CHECK(answer.turned_down.totals.source_electricity_kwh == Approx(381.3639).epsilon(2e-3));
}
