// Figures that several questions give of one house are the same, or each says what it rests on.
#include "solver/questions/balance.hpp"
#include "solver/questions/commission.hpp"
#include "solver/questions/compare.hpp"
#include "solver/questions/convert.hpp"
#include "solver/questions/cost.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/pump.hpp"
#include "solver/questions/season.hpp"
#include "solver/report/how_sure.hpp"
#include "solver/report/report.hpp"
#include "tests/support/one_radiator.hpp"
#include "tests/support/small_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

using namespace headroom;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using tests::house_of;

namespace {

std::string with(std::string text, const std::string &what, const std::string &instead) {
    return text.replace(text.find(what), what.size(), instead);
}

std::vector<networks::House> houses_with_a_year() {
    std::vector<networks::House> houses;
    for (const std::string &file : tests::example_houses()) {
        networks::House house =
            tests::example_house(std::filesystem::path(file).filename().string());
        if (solver::why_no_season(house).empty())
            houses.push_back(std::move(house));
    }
    REQUIRE(houses.size() > 5);
    return houses;
}

bool assumes(const solver::SeasonAnswer &answer, const std::string &what) {
    return std::any_of(
        answer.assumed.begin(), answer.assumed.end(),
        [&](const solver::SeasonAssumption &row) { return row.what.starts_with(what); });
}

// Two loops of 600 W each at a drop of 5 K: 3.45 l/min of water at 37.5 degC, 993 kg/m3.
constexpr double two_loops_m3_s = 1200.0 / (4179.0 * 5.0 * 993.0);

networks::House two_loops_on(const std::string &least_flow) {
    return house_of(with(tests::SmallHouse{}.text(), "  drop: 5 K\n",
                         "  drop: 5 K\n  least_flow: " + least_flow + "\n"));
}

} // namespace

TEST_CASE("The year swings the very water that the vessel is chosen for") {
    for (const networks::House &house : houses_with_a_year()) {
        if (!solver::why_not_filled(house).empty())
            continue;
        INFO(house.name);
        const solver::FillAnswer filled = solver::fill(house);
        const solver::SeasonAnswer year = solver::season(house);
        CHECK(year.store.held_water_m3 + filled.other_m3.value_or(0.0) ==
              Approx(filled.system_m3).epsilon(1e-12));
    }
}

TEST_CASE("The weather curve starts at the flow temperature that the design day needs") {
    for (const networks::House &house : houses_with_a_year()) {
        INFO(house.name);
        const solver::SeasonAnswer year = solver::season(house);
        const solver::CurvePoint &coldest = year.curve.front();
        const bool held = std::any_of(coldest.circuits.begin(), coldest.circuits.end(),
                                      [](const auto &c) { return c.held_low || c.held_high; });
        if (!held && !house.separator) // a header may ask for warmer water than any circuit
            CHECK_THAT(coldest.source_c, WithinAbs(year.needed_c, 1e-3));
    }
}

TEST_CASE("A source without a least output is assumed to modulate, which is not stated as a fact") {
    tests::OneRadiator house;
    house.more = "year: {climate: average}\n";
    const std::string performance =
        "kind: heat_pump, performance: [[-7 degC, 35 degC, 6 kW, 2.8], [7 degC, 35 degC, 7 kW, "
        "4.2], [-7 degC, 55 degC, 5 kW, 1.9], [7 degC, 55 degC, 6 kW, 2.9]]";
    house.source = performance;
    const solver::SeasonAnswer silent = solver::season(house_of(house.text()));
    CHECK(assumes(silent, "least output"));
    CHECK_THAT(solver::report(silent, solver::Format::Text), Contains("it is assumed to modulate"));
    house.source = performance + ", least_share: 10 %";
    const solver::SeasonAnswer stated = solver::season(house_of(house.text()));
    CHECK_FALSE(assumes(stated, "least output"));
    CHECK(assumes(stated, "COP below the least output"));
    CHECK_THAT(solver::report(stated, solver::Format::Text), !Contains("assumed to modulate"));
}

