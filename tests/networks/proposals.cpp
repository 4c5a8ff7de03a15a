#include "networks/reader.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace headroom::networks;

namespace {

const std::string base = R"(
house: base
rooms:
  kitchen: {indoor: 21 degC, loss: 900 W}
  landing: {indoor: 18 degC, loss: 400 W}
source:
  kind: boiler
  flow_temperature: 60 degC
  drop: 10 K
  circulator: {states: gross, curve: [[0 m3/h, 60 kPa], [2 m3/h, 10 kPa]]}
  inner: [{name: exchanger, kv: 4 m3/h}]
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 4 m}
  - {run: feed, from: header, to: manifold, pipe: copper 22, length: 6 m, mixer: {kv: 4 m3/h, position: 40 %}}
  - {run: riser, from: header, to: landing, pipe: copper 22, length: 5 m}
header: {bore: 80 mm, height: 0.5 m}
manifolds:
  manifold: {loops: [{room: kitchen, pipe: pex 16x2, length: 80 m}]}
radiators:
  - {radiator: landing, room: landing, from: landing}
proposals:
)";

House house_of(const std::string &proposals) {
    Diagnostics diagnostics;
    auto house = read_house(base + proposals, diagnostics);
    std::string faults;
    for (const auto &fault : diagnostics.sorted())
        faults += render(fault, {"test.yaml", base + proposals});
    INFO(faults);
    REQUIRE(house.has_value());
    return *house;
}

std::vector<Diagnostic> faults_of(const std::string &proposals) {
    Diagnostics diagnostics;
    CHECK_FALSE(read_house(base + proposals, diagnostics).has_value());
    return diagnostics.sorted();
}

} // namespace

TEST_CASE("a proposal changes what it names and leaves the rest and the base alone") {
    const House house = house_of(R"(
  wider:
    pipework: [{run: riser, pipe: copper 28}, {run: feed, mixer: none}]
    header: none
)");
    REQUIRE(house.proposals.size() == 1);
    const House &wider = *house.proposals[0].house;
    CHECK(wider.name == "base, wider");
    CHECK(wider.runs.size() == 3);
    CHECK(wider.runs[2].pipe.name == "copper 28x0.9");
    CHECK(wider.runs[2].flow.length_m == 5.0);
    CHECK_FALSE(wider.runs[1].mixer);
    CHECK_FALSE(wider.separator);
    CHECK(house.separator);
    CHECK(house.runs[1].mixer);
    CHECK(house.runs[2].pipe.name == "copper 22x0.9");
}

TEST_CASE("a map with replace stands in place of the base's, with nothing left of it") {
    const House house = house_of(R"(
  pump:
    source:
      replace: yes
      kind: heat_pump
      flow_temperature: 45 degC
      drop: 5 K
      circulator: {states: external, curve: [[0 m3/h, 60 kPa], [2 m3/h, 10 kPa]]}
)");
    const Source &source = *house.proposals[0].house->source;
    CHECK(source.kind == Source::Kind::HeatPump);
    CHECK(source.inner.empty());
    CHECK(house.source->inner.size() == 1);
}

TEST_CASE("items of a list are added, changed or taken away by name") {
    const House house = house_of(R"(
  other:
    rooms: {study: {indoor: 20 degC, loss: 300 W}}
    radiators:
      - {radiator: landing, remove: yes}
      - {radiator: study, room: study, from: landing}
)");
    const House &other = *house.proposals[0].house;
    REQUIRE(other.emitters.size() == 2);
    CHECK(other.emitters[1].name == "study");
    CHECK(other.rooms.size() == 3);
}

TEST_CASE("a proposal can build on an earlier one") {
    const House house = house_of(R"(
  first: {header: none}
  second: {builds_on: first, pipework: [{run: riser, length: 9 m}]}
)");
    CHECK_FALSE(house.proposals[1].house->separator);
    CHECK(house.proposals[1].house->runs[2].flow.length_m == 9.0);
    CHECK(house.proposals[0].house->runs[2].flow.length_m == 5.0);
}

TEST_CASE("a fault in a proposal is told at its place, with the proposal's name, and once") {
    const auto faults = faults_of(R"(
  bad: {pipework: [{run: riser, lenght: 9 m}]}
)");
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].message == "in proposal `bad`: run has no key `lenght`");
    CHECK(faults[0].place.line == std::count(base.begin(), base.end(), '\n') + 2);
}

TEST_CASE("what a proposal takes away or builds on must be there") {
    const auto codes = [](const std::string &proposals) {
        std::vector<std::string> out;
        for (const Diagnostic &fault : faults_of(proposals))
            out.push_back(fault.code);
        return out;
    };
    CHECK(codes("  bad: {hot_water: none}\n") == std::vector<std::string>{"nothing-to-remove"});
    CHECK(codes("  bad: {radiators: [{radiator: attic, remove: yes}]}\n") ==
          std::vector<std::string>{"nothing-to-remove"});
    CHECK(codes("  bad: {builds_on: better}\n") == std::vector<std::string>{"unknown-proposal"});
    CHECK(codes("  bad: {rooms: {kitchen: {loss: 0.9}}}\n") ==
          std::vector<std::string>{"missing-unit"});
}

TEST_CASE("a name that fits several items of the base is a fault") {
    Diagnostics diagnostics;
    std::string two = base;
    const std::string loop = "{room: kitchen, pipe: pex 16x2, length: 80 m}";
    two.insert(two.find(loop), loop + ", ");
    CHECK_FALSE(read_house(two + "  bad: {manifolds: {manifold: {loops: [{room: kitchen, length: "
                                 "70 m}]}}}\n",
                           diagnostics));
    const auto faults = diagnostics.sorted();
    CHECK(std::any_of(faults.begin(), faults.end(),
                      [](const Diagnostic &fault) { return fault.code == "which-one"; }));
}

TEST_CASE("the base's own faults are not told again for its proposals") {
    Diagnostics diagnostics;
    std::string faulty = base;
    faulty.replace(faulty.find("loss: 400 W"), 11, "loss: 400");
    CHECK_FALSE(read_house(faulty + "  fine: {header: none}\n", diagnostics));
    CHECK(diagnostics.sorted().size() == 1);
}

TEST_CASE("what the base says and the proposal keeps is told with the ways to part from it") {
    // A heat pump in a boiler's place, and its data-sheet curve over a gross one with inner losses.
    const auto faults = faults_of(R"(
  pump: {source: {kind: heat_pump, circulator: {states: external, model: generic 4 m}}}
)");
    REQUIRE(faults.size() == 2);
    for (const Diagnostic &fault : faults) {
        INFO(fault.code);
        CHECK((fault.code == "not-used" || fault.code == "one-too-many"));
        CHECK(fault.help.find("`replace: yes` puts its whole map") != std::string::npos);
    }
    CHECK(house_of(R"(
  pump: {source: {replace: yes, kind: heat_pump, flow_temperature: 45 degC, drop: 5 K, circulator: {states: external, model: generic 4 m}}}
)")
              .proposals.size() == 1);
}
