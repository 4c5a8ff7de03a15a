// Rooms laid by the program: arithmetic by hand, and that no choice was better.
#include "solver/questions/lay.hpp"

#include "solver/questions/size.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;

namespace {

std::string house_text(const std::string &rooms, const std::string &flow_temperature) {
    return R"(
house: laid
rooms:
  kitchen: {floor_area: 20 m2, indoor: 21 degC, loss: 900 W}
  hall: {floor_area: 9 m2, indoor: 18 degC, loss: 220 W}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 90 mm, below: 10 degC}
source:
  kind: heat_pump
  drop: 5 K
)" + flow_temperature +
           R"(
  circulator: {states: external, curve: [[0 m3/h, 68 kPa], [1 m3/h, 55 kPa], [1.9 m3/h, 18 kPa]]}
pipework:
  - {run: primaries, from: source, to: manifold, pipe: copper 28, length: 9 m}
manifolds:
  manifold:
    floor: screed
    rooms:
)" + rooms;
}

networks::House laid(const std::string &rooms, const std::string &flow_temperature = "") {
    return lay(tests::house_of(house_text(rooms, flow_temperature)));
}

} // namespace

TEST_CASE(
    "a room of 20 m2 at 200 mm takes 100 m of pipe, in two loops where none may exceed 60 m") {
    const auto house = laid("      - {room: kitchen, pipe: pex 16x2, spacing: 200 mm, tails: 6 m, "
                            "longest: 60 m, loop_head: 150 kPa}\n");
    const auto rooms = laid_rooms(house);
    REQUIRE(rooms.size() == 1);
    CHECK(rooms[0].loops == 2);
    CHECK(rooms[0].loop_length_m == Approx(20.0 / 0.2 / 2.0 + 6.0)); // 56 m
    CHECK(rooms[0].pipe_m == Approx(112.0));
    CHECK(rooms[0].spacing_m == Approx(0.2));
    CHECK_FALSE(rooms[0].spacing_chosen);
    REQUIRE(house.manifolds[0].loops.size() == 2);
    for (std::size_t loop : house.manifolds[0].loops) {
        CHECK(house.emitters[loop].heat_w == Approx(450.0));
        CHECK(std::get<networks::FloorPart>(house.emitters[loop].emission).area_m2 == Approx(10.0));
    }
    CHECK(house.emitters[0].name == "kitchen 1");
    CHECK(house.emitters[1].name == "kitchen 2");
}

TEST_CASE("smaller bore is laid in more and shorter loops for the same head") {
    const auto loops = [](const std::string &pipe) {
        return laid_rooms(laid("      - {room: kitchen, pipe: " + pipe +
                               ", spacing: 150 mm, tails: 4 m, loop_head: 15 kPa}\n"))[0]
            .loops;
    };
    const int wide = loops("pex 16x2");
    const int middle = loops("pex 12x1.4");
    const int narrow = loops("pex 10x1.3");
    CHECK(wide < middle);
    CHECK(middle < narrow);
}

TEST_CASE("no fewer loops would keep to the head a loop may lose") {
    // Flow in one of n equal loops of the same floor goes as 1/n and so does its length.
    const auto with_head = [](const std::string &head) {
        return laid_rooms(laid("      - {room: kitchen, pipe: pex 10x1.3, spacing: 150 mm, "
                               "loop_head: " +
                               head + "}\n"))[0]
            .loops;
    };
    int before = 1;
    for (const char *head : {"60 kPa", "30 kPa", "15 kPa", "8 kPa"}) {
        const int loops = with_head(head);
        CHECK(loops >= before);
        before = loops;
    }
    CHECK(before > with_head("60 kPa"));
}

TEST_CASE("a spacing left open is the widest that heats the room at the house's flow temperature") {
    const char *given = "  flow_temperature: 36 degC\n";
    const auto room = [&](const std::string &spacing) {
        return "      - {room: kitchen, pipe: pex 16x2, spacing: " + spacing + ", tails: 6 m}\n";
    };
    const auto chosen = laid_rooms(laid(room("auto"), given))[0];
    CHECK(chosen.spacing_chosen);
    const auto needs = [&](const std::string &spacing) {
        return size(laid(room(spacing), given)).needed_c;
    };
    const std::vector<std::pair<double, std::string>> spacings{
        {0.30, "300 mm"}, {0.25, "250 mm"}, {0.20, "200 mm"}, {0.15, "150 mm"}, {0.10, "100 mm"}};
    for (const auto &spacing : spacings) {
        INFO(spacing.second);
        if (spacing.first > chosen.spacing_m + 1e-9)
            CHECK(needs(spacing.second) > 36.0);
        else if (spacing.first > chosen.spacing_m - 1e-9)
            CHECK(needs(spacing.second) <= 36.0);
    }
}

