#include "networks/network.hpp"
#include "networks/reader.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

using namespace headroom::networks;
using Catch::WithinRel;
namespace models = headroom::models;
namespace fs = std::filesystem;

namespace {

House house_of(const std::string &text) {
    Diagnostics diagnostics;
    auto house = read_house(text, diagnostics);
    std::string told;
    for (const Diagnostic &diagnostic : diagnostics.sorted())
        told += render(diagnostic, {"house.yaml", text});
    INFO(told);
    REQUIRE(house);
    return *std::move(house);
}

// "owner | from > to | what": everything about a link but its numbers.
std::vector<std::string> links_of(const House &house) {
    const Network network = expand(house);
    std::vector<std::string> out;
    for (const Link &link : network.links)
        out.push_back(fmt::format("{} | {} > {} | {}", network.owner_name(house, link.owner),
                                  network.nodes[link.from].name, network.nodes[link.to].name,
                                  link.name));
    return out;
}

// Compares line by line, so that a difference names its link.
void check_links(const House &house, const std::string &expected) {
    const std::vector<std::string> links = links_of(house);
    std::istringstream lines(expected);
    std::string line;
    std::size_t i = 0;
    for (; std::getline(lines, line); ++i) {
        INFO("link " << i);
        REQUIRE(i < links.size());
        CHECK(links[i] == line);
    }
    CHECK(i == links.size());
}

// Like links_of, with every number that solving sees, to the last bit, in no order.
std::vector<std::string> content_of(const House &house) {
    const Network network = expand(house);
    std::vector<std::string> out = links_of(house);
    for (std::size_t i = 0; i < network.links.size(); ++i) {
        const Link &link = network.links[i];
        const auto fluid = models::fluid_state(network.fluid, link.expected_c);
        out[i] +=
            fmt::format(" | {} {:a} {:a} {:a} {:a} {} {:a} {:a} {:a}", link.component.index(),
                        network.nodes[link.from].elevation_m, network.nodes[link.to].elevation_m,
                        link.expected_c, flow_bounds(link.component).most_kg_s,
                        static_cast<int>(link.exchange.kind), link.exchange.sent_c,
                        link.exchange.rest_c, link.exchange.conductance_w_k);
        for (const double flow : {-0.05, 0.004, 0.2}) {
            double warm = 0.0;
            const auto loss = component_loss(link.component, fluid, flow, warm);
            out[i] += fmt::format(" {:a} {:a}", loss.pressure_pa, loss.slope_pa_s_per_kg);
        }
    }
    for (const EmitterLinks &emitter : network.emitters)
        out.push_back(fmt::format("{} carries {:a}", house.emitters[emitter.emitter].name,
                                  emitter.design_flow_kg_s));
    std::sort(out.begin(), out.end());
    return out;
}

std::string replaced(std::string text, const std::string &from, const std::string &to) {
    for (std::size_t at = text.find(from); at != std::string::npos;
         at = text.find(from, at + to.size()))
        text.replace(at, from.size(), to);
    return text;
}

const std::string head = R"(house: Mill
rooms: {a: {indoor: 20 degC, loss: 900 W}, b: {indoor: 18 degC, loss: 600 W}}
source:
  kind: boiler
  flow_temperature: 50 degC
  drop: 10 K
  circulator: {states: external, curve: [[0 m3/h, 6 m], [2 m3/h, 1 m]]}
)";

const std::string tree = head + R"(pipework:
  - {run: main, from: source, to: hall, pipe: copper 22, length: 5 m, fittings: {elbow: 4, y_strainer: 1}}
  - {run: floor, from: hall, to: manifold, pipe: copper 15, length: 3 m}
manifolds:
  manifold:
    bar: {bore: 28 mm}
    loops:
      - {room: a, pipe: pex 16x2, length: 60 m}
      - {room: a, pipe: pex 16x2, length: 30 m}
radiators:
  - {radiator: b, room: b, from: hall, pipe: copper 15, length: 2 m}
)";

const std::string ring = head + R"(pipework:
  - {run: out, one_way: yes, from: source.flow, to: p, pipe: copper 22, length: 5 m}
  - {run: past a, one_way: yes, from: p, to: q, pipe: copper 22, length: 1 m}
  - {run: past b, one_way: yes, from: q, to: r, pipe: copper 22, length: 1 m}
  - {run: home, one_way: yes, from: r, to: source.return, pipe: copper 22, length: 5 m}
