// Values that reach the house from their keys, in SI.
#include "networks/reader.hpp"

#include <catch2/catch.hpp>

#include <string>

using namespace headroom::networks;

namespace {

House read(const std::string &text) {
    Diagnostics diagnostics;
    auto house = read_house(text, diagnostics);
    std::string faults;
    for (const Diagnostic &fault : diagnostics.sorted())
        faults += render(fault, {"test.yaml", text});
    INFO(faults);
    REQUIRE(house.has_value());
    return *house;
}

std::string house_with(const std::string &more, const std::string &source = "kind: boiler",
                       const std::string &radiator = "") {
    return "house: Mill\n" + more + "rooms: {a: {indoor: 20 degC, loss: 900 W}}\nsource:\n  " +
           source +
           "\n  flow_temperature: 50 degC\n  drop: 10 K\n"
           "  circulator: {states: external, curve: [[0 m3/h, 6 m], [2 m3/h, 1 m]]}\n"
           "pipework: [{run: main, from: source, to: hall, pipe: copper 22, length: 5 m}]\n"
           "radiators: [{radiator: a, room: a, from: hall" +
           radiator + "}]\n";
}

} // namespace

TEST_CASE("a dry floor's groove board and its plate reach the floor's section") {
    const House house = read(house_with(
        "floors:\n  dry: {cover: 20 mm, conductivity: 0.3 W/(m K), covering: 0.05 m2 K/W, "
        "insulation: 40 mm, below: 18 degC, groove_board: {thickness: 25 mm, conductivity: 0.04 "
        "W/(m K), plate: {thickness: 0.45 mm, conductivity: 200 W/(m "
        "K), width: 120 mm}}}\n"));
    REQUIRE(house.floors.size() == 1);
    REQUIRE(house.floors[0].section.board);
    const auto &board = *house.floors[0].section.board;
    CHECK(board.thickness_m == Approx(0.025).epsilon(1e-12));
    CHECK(board.conductivity_w_m_k == 0.04);
    REQUIRE(board.plate);
    CHECK(board.plate->thickness_m == Approx(0.45e-3).epsilon(1e-12));
    CHECK(board.plate->conductivity_w_m_k == 200.0);
    CHECK(board.plate->width_m == Approx(0.12).epsilon(1e-12));
    // Not on the ground: 0.17 m2 K/W to the room below (EN 1264-2).
    CHECK(house.floors[0].section.lower_surface_resistance_m2k_w == 0.17);
}

TEST_CASE("a boiler that does not condense keeps its flue well above the dew point") {
    const auto approach = [](const std::string &condensing) {
        const House house = read(house_with(
            "", "kind: boiler\n  greatest_output: 18 kW\n  least_output: 6 kW" + condensing));
        return std::get<headroom::models::Boiler>(house.source->heat);
    };
    CHECK(approach("").condensing);
    CHECK(approach("\n  condensing: no").approach_k == 60.0);
    CHECK(approach("\n  condensing: no").approach_k > approach("").approach_k);
    CHECK(approach("").least_w == 6000.0);
}

TEST_CASE("what an air change carries is the standard's figure or the older British third") {
    CHECK(read(house_with("design_day: {outdoor: -3 degC}\n")).air_heat ==
          headroom::models::air_heat_standard);
    CHECK(read(house_with("design_day: {outdoor: -3 degC, air_heat: british}\n")).air_heat ==
          headroom::models::air_heat_british);
}

TEST_CASE("a radiator's valves stand as the file sets them") {
    const auto radiator = [](const std::string &keys) {
        return read(house_with("", "kind: boiler", keys)).emitters.at(0);
    };
    CHECK(radiator("").balancing.kind == Balancing::Kind::Open);
    CHECK(radiator(", open: no").balancing.kind == Balancing::Kind::Shut);
    const Emitter set = radiator(", set_kv: 0.35 m3/h, least_kv: 0.04 m3/h");
    CHECK(set.balancing.kind == Balancing::Kind::Kv);
    CHECK(set.balancing.kv_m3_h == 0.35);
    CHECK(set.least_kv_m3_h == 0.04);
}

TEST_CASE("a note and a network's own water temperature are kept") {
    const House house = read("house: Pipes\nnote: as surveyed\nwater: {plain: 15 degC}\n"
                             "pipework: [{run: main, one_way: true, from: top, to: tap, pipe: "
                             "copper 22, length: 6 m}]\n"
                             "ends: [{at: top, held_pressure: 2 bar}, {at: tap, fixed_flow: {out: "
                             "0.1 l/s}}]\n");
    CHECK(house.note == "as surveyed");
    CHECK(house.open_water_c == 15.0);
}
