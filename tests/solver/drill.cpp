// Faults put into the header house of the examples, with what follows by continuity, mixing and
// hydrostatics.
#include "solver/questions/drill.hpp"

#include "models/fluid.hpp"
#include "models/units.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

using namespace headroom;
using Catch::Contains;
using Catch::WithinAbs;
using Catch::WithinRel;
using solver::DrillAnswer;
using solver::FaultRow;
using solver::FloorRow;

namespace {

constexpr double sent_c = 55.0;     // of the example's source
constexpr double opens_pa = 1000.0; // its check valves
constexpr double outdoor_c = -3.0;
constexpr double mixed_c = 37.0;
constexpr double temperature_tolerance_k = 1e-5; // ten times what mixers are settled to

const DrillAnswer &mill_barn() {
    static const DrillAnswer answer = solver::drill(tests::example_house("header-protected.yaml"));
    return answer;
}

const FaultRow &row(const DrillAnswer &answer, const std::string &fault) {
    const auto found = std::find_if(answer.faults.begin(), answer.faults.end(),
                                    [&](const FaultRow &r) { return r.fault == fault; });
    INFO(fault);
    REQUIRE(found != answer.faults.end());
    REQUIRE(found->outcome.converged());
    return *found;
}

const FloorRow &floor_of(const FaultRow &fault, const std::string &name) {
    const auto found = std::find_if(fault.floors.begin(), fault.floors.end(),
                                    [&](const FloorRow &f) { return f.floor == name; });
    REQUIRE(found != fault.floors.end());
    return *found;
}

std::vector<std::string> cold_names(const FaultRow &fault) {
    std::vector<std::string> names;
    for (const solver::RoomShare &room : fault.cold)
        names.push_back(room.room);
    std::sort(names.begin(), names.end());
    return names;
}

std::string mill_barn_with(const std::string &from, const std::string &to) {
    std::string text = tests::example_text("header-protected.yaml");
    REQUIRE(text.find(from) != std::string::npos);
    return text.replace(text.find(from), from.size(), to);
}

double density_at(double celsius) {
    return models::fluid_state({}, celsius).density_kg_m3;
}

} // namespace

TEST_CASE(
    "without a fault both floors of the header house get their mixed water, no room is cold") {
    const FaultRow &none = mill_barn().faults.front();
    CHECK(none.fault == "no fault");
    for (const FloorRow &floor : none.floors) {
        CHECK_THAT(floor.fault.water_c.value(), WithinAbs(mixed_c, temperature_tolerance_k));
        CHECK_FALSE(floor.fault.too_hot);
        CHECK_FALSE(floor.after.has_value());
    }
    CHECK(none.cold.empty());
    CHECK(none.tripped.empty());
}

TEST_CASE("every part of the header house that can fail fails once") {
    std::vector<std::string> names;
    for (const FaultRow &fault : mill_barn().faults)
        names.push_back(fault.fault);
    for (const char *run : {"front floor feed", "back floor feed", "radiator riser"}) {
        const std::string of = std::string(" of ") + run;
        CHECK(std::count(names.begin(), names.end(), "pump" + of + " stopped") == 1);
        CHECK(std::count(names.begin(), names.end(), "check valve" + of + " stuck open") == 1);
        CHECK(std::count(names.begin(), names.end(), "check valve" + of + " stuck shut") == 1);
        const int mixers = std::string(run) == "radiator riser" ? 0 : 1;
        CHECK(std::count(names.begin(), names.end(), "mixer" + of + " stuck open") == mixers);
        CHECK(std::count(names.begin(), names.end(), "mixer" + of + " stuck shut") == mixers);
    }
    for (const char *fault :
         {"source's circulator stopped", "upstairs valve of radiator riser shut",
          "outdoor sensor failed", "source at its highest temperature"})
        CHECK(std::count(names.begin(), names.end(), fault) == 1);
    std::sort(names.begin(), names.end());
    CHECK(std::adjacent_find(names.begin(), names.end()) == names.end());
}

TEST_CASE("a mixer stuck open sends water at the source's temperature to its floor") {
    // Fully open, the cold port is shut; the header passes source water as the primary flow exceeds
    // what the circuits behind it draw, and pipes lose no heat here.
    for (const char *which : {"front", "back"}) {
        const std::string name(which);
        const FaultRow &fault = row(mill_barn(), "mixer of " + name + " floor feed stuck open");
        const FloorRow &floor = floor_of(fault, name + " manifold");
        CHECK_THAT(floor.fault.water_c.value(), WithinAbs(sent_c, 1e-9));
        CHECK(floor.fault.too_hot);
        // The floor's own surface lies between its room and its water.
        CHECK(floor.fault.surface_c.value() < sent_c);
        CHECK(floor.fault.surface_c.value() >
              mill_barn().faults.front().floors[0].fault.surface_c.value());
    }
}