radiators:
  - {radiator: a, room: a, from: p, to: q}
  - {radiator: b, room: b, from: q, to: r}
)";

const std::string reverse_return = head + R"(pipework:
  - {run: out, one_way: yes, from: source.flow, to: f1, pipe: copper 15, length: 5 m}
  - {run: on, one_way: yes, from: f1, to: f2, pipe: copper 15, length: 4 m}
  - {run: back on, one_way: yes, from: b1, to: b2, pipe: copper 15, length: 4 m}
  - {run: home, one_way: yes, from: b2, to: source.return, pipe: copper 15, length: 9 m}
radiators:
  - {radiator: a, room: a, from: f1, to: b1}
  - {radiator: b, room: b, from: f2, to: b2}
)";

const std::string header = head + R"(header: {bore: 80 mm, height: 0.6 m}
pipework:
  - {run: primaries, from: source, to: header, pipe: copper 28, length: 2 m}
  - run: floors
    from: header
    to: manifold
    pipe: copper 22
    length: 6 m
    mixer: {kv: 4 m3/h, position: 60 %}
    pump: {model: generic 4 m}
  - run: radiators
    from: header
    to: landing
    pipe: copper 15
    length: 8 m
    parts: [{part: check_valve, kv: 3 m3/h}, {part: zone_valve, kv: 2 m3/h, open: no, side: return}]
    pump: {model: generic 4 m, mode: stopped}
manifolds: {manifold: {loops: [{room: a, pipe: pex 16x2, length: 60 m}]}}
radiators: [{radiator: b, room: b, from: landing}]
)";

const std::string bypasses =
    head + R"(pipework: [{run: main, from: source, to: hall, pipe: copper 22, length: 5 m}]
radiators: [{radiator: b, room: b, from: hall}]
bypasses: [{bypass: end, at: hall, kv: 2 m3/h, opens: 20 kPa}, {bypass: open pipe, at: source, kv: 1 m3/h}]
)";

const std::string hot_water =
    head + R"(pipework: [{run: main, from: source, to: hall, pipe: copper 22, length: 5 m}]
radiators: [{radiator: b, room: b, from: hall}]
hot_water: {coil: {loss: 15 kPa, at_flow: 1.2 m3/h}, flow: 18 l/min, flow_temperature: 60 degC, after_run: coil}
)";

const std::string tee = head + R"(pipework:
  - {run: main, from: source, to: tee, pipe: copper 22, length: 5 m}
  - {run: on, from: tee, to: hall, pipe: copper 22, length: 5 m}
radiators: [{radiator: a, room: a, from: tee, pipe: copper 15, length: 2 m}, {radiator: b, room: b, from: hall}]
tees: [{at: tee, combined: main, through: on, branch: a, bore: 20.2 mm, branch_bore: 13.6 mm}]
)";

const std::string open_network = R"(house: Test rig
pipework:
  - {run: left, one_way: yes, from: tank, to: a, pipe: copper 22, length: 5 m}
  - {run: right, one_way: yes, from: tank, to: a, pipe: copper 15, length: 5 m}
ends: [{at: tank, open_vessel: {level: 3 m}}, {at: a, fixed_flow: {out: 0.1 l/s}}]
)";

} // namespace

TEST_CASE("A two-pipe tree has a flow and a return link chain for each run") {
    check_links(house_of(tree), R"(source | source.return > source.flow | circulator
run main, flow | source.flow > run main, flow, after pipe 5 m copper 22x0.9 | pipe 5 m copper 22x0.9
run main, flow | run main, flow, after pipe 5 m copper 22x0.9 > run main, flow, after y strainer | y strainer
run main, flow | run main, flow, after y strainer > hall.flow | 4 fittings, zeta 8
run main, return | hall.return > run main, return, after pipe 5 m copper 22x0.9 | pipe 5 m copper 22x0.9
run main, return | run main, return, after pipe 5 m copper 22x0.9 > run main, return, after y strainer | y strainer
run main, return | run main, return, after y strainer > source.return | 4 fittings, zeta 8
run floor, flow | hall.flow > manifold.flow | pipe 3 m copper 15x0.7
run floor, return | manifold.return > hall.return | pipe 3 m copper 15x0.7
manifold, flow bar | manifold.flow > manifold port 2.flow | pipe 0.05 m bar of 28 mm
manifold, return bar | manifold port 2.return > manifold.return | pipe 0.05 m bar of 28 mm
loop a 1 | manifold.flow > loop a 1, after balancing valve, open | balancing valve, open
loop a 1 | loop a 1, after balancing valve, open > manifold.return | pipe 60 m pex 16x2
loop a 2 | manifold port 2.flow > loop a 2, after balancing valve, open | balancing valve, open
loop a 2 | loop a 2, after balancing valve, open > manifold port 2.return | pipe 30 m pex 16x2
radiator b | hall.flow > radiator b, after pipe 2 m copper 15x0.7 | pipe 2 m copper 15x0.7
radiator b | radiator b, after pipe 2 m copper 15x0.7 > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > radiator b, after balancing valve, open | balancing valve, open
radiator b | radiator b, after balancing valve, open > hall.return | pipe 2 m copper 15x0.7
)");
}