TEST_CASE("without a flow temperature the most demanding room sets it and the others lie wider") {
    const auto house = laid("      - {room: kitchen, pipe: pex 16x2, spacing: auto}\n"
                            "      - {room: hall, pipe: pex 16x2, spacing: auto}\n");
    const auto rooms = laid_rooms(house);
    CHECK(rooms[0].spacing_m == Approx(0.10)); // its closest
    CHECK(rooms[1].spacing_m > 0.15);
    const Sizing sizing = size(house);
    CHECK(sizing.set_by.starts_with("kitchen"));
    for (const SizedEmitter &emitter : sizing.emitters)
        CHECK(emitter.reaches);
}

TEST_CASE("an edge zone is laid closer on its own area and may be warmer") {
    const auto house = laid("      - {room: kitchen, pipe: pex 16x2, spacing: 200 mm, edge: {area: "
                            "5 m2, spacing: 100 mm}}\n");
    const auto rooms = laid_rooms(house);
    REQUIRE(rooms.size() == 2);
    CHECK(rooms[0].pipe_m == Approx(15.0 / 0.2));
    CHECK(rooms[1].name == "kitchen edge");
    CHECK(rooms[1].pipe_m == Approx(5.0 / 0.1));
    const networks::Emitter &edge = house.emitters[house.manifolds[0].loops.back()];
    CHECK(edge.name == "kitchen edge 1");
    CHECK(edge.surface_limit_c == 35.0); // EN 1264-2, perimeter
    double heat_w = 0.0;
    for (const networks::Emitter &loop : house.emitters)
        heat_w += loop.room_heat_w;
    CHECK(heat_w == Approx(900.0));
}

TEST_CASE("laying a laid house again changes nothing") {
    const auto once = laid("      - {room: kitchen, pipe: pex 12x1.4, spacing: auto, tails: 5 m}\n"
                           "      - {room: hall, pipe: pex 12x1.4, spacing: auto}\n");
    const auto twice = lay(once);
    REQUIRE(twice.emitters.size() == once.emitters.size());
    for (std::size_t i = 0; i < once.emitters.size(); ++i) {
        CHECK(twice.emitters[i].name == once.emitters[i].name);
        CHECK(twice.emitters[i].length_m == Approx(once.emitters[i].length_m).epsilon(1e-12));
        CHECK(twice.emitters[i].heat_w == Approx(once.emitters[i].heat_w).epsilon(1e-12));
    }
    CHECK(twice.manifolds[0].loops == once.manifolds[0].loops);
}

TEST_CASE("laminar loops are as few as their loss by Hagen and Poiseuille allows") {
    // 900 W and 20 m2 at 150 mm among n loops of 7.4 mm bore, straight, 1 mPa s and 1000 kg/m3:
    // flow 900/(n 4179 x 5) kg/s through 20/(0.15 n) + 4 m loses 128 mu L V/(pi D^4). From four
    // loops on Re is below 1900.
    const auto loss_pa = [](int n) {
        const double flow_m3_s = 900.0 / n / (4178.69 * 5.0) / 1000.0;
        return 128.0 * 1e-3 * (20.0 / 0.15 / n + 4.0) * flow_m3_s / (3.14159265 * 2.9987e-9);
    };
    const auto loops = [](const std::string &head) {
        std::string text = house_text("      - {room: kitchen, pipe: pex 10x1.3, spacing: 150 mm, "
                                      "tails: 4 m, curved: 0 %, loop_head: " +
                                          head + "}\n",
                                      "  flow_temperature: 37.5 degC\n");
        text.replace(text.find("rooms:"), 6,
                     "water: {density: 1000 kg/m3, viscosity: 1 mPa s}\nrooms:");
        text.replace(text.find("    floor: screed\n"), 18, ""); // its heat goes up alone
        return laid_rooms(lay(tests::house_of(text)))[0];
    };
    for (const auto &[head, head_pa] :
         {std::pair("4 kPa", 4e3), {"3 kPa", 3e3}, {"2 kPa", 2e3}, {"1 kPa", 1e3}}) {
        int fewest = 4;
        while (loss_pa(fewest) > head_pa)
            ++fewest;
        REQUIRE(fewest > 4);
        INFO(head);
        const LaidRoom room = loops(head);
        CHECK(room.loops == fewest);
        CHECK(room.loop_length_m == Approx(20.0 / 0.15 / fewest + 4.0).epsilon(1e-12));
        CHECK(room.pipe_m == Approx(fewest * room.loop_length_m).epsilon(1e-12));
        CHECK(room.spacing_m == Approx(0.15).epsilon(1e-12));
        CHECK(room.pipe == "pex 10x1.3");
        CHECK(room.manifold == "manifold");
    }
}

