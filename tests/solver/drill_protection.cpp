// What counts as protection and what does not, on small houses.
#include "networks/protection.hpp"
#include "solver/questions/commission.hpp"
#include "solver/questions/drill.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

using namespace headroom;
using Catch::Contains;
using Catch::WithinAbs;
using solver::DrillAnswer;
using solver::FaultRow;

namespace {

// A floor and a radiator on the source's one circulator, with what the tests vary.
struct DirectHouse {
    std::string source;     // keys of the source
    std::string main, feed; // keys of the runs
    std::string manifold;   // keys of the manifold
    std::string radiators =
        "radiators: [{radiator: hall, room: hall, from: plant, pipe: copper 15, length: 3 m}]\n";
    std::string more;
    std::string fill = "fill: {pressure: 1.2 bar, vessel_at: source.return, "
                       "safety_valve_at: source.flow}\n";

    std::string text() const {
        return "house: direct\nwater: plain\n"
               "rooms: {den: {indoor: 20 degC, loss: 1200 W}, hall: {indoor: 18 degC, loss: 500 "
               "W}}\n"
               "source: {kind: heat_pump, flow_temperature: 40 degC, drop: 5 K, " +
               source +
               "circulator: {states: external, curve: [[0 m3/h, 50 kPa], [1.5 m3/h, 20 kPa]]}}\n"
               "pipework:\n"
               "  - {run: main, from: source, to: plant, pipe: copper 28, length: 6 m" +
               main +
               "}\n"
               "  - {run: feed, from: plant, to: floor, pipe: copper 22, length: 5 m" +
               feed +
               "}\n"
               "manifolds: {floor: {" +
               manifold +
               "loops: [{room: den, pipe: pex 16x2, length: 80 m}, {room: den, pipe: pex 16x2, "
               "length: 74 m}]}}\n" +
               radiators + more + fill;
    }
    networks::House house() const { return tests::house_of(text()); }
    DrillAnswer drilled() const { return solver::drill(house()); }
};

const FaultRow &row(const DrillAnswer &answer, const std::string &fault) {
    const auto found = std::find_if(answer.faults.begin(), answer.faults.end(),
                                    [&](const FaultRow &r) { return r.fault == fault; });
    INFO(fault);
    REQUIRE(found != answer.faults.end());
    REQUIRE(found->outcome.converged());
    return *found;
}

bool missing(const DrillAnswer &answer, const std::string &words) {
    return std::any_of(answer.missing.begin(), answer.missing.end(), [&](const auto &finding) {
        return finding.what.find(words) != std::string::npos;
    });
}

bool warned(const DrillAnswer &answer, const std::string &words) {
    return std::any_of(answer.warnings.begin(), answer.warnings.end(), [&](const auto &finding) {
        return finding.what.find(words) != std::string::npos;
    });
}

const std::string falling_valve =
    ", parts: [{part: zone_valve, name: floor valve, kv: 6 m3/h, without_power: shut}]";
const std::string valve_stat =
    ", high_limit: {at: 45 degC, stops: valve, valve: floor valve, stops_heat: yes}";
const std::string mixing = ", mixer: {kv: 4 m3/h, set: 35 degC}, pump: {model: generic 4 m, mode: "
                           "constant_pressure, setting: 2 m}";
const std::string hot = "highest_temperature: 60 degC, ";

} // namespace

// Common practice, no source: near 45 degC is the most that a screed floor's circuit should get.
TEST_CASE("a source that cannot exceed 45 degC needs no stat on a floor, one that can needs it") {
    DirectHouse house;
    for (const char *highest : {"45 degC", "46 degC"}) {
        house.source = std::string("highest_temperature: ") + highest + ", ";
        const DrillAnswer answer = house.drilled();
        CHECK(answer.missing.empty() == (std::string(highest) == "45 degC"));
        // In a direct system the floor gets what the source sends.
        CHECK_THAT(row(answer, "outdoor sensor failed").floors[0].fault.water_c.value(),
                   WithinAbs(answer.highest_c, 1e-9));
    }
}

