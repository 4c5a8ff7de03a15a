// The day on site: what is dialled in is what drive and fill have found.
#include "solver/questions/commission.hpp"

#include "solver/questions/cautions.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/fill.hpp"
#include "solver/questions/site_settings.hpp"
#include "solver/report/report.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headroom;
using Catch::Contains;
using Catch::WithinRel;
using solver::CommissionAnswer;

namespace {

std::string joined(const std::vector<std::string> &lines) {
    std::string all;
    for (const std::string &line : lines)
        all += line + "\n";
    return all;
}

} // namespace

TEST_CASE("Set points and valve settings are those of drive, the fill that of fill") {
    const networks::House house = tests::example_house("cylinder.yaml");
    const CommissionAnswer a = solver::commission(house);
    const solver::DriveAnswer driven = solver::drive(house);
    const solver::FillAnswer water = solver::fill(house);
    CHECK(a.verdict == driven.sentence);
    CHECK(a.dial.circulator_pa == driven.set_pa);
    CHECK(a.dial.flow_c == driven.flow_temperature_c);
    REQUIRE(a.meters.size() == driven.emitters.size());
    for (std::size_t i = 0; i < a.meters.size(); ++i) {
        CHECK(a.meters[i].name == driven.emitters[i].name);
        CHECK(a.meters[i].kv_m3_h == driven.emitters[i].valve_kv_m3_h);
        CHECK(a.meters[i].design_m3_s * 6.0e4 == Approx(driven.emitters[i].design_l_min));
    }
    CHECK(a.dial.precharge_pa == water.size.precharge_pa);
    CHECK(a.dial.store_to_c == 50.0);
}

TEST_CASE("A screed is warmed after its days, first gently, then at the design temperature") {
    // EN 1264-4, from memory: 21 and 7 days, three days at 20 to 25 degC, four at the design.
    const CommissionAnswer a = solver::commission(tests::example_house("warm-floor.yaml"));
    REQUIRE(a.screed.size() == 4);
    CHECK(a.screed[0].from_day == 21);
    CHECK(a.screed[2].from_day == 7);
    for (const std::size_t first : {0U, 2U}) {
        CHECK(a.screed[first].days == 3);
        CHECK(a.screed[first].water_c <= 25.0);
        CHECK(a.screed[first + 1].from_day == a.screed[first].from_day + 3);
        CHECK(a.screed[first + 1].days == 4);
        CHECK(a.screed[first + 1].water_c == a.dial.flow_c);
    }
}

TEST_CASE("Floor loops are tested at 4 to 6 bar, and a house without floors has no screed") {
    const CommissionAnswer floors = solver::commission(tests::example_house("direct-16mm.yaml"));
    REQUIRE(floors.tests.size() == 2);
    CHECK(floors.tests[0].least_pa == 4e5); // EN 1264-4, from memory
    CHECK(floors.tests[0].most_pa == 6e5);
    CHECK_THAT(floors.tests[1].least_pa, WithinRel(4.5e5, 1e-12)); // 1.5 times 3 bar by habit
    const CommissionAnswer radiators =
        solver::commission(tests::example_house("one-pipe-and-reverse-return.yaml"));
    CHECK(radiators.screed.empty());
    CHECK(radiators.tests.size() == 1);
    CHECK_FALSE(radiators.dial.floor_limit_c);
}

// Common practice, no source: what is old gets no more than it works at.
TEST_CASE("Existing pipes and radiators are not tested above the pressure they work at") {
    networks::House house = tests::example_house("direct-16mm.yaml");
    house.runs.front().existing = true;
    const CommissionAnswer mixed = solver::commission(house);
    REQUIRE(mixed.tests.size() == 3);
    CHECK_THAT(mixed.tests[1].what, Contains("new pipework"));
    CHECK_THAT(mixed.tests[2].what, Contains("existing") && Contains("working pressure only"));
    // Never more than the vessel lets come to be, half a bar below the safety valve (EN 12828).
    CHECK(mixed.tests[2].least_pa <= 2.5e5);
    CHECK_FALSE(mixed.tests[2].most_pa);
    for (networks::Run &run : house.runs)
        run.existing = true;
    for (networks::Emitter &emitter : house.emitters)
        emitter.existing = true;
    const CommissionAnswer old = solver::commission(house);
    REQUIRE(old.tests.size() == 1);
    CHECK(old.tests[0].least_pa == mixed.tests[2].least_pa);
    CHECK(old.screed.empty());
    CHECK_THAT(joined(old.order) + joined(old.cautions), !Contains("screed"));
}