TEST_CASE("A one-pipe ring passes from radiator to radiator") {
    check_links(house_of(ring), R"(source | source.return > source.flow | circulator
run out | source.flow > p | pipe 5 m copper 22x0.9
run past a | p > q | pipe 1 m copper 22x0.9
run past b | q > r | pipe 1 m copper 22x0.9
run home | r > source.return | pipe 5 m copper 22x0.9
radiator a | p > radiator a, after radiator valve | radiator valve
radiator a | radiator a, after radiator valve > radiator a, after radiator body | radiator body
radiator a | radiator a, after radiator body > q | balancing valve, open
radiator b | q > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > r | balancing valve, open
)");
}

TEST_CASE("A reverse return comes back in the order it went out") {
    check_links(house_of(reverse_return), R"(source | source.return > source.flow | circulator
run out | source.flow > f1 | pipe 5 m copper 15x0.7
run on | f1 > f2 | pipe 4 m copper 15x0.7
run back on | b1 > b2 | pipe 4 m copper 15x0.7
run home | b2 > source.return | pipe 9 m copper 15x0.7
radiator a | f1 > radiator a, after radiator valve | radiator valve
radiator a | radiator a, after radiator valve > radiator a, after radiator body | radiator body
radiator a | radiator a, after radiator body > b1 | balancing valve, open
radiator b | f2 > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > b2 | balancing valve, open
)");
}

TEST_CASE("A header joins flow and return, and its mixer draws from the secondary return") {
    check_links(house_of(header), R"(source | source.return > source.flow | circulator
header | header.flow > header, after entry and exit | entry and exit
header | header, after entry and exit > header.return | pipe 0.6 m bore 80 mm
run primaries, flow | source.flow > header.flow | pipe 2 m copper 28x0.9
run primaries, return | header.return > source.return | pipe 2 m copper 28x0.9
run floors, flow | header.flow > run floors, flow, after pipe 6 m copper 22x0.9 | pipe 6 m copper 22x0.9
run floors, flow | run floors, flow, after pipe 6 m copper 22x0.9 > run floors, mixed | mixer, hot port
run floors, flow | run floors, mixed > manifold.flow | pump
run floors, return | manifold.return > header.return | pipe 6 m copper 22x0.9
run floors, return | manifold.return > run floors, mixed | mixer, cold port
run radiators, flow | header.flow > run radiators, flow, after pipe 8 m copper 15x0.7 | pipe 8 m copper 15x0.7
run radiators, flow | run radiators, flow, after pipe 8 m copper 15x0.7 > run radiators, flow, after check valve | check valve
run radiators, flow | run radiators, flow, after check valve > landing.flow | pump, stopped
run radiators, return | landing.return > run radiators, return, after pipe 8 m copper 15x0.7 | pipe 8 m copper 15x0.7
run radiators, return | run radiators, return, after pipe 8 m copper 15x0.7 > header.return | zone valve, shut
loop a 1 | manifold.flow > loop a 1, after balancing valve, open | balancing valve, open
loop a 1 | loop a 1, after balancing valve, open > manifold.return | pipe 60 m pex 16x2
radiator b | landing.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > landing.return | balancing valve, open
)");
}