TEST_CASE("a floor needs a stat whenever its source is able to overheat it, in drill as in "
          "commission") {
    struct Case {
        const char *highest;
        const char *stat;
        bool needs;
    };
    // A mixer stuck open brings 40 degC, and holds 35 against a source at 60: no single fault of
    // these is too hot, yet nothing shows the first of the two until the other comes.
    for (const Case &c : {Case{"60 degC", "", true}, Case{"45 degC", "", false},
                          Case{"60 degC", ", high_limit: {at: 45 degC, stops: pump}", false}}) {
        DirectHouse house;
        house.source = std::string("highest_temperature: ") + c.highest + ", ";
        house.feed = mixing + c.stat;
        const DrillAnswer drilled = house.drilled();
        for (const FaultRow &fault : drilled.faults)
            CHECK_FALSE(fault.missing);
        CHECK(missing(drilled, "no high-limit stat of floor keeps from it") == c.needs);
        CHECK(drilled.missing.empty() != c.needs);
        const solver::CommissionAnswer site = solver::commission(house.house());
        REQUIRE(site.stats.size() == 1);
        CHECK((site.stats[0].stands.find("MISSING") != std::string::npos) == c.needs);
        CHECK(site.stats[0].stops.empty() == (!c.needs && std::string(c.stat).empty()));
    }
}

TEST_CASE("what a source sends at most is assumed where the file is silent, and shown") {
    const DrillAnswer answer = DirectHouse{}.drilled();
    CHECK(answer.highest_c == 60.0);
    REQUIRE_FALSE(answer.assumed.empty());
    CHECK(answer.assumed[0].what == "highest flow temperature of a heat pump");
    DirectHouse stated;
    stated.source = hot + "";
    for (const solver::DrillAssumption &assumption : stated.drilled().assumed)
        CHECK_THAT(assumption.what, !Contains("highest flow temperature"));
}

TEST_CASE("a floor that is not described has no known surface temperature") {
    for (const FaultRow &fault : DirectHouse{}.drilled().faults)
        CHECK_FALSE(fault.floors[0].fault.surface_c.has_value());
}

TEST_CASE("without a floor pump a valve that falls shut protects, as the source's flow is kept") {
    DirectHouse house;
    house.source = hot;
    house.feed = falling_valve + valve_stat;
    const DrillAnswer answer = house.drilled();
    CHECK(answer.missing.empty());
    const FaultRow &fault = row(answer, "outdoor sensor failed");
    CHECK(fault.heat_stops);
    CHECK(fault.floors[0].fault.too_hot);
    CHECK_THAT(fault.floors[0].after.value().flow_m3_s, WithinAbs(0.0, 1e-12));
    CHECK(fault.source_after_m3_s.value() > 1e-5); // through the radiator
}

TEST_CASE("a stat that shuts the source's only way is missing protection, a bypass makes it good") {
    DirectHouse house;
    house.source = hot + "least_flow: 4 l/min, ";
    house.radiators = "";
    house.feed = falling_valve + valve_stat;
    const DrillAnswer shut = house.drilled();
    CHECK(missing(shut, "the source is left with less flow"));
    CHECK_THAT(row(shut, "outdoor sensor failed").source_after_m3_s.value(), WithinAbs(0.0, 1e-12));
    house.more = "bypasses: [{bypass: summer, at: plant, kv: 1 m3/h}]\n";
    CHECK(house.drilled().missing.empty());
}

TEST_CASE("a valve that does not fall shut, or heat that goes on, is missing protection") {
    DirectHouse house;
    house.source = hot;
    house.feed = ", parts: [{part: zone_valve, name: floor valve, kv: 6 m3/h}]" + valve_stat;
    const DrillAnswer stays = house.drilled();
    CHECK(missing(stays, "does not fall shut"));
    CHECK(row(stays, "outdoor sensor failed").floors[0].after.value().flow_m3_s > 0.0);
    house.feed = falling_valve +
                 ", high_limit: {at: 45 degC, stops: valve, valve: floor valve, stops_heat: "
                 "no}";
    CHECK(missing(house.drilled(), "does not stop the heat input"));
}

TEST_CASE("a stat on the return or before the mixer cannot feel the floor's water") {
    DirectHouse house;
    house.source = "flow_temperature: 55 degC, ";
    std::string text;
    const auto with = [&](const std::string &stat) {
        DirectHouse mixed;
        mixed.feed = mixing + ", high_limit: {at: 45 degC, stops: pump" + stat + "}";
        return mixed.drilled();
    };
    CHECK(missing(with(", side: return"), "on the return, behind the floor"));
    CHECK(missing(with(", end: from"), "before the mixer of its run"));
    CHECK_FALSE(missing(with(""), "it sits"));
    DirectHouse before;
    before.main = ", high_limit: {at: 45 degC, stops: pump, pump_of: feed}";
    before.feed = mixing;
    CHECK(missing(before.drilled(), "before the mixer of run feed"));
    DirectHouse elsewhere;
    elsewhere.more = "";
    elsewhere.radiators = "radiators: [{radiator: hall, room: hall, from: landing, pipe: copper "
                          "15, length: 3 m}]\n";
    elsewhere.feed = mixing + "}\n  - {run: riser, from: plant, to: landing, pipe: copper 15, "
                              "length: 3 m, high_limit: {at: 45 degC, stops: pump, pump_of: feed}";
    CHECK(missing(elsewhere.drilled(), "no floor is fed through its run"));
}