TEST_CASE("the stat of the front floor stops its pump, and with it all of its water") {
    // What could still push water through the stopped pump is the weight of the header's height of
    // cold water against hot; it is far below what the check valve needs to open.
    const double buoyancy_pa =
        (density_at(5.0) - density_at(sent_c)) * models::gravity_m_per_s2 * 0.6;
    REQUIRE(buoyancy_pa < opens_pa);
    const FaultRow &fault = row(mill_barn(), "mixer of front floor feed stuck open");
    const FloorRow &floor = floor_of(fault, "front manifold");
    CHECK(fault.tripped == std::vector<std::string>{"run front floor feed"});
    CHECK(floor.behind == fault.tripped);
    CHECK(floor.after.value().flow_m3_s < 1e-9);
    CHECK_FALSE(floor.after.value().water_c.has_value());
    CHECK_FALSE(floor.unprotected);
    CHECK_FALSE(fault.missing);
    // Its rooms have no other heat: in time they are as cold as outdoors.
    CHECK(cold_names(fault) == std::vector<std::string>{"dining", "kitchen"});
    for (const solver::RoomShare &room : fault.cold)
        CHECK_THAT(room.reached_c.value(), WithinAbs(outdoor_c, 0.01));
}

TEST_CASE("the back floor without a stat keeps its hot water, which is missing protection") {
    const FaultRow &fault = row(mill_barn(), "mixer of back floor feed stuck open");
    CHECK(fault.tripped.empty());
    CHECK(floor_of(fault, "back manifold").unprotected);
    CHECK_FALSE(floor_of(fault, "front manifold").unprotected);
    CHECK(fault.missing);
    REQUIRE(mill_barn().missing.size() == 1);
    const solver::Finding &finding = mill_barn().missing.front();
    CHECK_THAT(finding.what,
               Contains("back manifold") && Contains("45 degC") && Contains("no high-limit stat"));
    REQUIRE(finding.faults.size() == 1);
    CHECK_THAT(finding.faults.front(),
               Contains("mixer of back floor feed stuck open") && Contains("55.0 degC"));
}

TEST_CASE("a stat on the back floor too makes the header house protected") {
    const DrillAnswer answer = solver::drill(tests::house_of(mill_barn_with(
        "    to: back manifold\n", "    to: back manifold\n    high_limit: {at: 45 degC, stops: "
                                   "pump}\n")));
    CHECK(answer.stats == 2);
    CHECK(answer.missing.empty());
    CHECK(floor_of(row(answer, "mixer of back floor feed stuck open"), "back manifold")
              .after.value()
              .flow_m3_s < 1e-9);
}

TEST_CASE("a mixer stuck shut leaves its floor the water of its own return") {
    // No heat enters: the loops end between the ground below and the rooms that cool with them.
    const FaultRow &fault = row(mill_barn(), "mixer of front floor feed stuck shut");
    const FloorRow &floor = floor_of(fault, "front manifold");
    CHECK(floor.fault.flow_share > 0.9); // the pump runs on, round the floor alone
    CHECK(floor.fault.water_c.value() < 10.0);
    CHECK(floor.fault.water_c.value() > outdoor_c);
    CHECK(cold_names(fault) == std::vector<std::string>{"dining", "kitchen"});
}

TEST_CASE("a low-loss header keeps the source's flow whatever fails behind it") {
    // Its resistance is some pascals against kilopascals of the primary circuit.
    const double flow = mill_barn().faults.front().source_m3_s;
    for (const FaultRow &fault : mill_barn().faults)
        if (fault.fault != "source's circulator stopped") {
            INFO(fault.fault);
            CHECK_THAT(fault.source_after_m3_s.value_or(fault.source_m3_s), WithinRel(flow, 0.01));
            CHECK_FALSE(fault.below_least);
        }
}

