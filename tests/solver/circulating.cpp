#include "solver/questions/circulating.hpp"

#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::tests;

namespace {

using Zones = std::vector<std::string>;

// A loop in its own zone on a run with another; `more` adds to the pipework.
networks::House house(const std::string &near_zone, const std::string &run_zone,
                      const std::string &more = "") {
    const std::string valve =
        run_zone.empty() ? "" : ", parts: [{part: zone_valve, kv: 5 m3/h, zone: " + run_zone + "}]";
    return house_of(R"(house: zoned
source:
  kind: heat_pump
  flow_temperature: 35 degC
  drop: 5 K
  circulator: {states: external, curve: [[0 m3/h, 40 kPa], [2 m3/h, 10 kPa]]}
pipework:
  - {run: feed, from: source, to: manifold, pipe: copper 22, length: 6 m)" +
                    valve + "}\n" + more + R"(manifolds:
  manifold:
    loops:
      - {loop: near, heat: 500 W, zone: )" +
                    near_zone + R"(, pipe: pex 16x2, length: 60 m}
      - {loop: far, heat: 500 W, pipe: pex 16x2, length: 80 m}
)");
}

} // namespace

TEST_CASE("a loop without a zone asks for none, and zones beside it for nothing more") {
    CHECK(solver::least_zone_sets(house("day", "")) == std::vector<Zones>{{}});
}

TEST_CASE("loops behind a zone valve ask for it, and a zone of their own besides is no least set") {
    CHECK(solver::least_zone_sets(house("day", "floor")) == std::vector<Zones>{{"floor"}});
}

TEST_CASE("of two ways to a loop, each with a zone of its own, one is enough") {
    const std::string second = "  - {run: second, from: source, to: manifold, pipe: copper 22, "
                               "length: 9 m, parts: [{part: zone_valve, kv: 5 m3/h, zone: b}]}\n";
    const std::vector<Zones> sets = solver::least_zone_sets(house("day", "a", second));
    REQUIRE(sets.size() == 1);
    CHECK(sets.front() == Zones{"b"});
}