TEST_CASE("Heat that is given warmer than the source's figures go is counted beside its cost") {
    tests::OneRadiator house;
    house.rated_at = "60/50/20";
    house.sent = "60 degC";
    house.more = "year: {hours: [[-3 degC, 100 h], [10 degC, 1000 h]], free_heat: no}\n"
                 "tariff: {electricity: 0.30 /kWh}\n";
    const std::string warm = "[-7 degC, 35 degC, 6 kW, 2.8], [12 degC, 35 degC, 7 kW, 4.2], "
                             "[-7 degC, 50 degC, 6 kW, 2.0], [12 degC, 50 degC, 7 kW, 3.2]";
    house.source = "kind: heat_pump, performance: [" + warm + "]";
    const solver::SeasonTotals beyond = solver::season(house_of(house.text())).with_curve.totals;
    // On the design day water above 50 degC is needed, at 10 degC outside it is not.
    REQUIRE(beyond.bins.size() == 2);
    CHECK(beyond.bins[0].source_c > 50.0);
    CHECK(beyond.bins[1].source_c < 50.0);
    CHECK_THAT(beyond.flattered_kwh, WithinRel(2300.0 * 100.0 / 1000.0, 1e-3));
    CHECK_THAT(solver::flattered_words(beyond), Contains("230 of the"));
    house.source = "kind: heat_pump, performance: [" + warm +
                   ", [-7 degC, 65 degC, 6 kW, 1.5], [12 degC, 65 degC, 7 kW, 2.4]]";
    const solver::SeasonTotals within = solver::season(house_of(house.text())).with_curve.totals;
    CHECK(within.flattered_kwh == 0.0);
    CHECK(solver::flattered_words(within).empty());
}

TEST_CASE("No setting is advised that lets less through a source than its least flow") {
    const networks::House house = two_loops_on("5 l/min");
    const solver::PumpAnswer pump = solver::pumps(house);
    CHECK(pump.setting.below_least_flow());
    CHECK_THAT(pump.setting.design_m3_s, WithinRel(two_loops_m3_s, 5e-3));
    CHECK_THAT(pump.setting.flow_m3_s, WithinRel(5.0 / 6.0e4, 1e-12));
    CHECK(pump.setting.enough);
    const solver::DriveAnswer driven = solver::drive(house);
    // Valves and pipes lose nearly as the square of flow.
    CHECK_THAT(pump.setting.set.head_pa,
               WithinRel(driven.set_pa * std::pow(5.0 / driven.source_l_min, 2.0), 0.2));
    CHECK_THAT(solver::report(pump, solver::Format::Text), Contains("the source's least flow"));
    CHECK_THAT(solver::report(driven, solver::Format::Text),
               Contains("too little for the source's least flow"));
    const solver::CommissionAnswer dial = solver::commission(house);
    CHECK(dial.dial.circulator_pa == pump.setting.set.head_pa);
    CHECK(dial.dial.balancing_pa == driven.set_pa);
    CHECK(pump.setting.balanced_pa == driven.set_pa);
    const std::string words = solver::report(dial, solver::Format::Text);
    CHECK_THAT(words, Contains("while valves are set"));
    CHECK_THAT(words, !Contains("does not drive every loop")); // it does
    const solver::BalanceAnswer balanced =
        solver::balance(house, solver::BalanceScope::SingleCirculator);
    REQUIRE(balanced.least_flow);
    // Two searches for one head, each to a millionth of the flow.
    CHECK_THAT(balanced.least_flow->set_pa, WithinRel(pump.setting.set.head_pa, 1e-4));
    CHECK_THAT(balanced.least_flow->speed, WithinRel(pump.setting.set.speed, 1e-4));
    CHECK_THAT(balanced.pumps.front().set_pa, WithinRel(driven.set_pa, 1e-4));
    CHECK_THAT(solver::report(balanced, solver::Format::Text), Contains("then turn it up to"));

    // 5 m of shut-off head do not make these loops pass 8 l/min.
    const solver::PumpAnswer weak = solver::pumps(two_loops_on("8 l/min"));
    CHECK(weak.setting.below_least_flow());
    CHECK_FALSE(weak.setting.enough);
    const solver::CommissionAnswer most = solver::commission(two_loops_on("8 l/min"));
    CHECK_FALSE(most.dial.circulator_pa.has_value());
    CHECK(most.dial.balancing_pa == driven.set_pa);
    CHECK_THAT(solver::report(most, solver::Format::Text),
               Contains("turn the circulator up to its most") && !Contains("its setting"));

    const solver::PumpAnswer plenty = solver::pumps(two_loops_on("3 l/min"));
    CHECK_FALSE(plenty.setting.below_least_flow());
    CHECK(plenty.setting.flow_m3_s == plenty.setting.design_m3_s);
    const networks::House easy = two_loops_on("3 l/min");
    CHECK_FALSE(solver::balance(easy, solver::BalanceScope::SingleCirculator).least_flow);
    const solver::CommissionAnswer turned = solver::commission(easy);
    CHECK(turned.dial.circulator_pa == plenty.setting.set.head_pa);
    CHECK_FALSE(turned.dial.balancing_pa.has_value());
    CHECK_THAT(solver::report(turned, solver::Format::Text),
               Contains("turn the circulator down to its setting") &&
                   !Contains("turn the circulator up"));
}