TEST_CASE("A mixer at the start of a run draws from the return before the header") {
    check_links(house_of(replaced(header, "position: 60 %", "position: 100 %, end: from")),
                R"(source | source.return > source.flow | circulator
header | header.flow > header, after entry and exit | entry and exit
header | header, after entry and exit > header.return | pipe 0.6 m bore 80 mm
run primaries, flow | source.flow > header.flow | pipe 2 m copper 28x0.9
run primaries, return | header.return > source.return | pipe 2 m copper 28x0.9
run floors, flow | header.flow > run floors, mixed | mixer, hot port
run floors, flow | run floors, mixed > run floors, flow, after pump | pump
run floors, flow | run floors, flow, after pump > manifold.flow | pipe 6 m copper 22x0.9
run floors, return | manifold.return > run floors, mixing tee | pipe 6 m copper 22x0.9
run floors, return | run floors, mixing tee > header.return | tee
run floors, return | run floors, mixing tee > run floors, mixed | mixer, cold port, shut
run radiators, flow | header.flow > run radiators, flow, after pipe 8 m copper 15x0.7 | pipe 8 m copper 15x0.7
run radiators, flow | run radiators, flow, after pipe 8 m copper 15x0.7 > run radiators, flow, after check valve | check valve
run radiators, flow | run radiators, flow, after check valve > landing.flow | pump, stopped
run radiators, return | landing.return > run radiators, return, after pipe 8 m copper 15x0.7 | pipe 8 m copper 15x0.7
run radiators, return | run radiators, return, after pipe 8 m copper 15x0.7 > header.return | zone valve, shut
loop a 1 | manifold.flow > loop a 1, after balancing valve, open | balancing valve, open
loop a 1 | loop a 1, after balancing valve, open > manifold.return | pipe 60 m pex 16x2
radiator b | landing.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > landing.return | balancing valve, open
)");
}

TEST_CASE("A bypass joins the flow and return of its place") {
    check_links(house_of(bypasses), R"(source | source.return > source.flow | circulator
run main, flow | source.flow > hall.flow | pipe 5 m copper 22x0.9
run main, return | hall.return > source.return | pipe 5 m copper 22x0.9
radiator b | hall.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > hall.return | balancing valve, open
bypass end | hall.flow > hall.return | bypass valve
bypass open pipe | source.flow > source.return | bypass
)");
}

TEST_CASE("The diverter's coil port is shut while the house is heated") {
    check_links(house_of(hot_water), R"(source | source.return > source.flow | circulator
run main, flow | source.flow, heating side > hall.flow | pipe 5 m copper 22x0.9
run main, return | hall.return > source.return | pipe 5 m copper 22x0.9
radiator b | hall.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > hall.return | balancing valve, open
hot water | source.flow > hot water, after cylinder coil | cylinder coil
hot water | hot water, after cylinder coil > source.return | diverter, coil port, shut
hot water | source.flow > source.flow, heating side | diverter, heating port
)");
}

TEST_CASE("The diverter shuts all that is fed from its place while hot water is made") {
    House house = house_of(hot_water);
    house.condition.hot_water = true;
    check_links(house, R"(source | source.return > source.flow | circulator
run main, flow | source.flow, heating side > hall.flow | pipe 5 m copper 22x0.9
run main, return | hall.return > source.return | pipe 5 m copper 22x0.9
radiator b | hall.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > hall.return | balancing valve, open
hot water | source.flow > hot water, after cylinder coil | cylinder coil
hot water | hot water, after cylinder coil > source.return | coil flow
hot water | source.flow > source.flow, heating side | diverter, heating port, shut
)");
}

TEST_CASE("A tee has a leg for its through way and its branch, on flow and return") {
    check_links(house_of(tee), R"(source | source.return > source.flow | circulator
run main, flow | source.flow > tee.flow | pipe 5 m copper 22x0.9
run main, return | tee.return > source.return | pipe 5 m copper 22x0.9
run on, flow | tee.flow, through leg > hall.flow | pipe 5 m copper 22x0.9
run on, return | hall.return > tee.return, through leg | pipe 5 m copper 22x0.9
radiator a | tee.flow, branch leg > radiator a, after pipe 2 m copper 15x0.7 | pipe 2 m copper 15x0.7
radiator a | radiator a, after pipe 2 m copper 15x0.7 > radiator a, after radiator valve | radiator valve
radiator a | radiator a, after radiator valve > radiator a, after radiator body | radiator body
radiator a | radiator a, after radiator body > radiator a, after balancing valve, open | balancing valve, open
radiator a | radiator a, after balancing valve, open > tee.return, branch leg | pipe 2 m copper 15x0.7
radiator b | hall.flow > radiator b, after radiator valve | radiator valve
radiator b | radiator b, after radiator valve > radiator b, after radiator body | radiator body
radiator b | radiator b, after radiator body > hall.return | balancing valve, open
run on, flow | tee.flow > tee.flow, through leg | tee, through
radiator a | tee.flow > tee.flow, branch leg | tee, branch
run on, return | tee.return, through leg > tee.return | tee, through
radiator a | tee.return, branch leg > tee.return | tee, branch
)");
}

