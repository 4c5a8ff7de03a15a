#include "solver/questions/compare.hpp"

#include "solver/questions/convert.hpp"
#include "solver/questions/cost.hpp"
#include "solver/questions/season.hpp"
#include "solver/report/report.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

using namespace headroom;

namespace {

const solver::ComparedRow &row(const solver::CompareAnswer &answer, const std::string &key) {
    const auto found = std::find_if(answer.rows.begin(), answer.rows.end(),
                                    [&](const solver::ComparedRow &r) { return r.key == key; });
    INFO(key);
    REQUIRE(found != answer.rows.end());
    return *found;
}

} // namespace

TEST_CASE("compared figures are those that the single questions answer") {
    const networks::House house = tests::example_house("conversion.yaml");
    const solver::CompareAnswer answer = solver::compare(house, nullptr);
    REQUIRE(answer.houses.size() == 3);
    CHECK(answer.houses[0].name == "as found");
    CHECK(answer.houses[1].name == "heat pump");
    const networks::House pump = solver::lay(*house.proposals.front().house);
    const solver::DriveAnswer driven = solver::drive_verdict(pump);
    CHECK(row(answer, "needed_pa").values[1] == driven.needed_pa);
    CHECK(row(answer, "headroom_low_pa").values[1] == driven.headroom_low_pa);
    CHECK(answer.houses[1].sentence == driven.sentence);
    const solver::SeasonTotals year = solver::season(pump).with_curve.totals;
    CHECK(row(answer, "electricity_kwh").values[1] == year.electricity_kwh);
    CHECK(row(answer, "seasonal_performance").values[1] == year.performance_with_pumps);
    CHECK(row(answer, "parts_and_work_cost").values[2] == solver::cost(house).bills[2].cost);
}

TEST_CASE("rows that differ stand first and carry the difference to the base") {
    const solver::CompareAnswer answer =
        solver::compare(tests::example_house("conversion.yaml"), nullptr);
    CHECK(std::is_partitioned(answer.rows.begin(), answer.rows.end(),
                              [](const solver::ComparedRow &r) { return r.differs; }));
    const solver::ComparedRow &gas = row(answer, "gas_kwh");
    CHECK(gas.differs);
    CHECK(gas.values[1] == 0.0);
    CHECK(gas.changes[1] == -gas.values[0].value());
    CHECK(gas.changes[0] == 0.0);
}

TEST_CASE("a house compared with itself differs in nothing") {
    const networks::House house = tests::example_house("warm-floor.yaml");
    const solver::CompareAnswer answer = solver::compare(house, &house);
    REQUIRE(answer.houses.size() == 2);
    CHECK_FALSE(answer.rows.empty());
    for (const solver::ComparedRow &r : answer.rows) {
        INFO(r.key);
        CHECK_FALSE(r.differs);
    }
}

TEST_CASE("two files stand side by side under their own names") {
    const networks::House wide = tests::example_house("direct-16mm.yaml");
    const networks::House narrow = tests::example_house("small-bore-long.yaml");
    const solver::CompareAnswer answer = solver::compare(wide, &narrow);
    REQUIRE(answer.houses.size() == 2);
    CHECK(answer.houses[0].name == wide.name);
    CHECK(answer.houses[1].name == narrow.name);
    CHECK(row(answer, "headroom_pa").changes[1] < 0.0);
    CHECK_FALSE(row(answer, "flow_temperature_c").differs);
}

TEST_CASE("compared years whose water is warmer than the file's say so, as the conversion does") {
    networks::House house = tests::example_house("conversion.yaml");
    CHECK(solver::compare(house, nullptr).houses[0].year_note.empty());
    house.source->flow_temperature_c = 50.0; // its radiators need 53.8 degC
    const solver::CompareAnswer answer = solver::compare(house, nullptr);
    CHECK(answer.houses[0].year_note ==
          "the year of `as found` is that of a weather curve which heats every room: 53.8 degC on "
          "the design day, not 50.0");
    const std::string text = solver::report(answer, solver::Format::Text);
    CHECK(text.find("the year of `as found` is that of a weather curve") != std::string::npos);
    networks::House pump = *house.proposals.front().house;
    pump.source->flow_temperature_c = 45.0;
    pump.source->flow_temperature_given = true;
    const solver::ConvertAnswer converted = solver::convert(house, pump, {});
    CHECK(converted.converted.year_note ==
          "the year as converted is that of a weather curve which heats every room: 48.0 degC on "
          "the design day, not 45.0");
}