TEST_CASE("Repeated verdicts say what they count, and that a no for another reason stands") {
    solver::HowSure sure;
    sure.samples = 100;
    sure.works = 100;
    const std::string no = solver::how_sure_text({}, sure, true);
    CHECK_THAT(no, Contains("the head is enough"));
    CHECK_THAT(no, Contains("Not counted: least flow"));
    CHECK_THAT(no, Contains("stands"));
    CHECK_THAT(solver::how_sure_text({}, sure, false), !Contains("stands"));
    sure.works = 10; // the no is counted
    CHECK_THAT(solver::how_sure_text({}, sure, true), !Contains("stands"));
}

TEST_CASE("A bypass that opens is named where it keeps headroom below the difference of heads") {
    const std::string plain = tests::SmallHouse{}.text();
    const solver::DriveAnswer without = solver::drive(house_of(plain));
    CHECK(without.headroom_note.empty());
    CHECK_THAT(without.headroom_pa, WithinAbs(without.available_pa - without.needed_pa, 500.0));
    const solver::DriveAnswer bypassed = solver::drive(house_of(
        plain + "bypasses: [{bypass: guard, at: manifold, opens: 20 kPa, kv: 2.5 m3/h}]\n"));
    CHECK(bypassed.headroom_pa < bypassed.available_pa - bypassed.needed_pa - 500.0);
    CHECK_THAT(bypassed.headroom_note, Contains("opens at 20.0 kPa"));
    CHECK_THAT(
        solver::drive(tests::example_house("one-pipe-and-reverse-return.yaml")).headroom_note,
        Contains("ring"));
}

TEST_CASE("A source that falls short is told what it can hold") {
    tests::OneRadiator house;
    house.source = "kind: heat_pump, carnot: {output: 2 kW, fraction: 42 %}";
    const solver::FlowsAnswer warm = solver::flows(house_of(house.text()));
    REQUIRE(warm.source->holds_c);
    CHECK(warm.source->heat->short_w > 0.0);
    CHECK(*warm.source->holds_c < 40.0);
    CHECK_THAT(solver::report(warm, solver::Format::Text), Contains("it can hold"));
    networks::House cooler = house_of(house.text());
    cooler.source->flow_temperature_c = *warm.source->holds_c; // with the valves as they stand
    const solver::SourceHeat held = solver::flows(cooler).source->heat.value();
    CHECK_THAT(held.load_w, WithinAbs(held.greatest_w, 5.0));
    house.source = "kind: heat_pump, carnot: {output: 6 kW, fraction: 42 %}";
    CHECK_FALSE(solver::flows(house_of(house.text())).source->holds_c);
}

TEST_CASE("The circulator inside a boiler goes with the boiler") {
    const std::string house =
        "house: boiler\nwater: plain\nrooms: {den: {indoor: 20 degC, loss: 1200 W}}\n"
        "source: {kind: boiler, flow_temperature: 60 degC, drop: 10 K, circulator: {states: gross, "
        "model: generic 6 m}, inner: [{name: exchanger, loss: 5 kPa, at_flow: 1 m3/h}]}\n"
        "pipework: [{run: feed, from: source, to: tee, pipe: copper 22, length: 4 m}]\n"
        "radiators: [{radiator: den, room: den, from: tee, pipe: copper 15, length: 3 m, existing: "
        "yes, output: 2000 W, rated_at: 75/65/20}]\n"
        "proposals:\n  pump:\n    source: {replace: yes, kind: heat_pump, flow_temperature: 50 "
        "degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [2 m3/h, 20 "
        "kPa]]}}\n  other circulator:\n    source: {circulator: {model: generic 8 m}}\n";
    const solver::CostAnswer answer = solver::cost(house_of(house));
    REQUIRE(answer.bills.size() == 3);
    const auto removes = [](const solver::Bill &bill) {
        return std::any_of(bill.lines.begin(), bill.lines.end(),
                           [](const solver::BillLine &line) { return line.group == "removal"; });
    };
    CHECK_FALSE(removes(answer.bills[1]));
    CHECK(removes(answer.bills[2]));
}
