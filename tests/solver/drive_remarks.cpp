// What `drive` and `flows` say beside the verdict, and when they keep silent.
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/losses.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fmt/format.h>
#include <string>
#include <vector>

using namespace headroom;
using solver::DriveAnswer;
using solver::Verdict;
using tests::house_of;

namespace {

std::string with(std::string text, const std::string &what, const std::string &instead) {
    return text.replace(text.find(what), what.size(), instead);
}

const std::string plain = tests::SmallHouse{}.text();

bool assumes(const DriveAnswer &answer, const std::string &start) {
    return std::any_of(
        answer.assumed.begin(), answer.assumed.end(),
        [&](const solver::AssumptionRow &row) { return row.what.starts_with(start); });
}

} // namespace

TEST_CASE("the verdict has zone valves open and leaves other parts as they stand") {
    networks::House house = house_of(
        with(plain, "length: 6 m}",
             "length: 6 m, parts: [{part: zone_valve, kv: 6 m3/h, zone: all}, {part: check_valve, "
             "kv: 6 m3/h, opens: 1 kPa}]}"));
    for (networks::Part &part : house.runs[0].parts)
        part.open = false;
    const networks::House ideal = solver::with_ideal_balancing(house);
    REQUIRE(ideal.runs[0].parts.size() == 2);
    CHECK(ideal.runs[0].parts[0].open);
    CHECK_FALSE(ideal.runs[0].parts[1].open);
    CHECK(solver::drive(house).verdict == Verdict::Yes);
}

TEST_CASE("a circulator at its full fixed speed has nothing to show beside the verdict") {
    CHECK(solver::drive(house_of(plain)).beside.empty());
    const DriveAnswer slow = solver::drive(
        house_of(with(plain, "{states: external,", "{states: external, speed: 90 %,")));
    CHECK(slow.beside.size() == 1);
}

TEST_CASE("levels that are given are not among what was assumed, levels left out are") {
    CHECK(assumes(solver::drive(house_of(plain)), "buoyancy"));
    const std::string level = with(plain, "  drop: 5 K\n", "  drop: 5 K\n  level: 0 m\n");
    CHECK_FALSE(assumes(solver::drive(house_of(level)), "buoyancy"));
}

TEST_CASE("a balancing valve's finest setting is assumed only where it is not given") {
    CHECK(assumes(solver::drive(house_of(plain)), "least Kv"));
    std::string stated = plain;
    for (const char *loop : {"length: 80 m}", "length: 70 m}"})
        stated = with(stated, loop, std::string(loop, 12) + ", least_kv: 0.01 m3/h}");
    CHECK_FALSE(assumes(solver::drive(house_of(stated)), "least Kv"));
}

TEST_CASE("of two zones the one whose flow is less sets the least flow") {
    std::string text = with(plain, "loop: \"den 1\"", "loop: \"den 1\", heat: 900 W, zone: large");
    text = with(text, "loop: other", "loop: other, heat: 300 W, zone: small");
    const DriveAnswer answer = solver::drive(house_of(text));
    const auto row =
        std::find_if(answer.states.begin(), answer.states.end(), [](const solver::StateRow &r) {
            return r.state.find("zone") != std::string::npos;
        });
    REQUIRE(row != answer.states.end());
    CHECK(row->state == "only zone small open");
    CHECK(row->source_l_min < 0.5 * answer.source_l_min);
}

TEST_CASE("a source that gives the design load is no reason against a yes") {
    std::string text =
        with(plain, "water: plain\n", "water: plain\ndesign_day: {outdoor: -3 degC}\n");
    text = with(text, "  drop: 5 K\n",
                "  drop: 5 K\n  performance:\n"
                "    - [-7 degC, 35 degC, 4 kW, 2.9]\n    - [7 degC, 35 degC, 6 kW, 4.7]\n"
                "    - [-7 degC, 45 degC, 3.8 kW, 2.3]\n    - [7 degC, 45 degC, 5.7 kW, 3.7]\n");
    const DriveAnswer enough = solver::drive(house_of(text));
    REQUIRE(enough.source);
    CHECK(enough.reasons.empty());
    CHECK(enough.verdict == Verdict::Yes);
    for (const char *output : {"4 kW", "6 kW", "3.8 kW", "5.7 kW"})
        text = with(text, output, "0.9 kW");
    const DriveAnswer weak = solver::drive(house_of(text));
    REQUIRE_FALSE(weak.reasons.empty());
    CHECK(weak.reasons.front().find("300 W less than the design load") != std::string::npos);
}

TEST_CASE("a marginal state names the good end of the tolerances in kilopascals") {
    const DriveAnswer answer = solver::drive(house_of(plain));
    // A flat curve a little below the head needed.
    const std::string flat =
        fmt::format("curve: [[0 m3/h, {:.1f} Pa]", 0.999 * answer.needed_pa + 1.0);
    std::string text = with(plain, "curve: [[0 m3/h, 5 m]", flat);
    text =
        with(text, "[2 m3/h, 0.1 m]", fmt::format("[2 m3/h, {:.1f} Pa]", 0.998 * answer.needed_pa));
    const DriveAnswer marginal = solver::drive(house_of(text));
    REQUIRE(marginal.verdict == Verdict::Marginal);
    const solver::StateRow &row = marginal.states.front();
    REQUIRE(row.headroom_pa < 0.0);
    CHECK(row.doubt.find(fmt::format("but {:+.1f} at the good end", row.headroom_high_pa * 1e-3)) !=
          std::string::npos);
}

TEST_CASE("air is warned of at a high point of little pressure only") {
    const auto warnings = [](const std::string &pressure) {
        const std::string level = with(plain, "  drop: 5 K\n", "  drop: 5 K\n  level: 0 m\n");
        const std::string filled =
            level + "fill: {pressure: " + pressure + ", vessel_at: source.return}\n";
        return solver::flows(house_of(filled)).warnings;
    };
    CHECK(warnings("1.2 bar").empty());
    const std::vector<std::string> low = warnings("0.1 bar");
    CHECK(std::any_of(low.begin(), low.end(), [](const std::string &warning) {
        return warning.find("air may be drawn in") != std::string::npos;
    }));
}

TEST_CASE("a loop that is driven reaches its design flow and no more behind an ideal valve") {
    for (const solver::EmitterRow &row : solver::drive(house_of(plain)).emitters)
        CHECK(row.reaches_share == Approx(1.0).epsilon(1e-9));
}

TEST_CASE("the tolerances of the band are named in per cent") {
    std::string words;
    for (const std::string &line : solver::drive(house_of(plain)).band)
        words += line + "; ";
    INFO(words);
    CHECK(words.find("5 %") != std::string::npos);
    CHECK(words.find("1 %") != std::string::npos);
    CHECK(words.find("50 %") != std::string::npos);
}

TEST_CASE("a house of one room loses its watts over its kelvins") {
    const std::string cold =
        with(plain, "water: plain\n", "water: plain\ndesign_day: {outdoor: -4 degC}\n");
    const solver::LossesAnswer answer = solver::losses(house_of(cold));
    CHECK(answer.total_w == 1200.0);
    REQUIRE(answer.coefficient_w_k);
    CHECK(*answer.coefficient_w_k == Approx(1200.0 / 24.0).epsilon(1e-12));
}
