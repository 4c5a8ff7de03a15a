// What the trade holds, put to houses that were not tuned for it. Each is common practice, no
// source.
#include "solver/questions/drive.hpp"
#include "solver/questions/size.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace headroom;

namespace {

// One room of 50 W/m2, an average house on the design day, on tiled screed at 150 mm in 16 mm pipe.
std::string average_room(const std::string &pipe) {
    return R"(
house: average room
water: plain
rooms: {living: {floor_area: 12 m2, indoor: 20 degC, loss: 600 W}}
floors: {tiled: {cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0.02 m2 K/W, insulation: 90 mm, below: 10 degC}}
source: {kind: heat_pump, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}}
pipework: [{run: feed, from: source, to: manifold, pipe: copper 22, length: 5 m}]
manifolds: {manifold: {floor: tiled, spacing: 150 mm, loops: [{room: living, pipe: )" +
           pipe + R"(, length: 86 m, tails: 6 m}]}}
)";
}

} // namespace

TEST_CASE("35 degC serves a well-laid 16 mm screed floor in an average house") {
    CHECK(solver::size(tests::house_of(average_room("pex 16x2"))).needed_c <= 35.0);
}

TEST_CASE("the same floor in 10 mm pipe needs warmer water, but still no more than 37 degC") {
    const double wide = solver::size(tests::house_of(average_room("pex 16x2"))).needed_c;
    const double small = solver::size(tests::house_of(average_room("pex 10x1.3"))).needed_c;
    CHECK(small > wide);
    CHECK(small <= 37.0);
}

TEST_CASE("primary water of 60 to 70 degC must be blended before it enters floors") {
    for (const double sent_c : {60.0, 65.0, 70.0}) {
        INFO(sent_c);
        networks::House house = tests::example_house("header-three-pumps.yaml");
        house.source->flow_temperature_c = sent_c;
        const solver::DriveAnswer answer = solver::drive_verdict(house);
        CHECK(answer.flow_temperature_c == sent_c);
        CHECK(answer.verdict == solver::Verdict::ThermalNo);
        CHECK(answer.sentence.find("the mixer must stay") != std::string::npos);
    }
}

TEST_CASE("no water above 45 degC enters a floor whose limit is not stated") {
    for (const char *sent : {"45 degC", "46 degC"}) {
        std::string text = average_room("pex 16x2");
        text.replace(text.find("drop: 5 K"), 9,
                     std::string("drop: 5 K, flow_temperature: ") + sent);
        const solver::DriveAnswer answer = solver::drive(tests::house_of(text));
        CHECK(answer.too_hot.empty() == (std::string(sent) == "45 degC"));
    }
}

TEST_CASE("radiators take at most 55 degC once a house loses half of what they were rated for") {
    // By hand: half the output at 50 K of mean excess asks for 50 x 0.5^(1/1.3) = 29.3 K, so water
    // at 20 + 29.3 + 2.5 = 51.8 degC with a drop of 5 K; at its full loss, 72.5 degC.
    const auto needed_c = [](const std::string &loss) {
        return solver::size(tests::house_of(R"(
house: modernised
water: plain
rooms: {living: {indoor: 20 degC, loss: )" + loss +
                                            R"(}}
source: {kind: heat_pump, drop: 5 K, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}}
pipework: [{run: feed, from: source, to: landing, pipe: copper 22, length: 5 m}]
radiators: [{radiator: living, room: living, from: landing, pipe: copper 15, length: 3 m, drop: 5 K, output: 2000 W, rated_at: 75/65/20, exponent: 1.3}]
)"))
            .needed_c;
    };
    CHECK(needed_c("1000 W") == Approx(51.8).margin(0.3)); // exact outlet against the mean
    CHECK(needed_c("1000 W") <= 55.0);
    CHECK(needed_c("2000 W") > 55.0);
}