TEST_CASE("Screed is warmed up where floors have it; where nobody says, only where there is some") {
    networks::House house = tests::example_house("warm-floor.yaml");
    const auto order = [](const networks::House &of) {
        return joined(solver::commission(of).order);
    };
    CHECK_THAT(order(house), Contains("warm up what lies in screed, as below"));
    networks::House boards = house;
    for (networks::Emitter &emitter : boards.emitters)
        if (auto *floor = std::get_if<networks::FloorPart>(&emitter.emission)) {
            floor->section.board = models::GrooveBoard{0.03, 0.04, 0.026, std::nullopt};
            floor->response.reset();
        }
    CHECK(solver::screed_of(boards) == solver::Screed::None);
    const CommissionAnswer dry = solver::commission(boards);
    CHECK(dry.screed.empty());
    CHECK_THAT(joined(dry.order) + dry.tests[0].what + joined(dry.cautions), !Contains("screed"));
    const networks::House silent = tests::example_house("direct-16mm.yaml");
    CHECK(solver::screed_of(silent) == solver::Screed::Unknown);
    CHECK(solver::commission(silent).screed.empty());
    CHECK_THAT(order(silent), Contains("only where there is screed"));
}

TEST_CASE("A house whose circulator does not drive all has no settings, and says so") {
    const CommissionAnswer a = solver::commission(tests::example_house("small-bore-long.yaml"));
    CHECK_FALSE(a.dial.circulator_pa);
    CHECK_THAT(joined(a.remarks), Contains("no valve settings"));
    for (const solver::MeterRow &row : a.meters)
        CHECK_FALSE(row.kv_m3_h);
}

TEST_CASE("Where the mixers must stay, what is set is the house as drawn, as balance sets it") {
    for (const char *name : {"header-three-pumps.yaml", "header-protected.yaml"}) {
        INFO(name);
        const networks::House house = tests::example_house(name);
        const CommissionAnswer a = solver::commission(house);
        const solver::BalanceAnswer drawn = solver::balance(house, solver::BalanceScope::AsDrawn);
        CHECK_THAT(a.settings, Contains("the house as drawn: header, mixers and their pumps stay"));
        CHECK_THAT(joined(a.remarks), Contains("settings are for the house as drawn"));
        REQUIRE(a.meters.size() == drawn.valves.size());
        for (std::size_t i = 0; i < a.meters.size(); ++i) {
            CHECK(a.meters[i].name == drawn.valves[i].name);
            CHECK(a.meters[i].kv_m3_h == drawn.valves[i].kv_m3_h);
            CHECK(a.meters[i].design_m3_s == drawn.valves[i].design_m3_s);
        }
        REQUIRE(a.dial.pumps.size() == drawn.pumps.size());
        for (std::size_t i = 0; i < a.dial.pumps.size(); ++i) {
            CHECK(a.dial.pumps[i].title == drawn.pumps[i].title);
            CHECK(a.dial.pumps[i].setting == drawn.pumps[i].setting);
            CHECK(a.dial.pumps[i].flow_m3_s == drawn.pumps[i].flow_m3_s);
        }
        CHECK_FALSE(a.dial.circulator_pa); // before the header it stays as it is
        CHECK_THAT(solver::report(a, solver::Format::Text),
                   Contains("Set points, of the house as drawn"));
    }
}

TEST_CASE("Where one circulator drives all, what is set is the house without its other pumps") {
    const networks::House house = tests::example_house("header-three-pumps.yaml");
    solver::DriveAnswer driven = solver::drive(house);
    REQUIRE(driven.verdict != solver::Verdict::Yes);
    driven.verdict = solver::Verdict::Yes;
    const solver::SiteSettings settings = solver::site_settings(house, driven);
    CHECK(settings.scope == solver::BalanceScope::SingleCirculator);
    CHECK_THAT(settings.house, Contains("other pumps, their mixers and a header taken out"));
    REQUIRE(settings.valves.size() == driven.emitters.size());
    for (std::size_t i = 0; i < settings.valves.size(); ++i)
        CHECK(settings.valves[i].takes_pa == driven.emitters[i].surplus_pa);
    CHECK(std::is_sorted(settings.order.begin(), settings.order.end(),
                         [&](std::size_t x, std::size_t y) {
                             return settings.valves[x].takes_pa > settings.valves[y].takes_pa;
                         }));
}