TEST_CASE("a stat on a manifold stops the nearest pump that feeds it") {
    DirectHouse house;
    house.feed = mixing;
    house.manifold = "high_limit: {at: 45 degC, stops: pump}, ";
    const auto stats = networks::high_limit_stats(house.house());
    REQUIRE(stats.size() == 1);
    CHECK(stats[0].blind.empty());
    CHECK(stats[0].pump_run == std::optional<std::size_t>(1));
    CHECK(stats[0].floors == std::vector<std::size_t>{0});
}

TEST_CASE("a stopped floor pump is no stop where the source's circulator pushes water through it") {
    // No header between: with the mixer stuck open the source's pump drives the floor in series.
    DirectHouse house;
    house.source = hot;
    house.feed = mixing + ", high_limit: {at: 45 degC, stops: pump}";
    const DrillAnswer answer = house.drilled();
    const FaultRow &fault = row(answer, "pump of feed stopped");
    CHECK(fault.creeps);
    CHECK(fault.creep_m3_s.value() > 0.0);
    DirectHouse warm = house;
    std::string text = warm.text();
    const std::string usual = "flow_temperature: 40 degC";
    text.replace(text.find(usual), usual.size(), "flow_temperature: 55 degC");
    const DrillAnswer driven = solver::drill(tests::house_of(text));
    const FaultRow &stuck = row(driven, "mixer of feed stuck open");
    CHECK(stuck.tripped == std::vector<std::string>{"run feed"});
    CHECK_THAT(stuck.floors[0].after.value().water_c.value(), WithinAbs(55.0, 1e-6));
    CHECK(stuck.floors[0].unprotected);
    CHECK(missing(driven, "trips, but it still comes"));
}

TEST_CASE("a stat set above what the floor takes does not protect it") {
    DirectHouse house;
    house.source = "highest_temperature: 52 degC, ";
    house.feed = falling_valve +
                 ", high_limit: {at: 55 degC, stops: valve, valve: floor valve, stops_heat: yes}";
    CHECK(missing(house.drilled(), "(55 degC) does not trip"));
}

TEST_CASE("a stat that trips without a fault is a warning") {
    DirectHouse house;
    house.source = "highest_temperature: 45 degC, ";
    house.feed = falling_valve +
                 ", high_limit: {at: 38 degC, stops: valve, valve: floor valve, stops_heat: yes}";
    const DrillAnswer answer = house.drilled();
    CHECK(answer.missing.empty());
    CHECK(warned(answer, "trips without a fault"));
}

TEST_CASE("a room cold without a fault is named again where a fault makes it colder") {
    DirectHouse house;
    house.feed = ", mixer: {kv: 4 m3/h, set: 35 degC}, pump: {model: generic 4 m, mode: "
                 "constant_pressure, setting: 0.1 m}"; // too weak for its loops
    const DrillAnswer answer = house.drilled();
    const auto names_den = [&](const FaultRow &fault) {
        return std::any_of(fault.cold.begin(), fault.cold.end(),
                           [](const auto &room) { return room.room == "den"; });
    };
    REQUIRE(names_den(answer.faults.front()));
    CHECK(names_den(row(answer, "mixer of feed stuck shut")));
    CHECK_FALSE(names_den(row(answer, "outdoor sensor failed"))); // the mixer holds as before
}

TEST_CASE("each zone shuts, each stays open alone, and a bypass is taken away") {
    DirectHouse house;
    std::string text = house.text();
    text.replace(text.find("{room: den, pipe"), 10, "{room: den, zone: one");
    text.replace(text.rfind("{room: den, pipe"), 10, "{room: den, zone: two");
    text += "bypasses: [{bypass: summer, at: plant, kv: 1 m3/h}]\n";
    const DrillAnswer answer = solver::drill(tests::house_of(text));
    const FaultRow &none = answer.faults.front();
    for (const char *fault : {"zone one shut", "zone two shut", "all zones shut but one",
                              "all zones shut but two", "bypass summer shut"}) {
        INFO(fault);
        // Less ways for the water: the falling curve of the circulator passes less.
        CHECK(row(answer, fault).source_m3_s < none.source_m3_s);
    }
    // Of two zones, one shut is the other open alone.
    CHECK(row(answer, "zone one shut").source_m3_s ==
          row(answer, "all zones shut but two").source_m3_s);
}