TEST_CASE("loops of one floor become one laying of their area, spacing and mean tails") {
    // 72 and 60 m of pipe on the floor at 150 mm: 10.8 + 9 m2, tails of 4 and 8 m; the third has
    // another surface limit, the fourth another room.
    const networks::House house = tests::house_of(R"(
house: loops
rooms: {kitchen: {indoor: 21 degC, loss: 900 W}, hall: {indoor: 18 degC, loss: 220 W}}
floors:
  screed: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 90 mm, below: 10 degC}
source: {kind: heat_pump, flow_temperature: 38 degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 68 kPa], [1 m3/h, 55 kPa]]}}
pipework: [{run: primaries, from: source, to: manifold, pipe: copper 28, length: 9 m}]
manifolds:
  manifold:
    floor: screed
    spacing: 150 mm
    loops:
      - {room: kitchen, pipe: pex 16x2, length: 76 m, tails: 4 m}
      - {room: kitchen, pipe: pex 16x2, length: 68 m, tails: 8 m}
      - {room: kitchen, surface_limit: 27 degC, pipe: pex 16x2, length: 50 m, tails: 5 m}
      - {room: hall, spacing: 200 mm, pipe: pex 16x2, length: 46 m, tails: 6 m}
)");
    const networks::House ready = as_layings(house);
    REQUIRE(ready.layings.size() == 3);
    CHECK(ready.layings[0].name == "kitchen");
    CHECK(ready.layings[0].area_m2 == Approx(10.8 + 9.0).epsilon(1e-12));
    CHECK(ready.layings[0].tails_m == Approx(6.0).epsilon(1e-12));
    CHECK(ready.layings[0].spacing_m.value() == Approx(0.15));
    CHECK(ready.layings[1].area_m2 == Approx(45.0 * 0.15).epsilon(1e-12));
    CHECK(ready.layings[1].tails_m == Approx(5.0).epsilon(1e-12));
    CHECK(ready.layings[2].name == "hall");
    CHECK(ready.layings[2].area_m2 == Approx(40.0 * 0.2).epsilon(1e-12));
    CHECK(ready.layings[2].spacing_m.value() == Approx(0.2));
    CHECK(ready.emitters[0].laying == 0);
    CHECK(ready.emitters[1].laying == 0);
    CHECK(ready.emitters[2].laying == 1);
    CHECK(ready.emitters[3].laying == 2);
    const std::vector<LaidRoom> rooms = laid_rooms(ready); // as the loops are
    CHECK(rooms[0].loops == 2);
    CHECK(rooms[0].pipe_m == Approx(144.0).epsilon(1e-12));
    CHECK(rooms[0].spacing_m == Approx(0.15).epsilon(1e-9));
    CHECK(rooms[2].loop_length_m == Approx(46.0));
    CHECK_FALSE(rooms[2].spacing_chosen);
}

TEST_CASE("loops that are not described lie at 150 mm for what they are laid anew") {
    const networks::House house = tests::house_of(R"(
house: plain loops
source: {kind: heat_pump, flow_temperature: 38 degC, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 68 kPa], [1 m3/h, 55 kPa]]}}
pipework: [{run: primaries, from: source, to: manifold, pipe: copper 28, length: 9 m}]
manifolds:
  manifold:
    loops:
      - {loop: one, heat: 500 W, pipe: pex 16x2, length: 64 m, tails: 4 m}
      - {loop: two, heat: 500 W, pipe: pex 16x2, length: 50 m, tails: 4 m}
)");
    const networks::House ready = as_layings(house);
    REQUIRE(ready.layings.size() == 2); // no room joins them
    CHECK(ready.layings[0].name == "one");
    CHECK(ready.layings[0].area_m2 == Approx(60.0 * 0.15).epsilon(1e-12));
    CHECK(ready.layings[0].spacing_m.value() == 0.15);
    CHECK(ready.layings[1].area_m2 == Approx(46.0 * 0.15).epsilon(1e-12));
}