TEST_CASE("with its own circulator stopped the source falls below its least flow") {
    const FaultRow &fault = row(mill_barn(), "source's circulator stopped");
    CHECK(fault.source_m3_s < mill_barn().least_flow_m3_s.value());
    CHECK(fault.below_least);
    CHECK(fault.cold.size() == 5);
    CHECK_FALSE(fault.missing); // nothing gets too hot by it
}

TEST_CASE("a stopped pump with a check valve passes nothing") {
    // The riser's column of source water against one at room temperature: less than the valve
    // needs.
    const double buoyancy_pa =
        (density_at(10.0) - density_at(sent_c)) * models::gravity_m_per_s2 * (2.7 + 0.6);
    REQUIRE(buoyancy_pa < opens_pa);
    for (const char *run : {"front floor feed", "back floor feed", "radiator riser"}) {
        const FaultRow &fault = row(mill_barn(), std::string("pump of ") + run + " stopped");
        CHECK_THAT(fault.creep_m3_s.value(), WithinAbs(0.0, 1e-9));
        CHECK_FALSE(fault.creeps);
    }
}

TEST_CASE("a stopped pump passes water where buoyancy exceeds the check valve's opening pressure") {
    // Water at 55 and at most 21 degC, 2.7 m apart in height: 331 Pa at most.
    const double most_pa = (density_at(21.0) - density_at(sent_c)) * models::gravity_m_per_s2 * 2.7;
    const std::string valve = "opens: 1 kPa, side: return}\n      - {part: zone_valve";
    for (const double share : {0.2, 1.5}) {
        const std::string opens = std::to_string(share * most_pa) + " Pa";
        const DrillAnswer answer = solver::drill(tests::house_of(mill_barn_with(
            valve, "opens: " + opens + ", side: return}\n      - {part: zone_valve")));
        const FaultRow &fault = row(answer, "pump of radiator riser stopped");
        INFO(opens);
        if (share > 1.0)
            CHECK_THAT(fault.creep_m3_s.value(), WithinAbs(0.0, 1e-9));
        else
            CHECK(fault.creep_m3_s.value() > 1e-6);
    }
}

TEST_CASE(
    "a check valve stuck open lets a warm riser creep while its pump rests, a level floor not") {
    const FaultRow &riser =
        row(mill_barn(), "check valve of radiator riser stuck open, pump at rest");
    CHECK(riser.creeps);
    CHECK(riser.creep_m3_s.value() > 0.0); // upwards, with the warm water
    CHECK(riser.cold.empty());             // the pump rests as no room asks
    // The floor lies below the header's flow connection: warm water stays above cold.
    CHECK_FALSE(
        row(mill_barn(), "check valve of front floor feed stuck open, pump at rest").creeps);
}

TEST_CASE("a zone valve shut takes the heat of its rooms alone") {
    const FaultRow &fault = row(mill_barn(), "upstairs valve of radiator riser shut");
    CHECK(cold_names(fault) == std::vector<std::string>{"bed 1", "bed 2"});
    for (const solver::RoomShare &room : fault.cold)
        CHECK_THAT(room.reached_c.value(), WithinAbs(outdoor_c, 0.01));
    for (std::size_t m = 0; m < fault.floors.size(); ++m)
        CHECK_THAT(fault.floors[m].fault.flow_m3_s,
                   WithinRel(mill_barn().faults.front().floors[m].fault.flow_m3_s, 0.01));
}

TEST_CASE("mixers that hold their temperature keep a source at its highest from the floors") {
    for (const char *fault : {"outdoor sensor failed", "source at its highest temperature"}) {
        const FaultRow &hot = row(mill_barn(), fault);
        CHECK(hot.sent_c == 75.0);
        for (const FloorRow &floor : hot.floors)
            CHECK_THAT(floor.fault.water_c.value(), WithinAbs(mixed_c, temperature_tolerance_k));
    }
}

TEST_CASE("mixers that stand still pass a hotter source on in proportion") {
    // Hot and return water in a fixed ratio: the mixed water's excess over the rooms follows the
    // source's, here from 60 - 20 to 80 - 20, but for densities and viscosities.
    const DrillAnswer answer = solver::drill(tests::example_house("header-three-pumps.yaml"));
    const double usual = *answer.faults.front().floors[0].fault.water_c - 20.0;
    const double hot = *row(answer, "outdoor sensor failed").floors[0].fault.water_c - 20.0;
    CHECK_THAT(hot / usual, WithinRel((80.0 - 20.0) / (60.0 - 20.0), 0.03));
    CHECK(answer.faults.front().missing); // above 45 degC even without a fault
}