TEST_CASE("valves may not part the source from its vessel or safety valve") {
    const auto parted = [](const std::string &main, const std::string &feed,
                           const std::string &vessel, const std::string &safety) {
        DirectHouse house;
        house.main = main;
        house.feed = feed;
        house.fill = "fill: {pressure: 1.2 bar, vessel_at: " + vessel +
                     ", safety_valve_at: " + safety + "}\n";
        return networks::parted_from_source(house.house());
    };
    const std::string valve = ", parts: [{part: zone_valve, kv: 6 m3/h}]";
    CHECK(parted("", valve, "source.return", "source.flow").empty());
    // The floor's return has no valve; its flow lies between a zone valve and the loops' valves.
    CHECK(parted("", valve, "floor.return", "source.flow").empty());
    const auto behind = parted("", valve, "floor.flow", "source.flow");
    REQUIRE(behind.size() == 1);
    CHECK(behind[0].what == "the expansion vessel");
    CHECK_FALSE(behind[0].by_isolating_valves);
    for (const std::string kind : {"{part: balancing_valve, kvs: 4 m3/h}",
                                   "{part: flow_limiter, kv: 4 m3/h, limit: 12 "
                                   "l/min}",
                                   "{part: check_valve, kv: 6 m3/h}"})
        CHECK(parted("", ", parts: [" + kind + "]", "floor.flow", "source.flow").size() == 1);
    CHECK(parted("", mixing, "source.return", "floor.flow").size() == 1);
    CHECK(parted("", ", parts: [{part: resistance, kv: 6 m3/h}]", "floor.flow", "source.flow")
              .empty());
    const auto isolated =
        parted(", fittings: {full_bore_valve: 2}", "", "plant.return", "source.flow");
    REQUIRE(isolated.size() == 1);
    CHECK(isolated[0].by_isolating_valves);
    CHECK(isolated[0].runs == std::vector<std::string>{"main"});
}

TEST_CASE("a vessel that can be parted is missing protection, isolating valves are a warning") {
    DirectHouse house;
    house.source = "highest_temperature: 45 degC, ";
    house.feed = falling_valve;
    house.fill = "fill: {pressure: 1.2 bar, vessel_at: floor.flow}\n";
    const DrillAnswer parted = house.drilled();
    CHECK(missing(parted, "valves can part the source from the expansion vessel"));
    CHECK(warned(parted, "where the safety valve joins is not given"));
    house.fill =
        "fill: {pressure: 1.2 bar, vessel_at: plant.return, safety_valve_at: source.flow}\n";
    house.main = ", fittings: {full_bore_valve: 2}";
    const DrillAnswer isolated = house.drilled();
    CHECK(isolated.missing.empty());
    CHECK(warned(isolated, "isolating valves (main)"));
}

TEST_CASE("anti-freeze valves with glycol are a warning, with water they are not") {
    DirectHouse house;
    house.source = "highest_temperature: 45 degC, ";
    house.main = ", fittings: {anti_freeze_valve: 2}";
    CHECK_FALSE(warned(house.drilled(), "anti-freeze"));
    std::string text = house.text();
    text.replace(text.find("water: plain"), 12,
                 "water: {glycol: propylene, share: 25 %, by: mass}");
    CHECK(warned(solver::drill(tests::house_of(text)), "anti-freeze valves of run main"));
}

namespace {

// A stove whose heat leak is a radiator on a wide gravity pair.
std::string stove(const std::string &leak_level, const std::string &slumber) {
    return "house: stove\nwater: plain\n"
           "levels: {ground: 0 m, upstairs: 2.7 m}\n"
           "junctions: {leak: {level: " +
           leak_level +
           "}, plant: {level: ground}}\n"
           "rooms: {bath: {indoor: 22 degC, loss: 700 W}, hall: {indoor: 18 degC, loss: 900 W}}\n"
           "source: {kind: solid_fuel, heat_leak: gravity pair, slumber: " +
           slumber +
           ", flow_temperature: 65 degC, drop: 15 K, level: ground, "
           "circulator: {states: external, curve: [[0 m3/h, 30 kPa], [1.5 m3/h, 10 kPa]]}}\n"
           "pipework:\n"
           "  - {run: gravity pair, from: source, to: leak, pipe: copper 28, length: 4 m}\n"
           "  - {run: main, from: source, to: plant, pipe: copper 22, length: 6 m}\n"
           "radiators:\n"
           "  - {radiator: bath, room: bath, from: leak, pipe: copper 22, length: 1 m, valve_kv: 5 "
           "m3/h, lockshield_kv: 5 m3/h}\n"
           "  - {radiator: hall, room: hall, from: plant, pipe: copper 15, length: 3 m}\n";
}

} // namespace