TEST_CASE(
    "A house that has nothing but its circulator is set as it is drawn, whatever the verdict") {
    const networks::House house = tests::example_house("small-bore-long.yaml");
    const solver::DriveAnswer driven = solver::drive(house);
    REQUIRE(driven.verdict != solver::Verdict::Yes);
    CHECK(solver::site_settings(house, driven).scope == solver::BalanceScope::SingleCirculator);
}

TEST_CASE("Cautions are those that the house calls for") {
    const auto of = [](const char *name) {
        return joined(solver::cautions(tests::example_house(name)));
    };
    const std::string cylinder = of("cylinder.yaml");
    CHECK_THAT(cylinder, Contains("unvented") && Contains("legionella") && Contains("scalds") &&
                             Contains("refrigerant") && Contains("high-limit"));
    CHECK_THAT(cylinder, !Contains("Gas work") && !Contains("Glycol"));
    CHECK_THAT(of("header-three-pumps.yaml"), Contains("Gas work") && !Contains("refrigerant"));
    CHECK_THAT(of("microbore-radiators.yaml"), !Contains("high-limit") && !Contains("screed"));
    CHECK_THAT(of("small-bore-long-glycol.yaml"), Contains("Glycol goes in with its inhibitor"));
    for (const char *name : {"cylinder.yaml", "header-three-pumps.yaml"})
        CHECK_THAT(of(name), Contains("local codes stand above this"));
}

TEST_CASE("A fire that cannot be switched off has cautions of its own, other sources have none") {
    networks::House house = tests::example_house("one-pipe-and-reverse-return.yaml");
    house.source->kind = networks::Source::Kind::SolidFuel;
    const std::string fire = joined(solver::cautions(house));
    CHECK_THAT(fire, Contains("licensed") && Contains("open vent") &&
                         Contains("thermal discharge") && Contains("no sealed system without") &&
                         Contains("carbon monoxide") && Contains("local codes"));
    CHECK_THAT(fire, !Contains("refrigerant") && !Contains("Gas work"));
    house.source->kind = networks::Source::Kind::Boiler;
    CHECK_THAT(joined(solver::cautions(house)), Contains("Gas work") && !Contains("open vent"));
}

TEST_CASE("Each floor's high-limit stat is shown where it stands, or where it has to") {
    const CommissionAnswer a = solver::commission(tests::example_house("header-protected.yaml"));
    REQUIRE(a.stats.size() == 2);
    CHECK(a.stats[0].there);
    CHECK_THAT(a.stats[0].stands, Contains("set to"));
    CHECK_THAT(a.stats[0].stops, Contains("pump of run `front floor feed`"));
    CHECK_FALSE(a.stats[1].there);
    CHECK_THAT(a.stats[1].stands, Contains("run `back floor feed`, behind its mixer and pump"));
    CHECK(a.stats[1].limit_c == 45.0);
    // Without a floor pump a valve has to shut, and the source to keep its flow.
    const CommissionAnswer direct = solver::commission(tests::example_house("warm-floor.yaml"));
    REQUIRE(direct.stats.size() == 1);
    CHECK_THAT(direct.stats[0].stops, Contains("valve that falls shut"));
}

TEST_CASE("A design flow off the scale of its loop's meter is marked in the table of meters") {
    std::string text = tests::example_text("direct-16mm.yaml");
    const std::string drop = "    valve_kv:";
    text.replace(text.find(drop), drop.size(),
                 "    meter: {from: 1.5 l/min, to: 6 l/min}\n" + drop);
    const CommissionAnswer a = solver::commission(tests::house_of(text));
    int off = 0;
    for (const solver::MeterRow &row : a.meters) {
        if (!row.meter) {
            CHECK(row.meter_holds);
            continue;
        }
        CHECK(row.meter_holds ==
              (row.design_m3_s * 6.0e4 >= 1.5 && row.design_m3_s * 6.0e4 <= 6.0));
        off += row.meter_holds ? 0 : 1;
    }
    REQUIRE(off > 0);
    CHECK_THAT(solver::report(a, solver::Format::Text),
               Contains("off the scale of its flow meter (1.50 to 6.00 l/min of"));
    CHECK_THAT(solver::report(a, solver::Format::Csv), Contains(",meter_holds,"));
}
