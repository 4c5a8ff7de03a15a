// A conversion against the questions it is made of and figures by hand.
#include "solver/questions/convert.hpp"

#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;

namespace {

SearchLimits no_search() {
    SearchLimits limits;
    limits.most_judged = 0;
    return limits;
}

ConvertAnswer mill_house(const std::string &proposal, const SearchLimits &limits) {
    const networks::House base = tests::example_house("conversion.yaml");
    const Conversion conversion = converted_house(base, proposal);
    REQUIRE(conversion.house);
    return convert(base, *conversion.house, limits);
}

} // namespace

TEST_CASE("the first proposal with a heat pump is what a house is converted to") {
    const networks::House base = tests::example_house("conversion.yaml");
    const Conversion conversion = converted_house(base, "");
    REQUIRE(conversion.house);
    CHECK(conversion.house->name == "Mill House, heat pump");
    CHECK_FALSE(converted_house(tests::example_house("header-three-pumps.yaml"), "").house);
}

TEST_CASE("a conversion names the header, pumps and mixers it takes out") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    CHECK(answer.taken_out == std::vector<std::string>{"the header", "the pump of run `floor feed`",
                                                       "the mixer of run `floor feed`",
                                                       "the pump of run `riser`"});
}

TEST_CASE(
    "a conversion that lacks least flow is feasible only after changes, with larger radiators "
    "as it is") {
    CHECK(mill_house("heat pump", {}).feasible == Feasible::AfterChanges);
    const ConvertAnswer larger = mill_house("heat pump, larger radiators", no_search());
    CHECK(larger.feasible == Feasible::Yes);
    CHECK(larger.reasons.empty());
}

TEST_CASE("without a search for changes a failing conversion is not feasible") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    CHECK(answer.feasible == Feasible::No);
    CHECK_FALSE(answer.reasons.empty());
}

TEST_CASE("a run's velocity is its flow over its bore's area") {
    // Copper 22x0.9: bore 20.2 mm, area 3.2047e-4 m2; 1 l/min is 1.6667e-5 m3/s.
    const ConvertAnswer answer = mill_house("heat pump, larger radiators", no_search());
    REQUIRE(answer.runs.size() == 3);
    for (const ConvertRun &run : answer.runs) {
        CHECK(run.velocity_m_s == Approx(run.flow_l_min * 1.66667e-5 / 3.2047e-4).epsilon(1e-4));
        CHECK(run.within);
    }
    // What the primaries carry is what the two circuits take.
    CHECK(answer.runs[0].flow_l_min ==
          Approx(answer.runs[1].flow_l_min + answer.runs[2].flow_l_min).epsilon(0.005));
}

TEST_CASE("a run beyond the stated limits keeps a conversion from being feasible as it is") {
    networks::House base = tests::example_house("conversion.yaml");
    networks::House house = *converted_house(base, "heat pump, larger radiators").house;
    house.pipe_limits.velocity_m_s = 0.2;
    const ConvertAnswer answer = convert(base, house, no_search());
    CHECK(answer.driven.verdict == Verdict::Yes);
    CHECK(answer.feasible == Feasible::AfterChanges);
    CHECK(std::any_of(answer.reasons.begin(), answer.reasons.end(), [](const std::string &reason) {
        return reason.find("run `primaries`") != std::string::npos;
    }));
}

TEST_CASE("every emitter takes the one flow temperature, set by the most demanding") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    double warmest_c = 0.0;
    for (const HeatRow &row : answer.driven.heat)
        warmest_c = std::max(warmest_c, row.own_flow_c);
    CHECK(answer.converted.flow_temperature_c == Approx(warmest_c));
}

TEST_CASE("a heat pump's season takes less energy than the boiler it replaces") {
    const ConvertAnswer answer = mill_house("heat pump", no_search());
    REQUIRE(answer.found.gas_kwh);
    REQUIRE(answer.converted.electricity_kwh);
    CHECK(*answer.converted.electricity_kwh < *answer.found.gas_kwh);
    CHECK(*answer.converted.gas_kwh == 0.0);
}