TEST_CASE("a stove's heat leak takes its heat by gravity when the circulator stops") {
    const DrillAnswer answer = solver::drill(tests::house_of(stove("upstairs", "300 W")));
    const FaultRow &fault = row(answer, "source's circulator stopped");
    CHECK(fault.sent_c == 95.0); // its heat goes on
    CHECK(fault.taken_w.value() > 300.0);
    CHECK(answer.missing.empty());
}

TEST_CASE("a heat leak on the stove's own level, or too small a one, is missing protection") {
    // Without height warm water has nothing to rise to.
    const DrillAnswer level = solver::drill(tests::house_of(stove("ground", "300 W")));
    CHECK_THAT(row(level, "source's circulator stopped").taken_w.value(), WithinAbs(0.0, 1.0));
    CHECK(missing(level, "cannot be stopped"));
    const DrillAnswer small = solver::drill(tests::house_of(stove("upstairs", "6 kW")));
    CHECK(missing(small, "cannot be stopped"));
}

TEST_CASE("the single-circulator house and shut zones leave a stove its heat leak") {
    const networks::House house = tests::house_of(stove("upstairs", "300 W"));
    const networks::House bare = solver::with_zones(solver::single_circulator(house), {});
    CHECK(bare.source->kind == networks::Source::Kind::SolidFuel);
    // The leak takes as much as in the house as it was.
    CHECK_THAT(row(solver::drill(bare), "source's circulator stopped").taken_w.value(),
               Catch::WithinRel(
                   row(solver::drill(house), "source's circulator stopped").taken_w.value(), 1e-6));
}

TEST_CASE("a power cut stops every pump at once, and only a fire burns on") {
    const auto named = [](const DrillAnswer &answer) {
        return std::any_of(answer.faults.begin(), answer.faults.end(), [](const FaultRow &fault) {
            return fault.fault == "power cut, every pump stopped";
        });
    };
    CHECK_FALSE(named(DirectHouse{}.drilled())); // a heat pump stops with it
    // No other pump than the circulator: the same house without it.
    const DrillAnswer one = solver::drill(tests::house_of(stove("upstairs", "300 W")));
    const FaultRow &cut = row(one, "power cut, every pump stopped");
    CHECK(cut.sent_c == 95.0);
    CHECK_THAT(cut.taken_w.value(),
               Catch::WithinRel(row(one, "source's circulator stopped").taken_w.value(), 1e-9));
    CHECK(one.missing.empty());
    CHECK(missing(solver::drill(tests::house_of(stove("upstairs", "6 kW"))), "cannot be stopped"));
}

TEST_CASE("in a power cut mixers stay where they stand and valves that fall shut do") {
    std::string text = stove("upstairs", "300 W");
    const std::string main = "pipe: copper 22, length: 6 m";
    text.replace(text.find(main), main.size(),
                 main + ", mixer: {kv: 4 m3/h, set: 50 degC}, pump: {model: generic 4 m, mode: "
                        "constant_pressure, setting: 2 m}");
    const DrillAnswer mixed = solver::drill(tests::house_of(text));
    const FaultRow &cut = row(mixed, "power cut, every pump stopped");
    const FaultRow &circulator = row(mixed, "source's circulator stopped");
    // The floor's pump stands too: less is taken from the fire than where that alone runs on.
    CHECK(cut.taken_w.value() < circulator.taken_w.value());
    CHECK(cut.taken_w.value() > 300.0); // by the leak
    // A valve that falls shut leaves the leak alone, as one does that is shut all the time.
    text.replace(text.find(main), main.size(),
                 main + ", parts: [{part: zone_valve, name: v, kv: 6 m3/h, without_power: shut}]");
    networks::House house = tests::house_of(text);
    const double falls_w =
        row(solver::drill(house), "power cut, every pump stopped").taken_w.value();
    house.runs[1].parts[0].falls_shut = false;
    const double stays_w =
        row(solver::drill(house), "power cut, every pump stopped").taken_w.value();
    house.runs[1].parts[0].open = false;
    const double shut_w =
        row(solver::drill(house), "power cut, every pump stopped").taken_w.value();
    CHECK_THAT(falls_w, Catch::WithinRel(shut_w, 1e-6));
    CHECK(std::abs(falls_w - stays_w) > 1.0);
}
