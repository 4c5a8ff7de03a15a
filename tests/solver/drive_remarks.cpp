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

TEST_CASE("a circulator whose least speed gives too much head is told with that speed") {
    const DriveAnswer answer = solver::drive(
        house_of(with(plain, "{states: external,", "{states: external, least_speed: 80 %,")));
    REQUIRE(answer.set_pa > answer.needed_pa);
    CHECK(std::any_of(answer.remarks.begin(), answer.remarks.end(), [](const std::string &remark) {
        return remark.starts_with("even at its least speed of 80 % the circulator gives");
    }));
}

TEST_CASE("a circulator at its full fixed speed has nothing to show beside the verdict") {
    CHECK(solver::drive(house_of(plain)).beside.empty());
    const DriveAnswer slow = solver::drive(
        house_of(with(plain, "{states: external,", "{states: external, speed: 90 %,")));
    CHECK(slow.beside.size() == 1);
    const DriveAnswer pumped = solver::drive(
        house_of(with(plain, "length: 6 m}", "length: 6 m, pump: {model: generic 4 m}}")));
    CHECK(pumped.beside.size() == 1);
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

TEST_CASE(
    "a loop's zone behind a run's asks for both, and its flow is the same as without the run's") {
    std::string text = with(plain, "loop: \"den 1\"", "loop: \"den 1\", heat: 900 W, zone: large");
    text = with(text, "loop: other", "loop: other, heat: 300 W, zone: small");
    text = with(text, "  drop: 5 K\n", "  drop: 5 K\n  least_flow: 2.5 l/min\n");
    const std::string nested =
        with(text, "length: 6 m}",
             "length: 6 m, parts: [{part: zone_valve, kv: 500 m3/h, zone: floor}]}");
    const auto least = [](const DriveAnswer &answer) {
        CHECK(answer.verdict == solver::Verdict::No);
        for (const solver::StateRow &row : answer.states)
            if (row.state.find("zone") != std::string::npos)
                return row;
        return solver::StateRow{};
    };
    const solver::StateRow flat = least(solver::drive(house_of(text)));
    const solver::StateRow behind = least(solver::drive(house_of(nested)));
    CHECK(flat.state == "only zone small open");
    CHECK(behind.state == "only zones small and floor open");
    // The valve in the run loses next to nothing.
    CHECK(behind.source_l_min == Approx(flat.source_l_min).epsilon(1e-3));
}

TEST_CASE("a flow just below the source's least is told to as many digits as tell them apart") {
    const double l_min = solver::drive(house_of(plain)).source_l_min;
    const auto fault = [&](double least_l_min) {
        const DriveAnswer answer = solver::drive(
            house_of(with(plain, "  drop: 5 K\n",
                          fmt::format("  drop: 5 K\n  least_flow: {:.6f} l/min\n", least_l_min))));
        return answer.states.front().fault;
    };
    CHECK_THAT(fault(l_min + 1.0), Catch::StartsWith(fmt::format("{:.1f} l/min are below", l_min)));
    const std::string close = fault(l_min + 0.0004);
    const std::size_t least = close.find("least flow of ");
    REQUIRE(least != std::string::npos);
    CHECK(close.substr(0, close.find(' ')) !=
          close.substr(least + 14, close.find(' ', least + 14) - least - 14));
}

TEST_CASE("a bypass valve that the circulator's setting cannot open is named with both pressures") {
    std::string text = with(plain, "loop: \"den 1\"", "loop: \"den 1\", heat: 900 W, zone: day");
    text = with(text, "  drop: 5 K\n", "  drop: 5 K\n  least_flow: 3 l/min\n");
    const auto fault = [&](const std::string &opens) {
        const DriveAnswer answer = solver::drive(
            house_of(text + "bypasses: [{bypass: guard, at: manifold, opens: " + opens +
                     ", kv: 1 m3/h}]\n"));
        REQUIRE(answer.set_pa > 100.0);
        for (const solver::StateRow &row : answer.states)
            if (row.state == "all zones shut")
                return row.fault;
        return std::string("no such state");
    };
    CHECK_THAT(fault("45 kPa"), Catch::Contains("`guard` opens at 45.0 kPa, more than the"));
    CHECK_THAT(fault("0.1 kPa"), !Catch::Contains("`guard`"));
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

// A limiter shares 9 l/min between the loop and a bypass: no head gives the loop more. With 8 %
// less bore its pipe loses half as much again, more than the 13 kPa that its valve has left.
TEST_CASE("where a narrower bore leaves a loop undriven by any head the verdict is marginal") {
    const auto verdict = [](const std::string &bore) {
        return solver::drive(house_of(
            "house: shared\nwater: plain\n"
            "rooms: {den: {indoor: 20 degC, loss: 1200 W}}\n"
            "source: {kind: boiler, flow_temperature: 40 degC, drop: 5 K, circulator: {states: "
            "external, curve: [[0 m3/h, 80 kPa], [2 m3/h, 60 kPa]]}}\n"
            "pipework: [{run: feed, from: source, to: manifold, pipe: copper 22, length: 6 m, "
            "parts: [{part: flow_limiter, kv: 6 m3/h, limit: 9 l/min}]}]\n"
            "manifolds: {manifold: {valve_kv: 1.1 m3/h, loops: [{loop: den, room: den, pipe: pex "
            "16x2, length: 100 m}]}}\n"
            "bypasses: [{bypass: always, at: manifold, kv: 0.45 m3/h}]\n"
            "margin: {curve: 0 %, bore: " +
            bore + "}\n"));
    };
    CHECK(verdict("1 %").verdict == Verdict::Yes);
    const DriveAnswer narrower = verdict("8 %");
    CHECK(narrower.verdict == Verdict::Marginal);
    CHECK(narrower.sentence.find("at the bad end of the tolerances no head drives every loop") !=
          std::string::npos);
}

TEST_CASE("a house of one room loses its watts over its kelvins") {
    const std::string cold =
        with(plain, "water: plain\n", "water: plain\ndesign_day: {outdoor: -4 degC}\n");
    const solver::LossesAnswer answer = solver::losses(house_of(cold));
    CHECK(answer.total_w == 1200.0);
    REQUIRE(answer.coefficient_w_k);
    CHECK(*answer.coefficient_w_k == Approx(1200.0 / 24.0).epsilon(1e-12));
}

namespace {

std::string assumed_value(const DriveAnswer &answer, const std::string &start) {
    for (const solver::AssumptionRow &row : answer.assumed)
        if (row.what.starts_with(start))
            return row.what;
    return "";
}

// A plain house with further runs without fittings, each to a radiator of its own.
std::string with_runs(int further) {
    std::string text = with(plain, "manifolds:\n", "MORE\nmanifolds:\n") + "radiators:\n";
    std::string runs;
    for (int i = 1; i <= further; ++i) {
        runs += fmt::format("  - {{run: way {0}, from: manifold, to: end {0}, pipe: copper 15, "
                            "length: 2 m}}\n",
                            i);
        text += fmt::format("  - {{radiator: r{0}, heat: 100 W, from: end {0}, pipe: copper 15, "
                            "length: 1 m}}\n",
                            i);
    }
    return with(text, "MORE\n", runs);
}

} // namespace

TEST_CASE(
    "up to three runs without fittings are named, of more the first three and how many more") {
    CHECK(assumed_value(solver::drive(house_of(plain)), "fittings") == "fittings of run primaries");
    CHECK(assumed_value(solver::drive(house_of(with_runs(2))), "fittings") ==
          "fittings of run primaries, way 1, way 2");
    CHECK(assumed_value(solver::drive(house_of(with_runs(3))), "fittings") ==
          "fittings of run primaries, way 1, way 2 and 1 more");
}

TEST_CASE("a floor's surface limit is assumed only where a described floor does not give it") {
    const auto described = [](const std::string &limit) {
        std::string text = with(
            plain, "manifolds:\n",
            "floors:\n  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, "
            "insulation: 90 mm, slab: 0.15 m2 K/W, below: 10 degC, on_ground: yes}\nmanifolds:\n");
        for (const char *loop : {"length: 80 m}", "length: 70 m}"})
            text = with(text, loop,
                        std::string(loop, 12) + ", floor: screed, spacing: 125 mm" + limit + "}");
        return solver::drive(house_of(text));
    };
    CHECK(assumes(described(""), "highest surface temperature"));
    CHECK_FALSE(assumes(described(", surface_limit: 29 degC"), "highest surface temperature"));
    CHECK_FALSE(assumes(solver::drive(house_of(plain)), "highest surface temperature"));
}

TEST_CASE("a set of zones that leaves no way at all is no state of least flow") {
    // Both loops have zones: with all shut nothing flows, and the source stops.
    std::string text = with(plain, "loop: \"den 1\"", "loop: \"den 1\", heat: 900 W, zone: large");
    text = with(text, "loop: other", "loop: other, heat: 300 W, zone: small");
    text = with(with(text, "length: 80 m", "length: 8 m"), "length: 70 m", "length: 8 m");
    text = with(text, "drop: 5 K", "drop: 2 K");
    // A pipe past them that takes some per cent of the design flow is a way; one of less than a
    // thousandth (Kv 0.001 at some 15 kPa: 0.4 l/h of 500) is none.
    const auto state = [&](const std::string &kv) {
        const DriveAnswer answer = solver::drive(
            house_of(text + "bypasses:\n  - {bypass: leak, at: manifold, kv: " + kv + "}\n"));
        for (const solver::StateRow &row : answer.states)
            if (row.state.find("zone") != std::string::npos)
                return row;
        return solver::StateRow{};
    };
    CHECK(state("0.001 m3/h").state == "only zone small open");
    CHECK(state("0.05 m3/h").state == "all zones shut");
}

TEST_CASE("a house as found that cannot be solved says so beside the verdict") {
    const DriveAnswer answer = solver::drive(
        house_of(with(plain, "{states: external,", "{states: external, speed: 40 %,")));
    REQUIRE(answer.beside.size() == 1);
    CHECK(answer.beside[0].what == "as found, pumps and mixers as the file has them");
    // 40 % of the speed has 16 % of 5 m: 0.8 m.
    CHECK(answer.beside[0].all_driven == (answer.beside[0].worst_share >= 1.0 - 1e-9));
    CHECK(answer.beside[0].worst_share > 0.0);
    CHECK_FALSE(answer.beside[0].worst.empty());
}

TEST_CASE("zones that are not open are shut at their valves and emitters, the others left open") {
    std::string text = with(plain, "length: 6 m}",
                            "length: 6 m, parts: [{part: zone_valve, kv: 6 m3/h, zone: floor}]}");
    text = with(text, "loop: other", "loop: other, zone: small");
    const networks::House house = house_of(text);
    const networks::House floor_only = solver::with_zones(house, {"floor"});
    CHECK(floor_only.runs[0].parts[0].open);
    CHECK(floor_only.emitters[0].balancing.kind == networks::Balancing::Kind::Open);
    CHECK(floor_only.emitters[1].balancing.kind == networks::Balancing::Kind::Shut);
    const networks::House small_only = solver::with_zones(house, {"small"});
    CHECK_FALSE(small_only.runs[0].parts[0].open);
    CHECK(small_only.emitters[1].balancing.kind == networks::Balancing::Kind::Open);
}

TEST_CASE("a mixer asked for more than the source sends stands at its end of travel and is named") {
    const auto answer = [](const std::string &set) {
        return solver::flows(house_of(
            with(plain, "length: 6 m}",
                 "length: 6 m, mixer: {kv: 4 m3/h, set: " + set +
                     "}, pump: {curve: [[0 m3/h, 4 m], [2 m3/h, 1 m]], mode: fixed_speed}}")));
    };
    const solver::FlowsAnswer high = answer("45 degC"); // the source sends 40 degC
    REQUIRE(high.outcome.converged());
    std::string words;
    for (const std::string &warning : high.warnings)
        words += warning + "; ";
    CHECK_THAT(words, Catch::Matchers::Contains("the mixer of run primaries cannot hold 45 degC"));
    CHECK_THAT(words, Catch::Matchers::Contains("at 100 % of its travel")); // 99.5 rounded
    for (const std::string &warning : answer("38 degC").warnings)
        CHECK_THAT(warning, !Catch::Matchers::Contains("cannot hold"));
}

TEST_CASE("what defrosting takes on the design day is said, and only where it takes something") {
    const auto says = [](const std::string &text) {
        const DriveAnswer answer = solver::drive_verdict(house_of(text));
        return std::any_of(
            answer.remarks.begin(), answer.remarks.end(), [](const std::string &remark) {
                return remark.find("defrosting, below 5 degC, takes 6 %") != std::string::npos;
            });
    };
    const std::string frosty = tests::example_text("warm-floor.yaml");
    CHECK(says(frosty));
    CHECK_FALSE(says(with(frosty, "{outdoor: -3 degC}", "{outdoor: 6 degC}")));
    CHECK_FALSE(says(with(frosty, "lost: 6 %", "lost: 0 %")));
}

TEST_CASE("bars of manifolds are assumed without loss only where the file gives them no bore") {
    CHECK(assumes(solver::drive(house_of(plain)), "bars of manifold"));
    const std::string bar = with(plain, "    valve_kv: 1.1 m3/h\n",
                                 "    valve_kv: 1.1 m3/h\n    bar: {bore: 28 mm, pitch: 50 mm}\n");
    CHECK_FALSE(assumes(solver::drive(house_of(bar)), "bars of"));
}

TEST_CASE("constant flow is told from constant flow that the pump does not reach") {
    const auto mode = [](const std::string &flow) {
        const networks::House house =
            house_of(with(plain, "{states: external,",
                          "{states: external, mode: constant_flow, flow: " + flow + ","));
        return solver::flows(house).pumps.front().mode;
    };
    CHECK(mode("0.1 m3/h") == "constant flow");
    CHECK(mode("1.9 m3/h") == "constant flow, not reached"); // the curve's end is at 2 m3/h
}

TEST_CASE("a room that reaches its temperature is short of no heat") {
    const DriveAnswer answer = solver::drive(tests::example_house("warm-floor.yaml"));
    REQUIRE_FALSE(answer.heat.empty());
    for (const solver::HeatRow &row : answer.heat)
        CHECK((row.short_w > 0.0) != row.reaches);
}