TEST_CASE("An open network is its one-way runs and nothing else") {
    check_links(house_of(open_network), R"(run left | tank > a | pipe 5 m copper 22x0.9
run right | tank > a | pipe 5 m copper 15x0.7
)");
}

TEST_CASE("Positions, settings and states become components of the right size") {
    const Network network = expand(house_of(header));
    const auto component = [&](const std::string &name) -> const Component & {
        const auto found = std::find_if(network.links.begin(), network.links.end(),
                                        [&](const Link &link) { return link.name == name; });
        REQUIRE(found != network.links.end());
        return found->component;
    };
    CHECK_THAT(std::get<FlowFactor>(component("mixer, hot port")).kv_m3_h, WithinRel(2.4, 1e-15));
    CHECK_THAT(std::get<FlowFactor>(component("mixer, cold port")).kv_m3_h, WithinRel(1.6, 1e-15));
    CHECK(std::holds_alternative<RunningPump>(component("pump")));
    CHECK(std::holds_alternative<StoppedPump>(component("pump, stopped")));
    CHECK(std::get<OneWay>(component("check valve")).opens_pa == 0.0);
    CHECK(std::holds_alternative<Shut>(component("zone valve, shut")));
    CHECK_THAT(std::get<PipeFriction>(component("pipe 6 m copper 22x0.9")).pipe.bore_m,
               WithinRel(0.0202, 1e-12));
    const Network passing = expand(house_of(bypasses));
    CHECK(std::get<OneWay>(passing.links[6].component).opens_pa == 20e3);
    CHECK(std::get<FlowFactor>(passing.links[7].component).kv_m3_h == 1.0);
}

TEST_CASE("Ends hold pressures and flows at their nodes") {
    const Network network = expand(house_of(open_network));
    REQUIRE(network.held.size() == 1);
    REQUIRE(network.fixed.size() == 1);
    CHECK(network.nodes[network.held[0].node].name == "tank");
    CHECK_THAT(network.held[0].pressure_pa,
               WithinRel(3.0 * 9.80665 * network.reference_density_kg_m3, 1e-12));
    CHECK(network.nodes[network.fixed[0].node].name == "a");
    CHECK_THAT(network.fixed[0].in_kg_s, WithinRel(-1e-4 * network.reference_density_kg_m3, 1e-12));
}

TEST_CASE("A chain climbs in its pipe, and its fittings stay on the level they are at") {
    const House house = house_of(replaced(
        tree, "pipework:", "levels: {ground: 0.4 m}\njunctions: {hall: {level: 3 m}}\npipework:"));
    const Network network = expand(house);
    for (const Link &link : network.links) {
        if (link.owner.kind != Owner::Kind::Run || house.runs[link.owner.index].name != "main")
            continue;
        const bool pipe = std::holds_alternative<PipeFriction>(link.component);
        INFO(link.name);
        CHECK((network.nodes[link.from].elevation_m != network.nodes[link.to].elevation_m) == pipe);
    }
}

TEST_CASE("Names do not change what a network holds") {
    const std::vector<std::pair<std::string, std::string>> names{
        {"hall", "zenith"}, {"main", "aardvark"}, {"floor", "second"}, {"manifold:", "manifold:"}};
    for (const std::string &text : {tree, tee, bypasses, hot_water}) {
        std::string renamed = text;
        auto expected = content_of(house_of(text));
        for (const auto &[from, to] : names) {
            renamed = replaced(renamed, from, to);
            for (std::string &line : expected)
                line = replaced(line, from, to);
        }
        std::sort(expected.begin(), expected.end());
        CHECK(content_of(house_of(renamed)) == expected);
    }
}

TEST_CASE("The order of runs, radiators and rooms does not change what a network holds") {
    for (const std::string &text : {tree, ring, reverse_return, header, tee}) {
        House house = house_of(text);
        const auto expected = content_of(house);
        std::reverse(house.runs.begin(), house.runs.end());
        std::reverse(house.rooms.begin(), house.rooms.end());
        CHECK(content_of(house) == expected);
    }
    const std::string a = "  - {radiator: a, room: a, from: p, to: q}\n";
    const std::string b = "  - {radiator: b, room: b, from: q, to: r}\n";
    CHECK(content_of(house_of(replaced(ring, a + b, b + a))) == content_of(house_of(ring)));
}

TEST_CASE("A house expands to the same network every time") {
    for (const std::string &text : {tree, header, tee, hot_water})
        CHECK(content_of(house_of(text)) == content_of(house_of(text)));
}

TEST_CASE("A room's loss is shared by its loops' lengths, and a stated heat comes off first") {
    const House house = house_of(tree);
    CHECK_THAT(house.emitters[0].heat_w, WithinRel(600.0, 1e-12));
    CHECK_THAT(house.emitters[1].heat_w, WithinRel(300.0, 1e-12));
    CHECK_THAT(house.emitters[2].heat_w, WithinRel(600.0, 1e-12));
    const House stated = house_of(replaced(tree, "length: 60 m", "length: 60 m, heat: 700 W"));
    CHECK_THAT(stated.emitters[0].heat_w, WithinRel(700.0, 1e-12));
    CHECK_THAT(stated.emitters[1].heat_w, WithinRel(200.0, 1e-12));
}

TEST_CASE("A design flow carries the heat at its drop") {
    const House house = house_of(tree);
    for (const Emitter &emitter : house.emitters) {
        const double c = models::fluid_state(house.fluid, 45.0).heat_capacity_j_kg_k;
        CHECK_THAT(design_flow_kg_s(house, emitter) * c * 10.0, WithinRel(emitter.heat_w, 1e-12));
    }
}

TEST_CASE("A network names just the habits it leans on") {
    const auto used = [](const std::string &text) {
        const auto bits = expand(house_of(text)).used_habits;
        std::vector<Habit> out;
        for (std::size_t i = 0; i < bits.size(); ++i)
            if (bits[i])
                out.push_back(static_cast<Habit>(i));
        return out;
    };
    using Used = std::vector<Habit>;
    CHECK(used(tree) == Used{Habit::CurvedShare, Habit::BendDiameter, Habit::LoopValveKv,
                             Habit::RadiatorValveKv, Habit::LockshieldKv, Habit::RadiatorZeta});
    CHECK(used(ring) == Used{Habit::RadiatorValveKv, Habit::LockshieldKv, Habit::RadiatorZeta});
    CHECK(used(open_network).empty());
    const std::string stated = replaced(
        replaced(tree, "pipe: pex 16x2,",
                 "pipe: pex 16x2, curved: 20 %, bends: 300 mm, valve_kv: 1 m3/h,"),
        "from: hall, pipe", "from: hall, valve_kv: 1 m3/h, lockshield_kv: 1 m3/h, zeta: 2, pipe");
    CHECK(used(stated).empty());
    CHECK(used(stated + "water: {glycol: propylene, share: 25 %, by: mass}\n") ==
          Used{Habit::GlycolDerating});
    CHECK(used(replaced(stated, "states: external,", "states: external, derating: 5 %,") +
               "water: {glycol: propylene, share: 25 %, by: mass}\n")
              .empty());
}

TEST_CASE("Every example house reads without a fault and expands to one connected network") {
    int count = 0;
    for (const auto &entry : fs::directory_iterator(fs::path(SOURCE_DIR) / "networks/examples")) {
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string text{std::istreambuf_iterator<char>(in),
                               std::istreambuf_iterator<char>()};
        INFO(entry.path().filename());
        const House house = house_of(text);
        const Network network = expand(house);
        std::vector<char> reached(network.nodes.size(), 0);
        reached[0] = 1;
        for (bool more = true; more;) {
            more = false;
            for (const Link &link : network.links)
                if (reached[link.from] != reached[link.to]) {
                    reached[link.from] = reached[link.to] = 1;
                    more = true;
                }
        }
        CHECK(std::find(reached.begin(), reached.end(), 0) == reached.end());
        CHECK(network.emitters.size() == house.emitters.size());
        for (const EmitterLinks &emitter : network.emitters) {
            CHECK(emitter.design_flow_kg_s > 0.0);
            CHECK(emitter.balancing);
        }
        ++count;
    }
    CHECK(count > 0);
}
