// What a source makes of a load, at the ends of its output.
#include "solver/questions/source_heat.hpp"

#include "solver/questions/commission.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "solver/questions/season.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

using namespace headroom;
using namespace headroom::solver;
using Catch::Contains;
using Catch::WithinRel;

TEST_CASE("a source cycles below its least output, modulates above it and falls short beyond") {
    networks::Source source;
    models::HeatPump pump;
    pump.rating = models::CarnotRating{6000.0, 0.42};
    pump.least_output_share = 0.5;
    source.heat = pump;
    const auto state = [&](double load_w) {
        return source_heat_at(source, 0.0, 40.0, 35.0, load_w);
    };
    CHECK(state(2000.0).cycles);
    CHECK_FALSE(state(4000.0).cycles);
    CHECK_FALSE(state(7000.0).cycles);
    CHECK(state(4000.0).short_w == 0.0);
    CHECK_THAT(state(7000.0).short_w, WithinRel(1000.0, 1e-12));
    CHECK_THAT(state(4000.0).efficiency, WithinRel(0.42 * 313.15 / 40.0, 1e-9));
    CHECK_THAT(state(4000.0).input_w, WithinRel(4000.0 * 40.0 / (0.42 * 313.15), 1e-9));
    CHECK(state(4000.0).heat_pump);
    source.heat = models::Boiler{6000.0, 3000.0};
    CHECK(state(2000.0).cycles);
    CHECK_FALSE(state(4000.0).cycles);
    CHECK_THAT(state(7000.0).short_w, WithinRel(1000.0, 1e-12));
    CHECK_FALSE(state(4000.0).heat_pump);
    CHECK(state(4000.0).least_w == 3000.0);
}

namespace {

// A boiler that sends 65 degC; its water comes back 15 K cooler.
networks::House boiler_house(const std::string &boiler) {
    return tests::house_of("house: dry boiler\n"
                           "design_day: {outdoor: -3 degC}\n"
                           "rooms: {hall: {indoor: 20 degC, loss: 5000 W}}\n"
                           "source: {kind: boiler, flow_temperature: 65 degC, drop: 15 K, "
                           "greatest_output: 12 kW, " +
                           boiler +
                           "circulator: {states: external, curve: [[0 m3/h, 30 kPa], [1 m3/h, 25 "
                           "kPa]]}}\n"
                           "pipework: [{run: feed, from: source, to: tee, pipe: copper 22, length: "
                           "5 m}]\n"
                           "radiators: [{radiator: hall, room: hall, from: tee}]\n"
                           "fill: {pressure: 1.2 bar, vessel_at: source.return}\n");
}

bool tells(const std::vector<std::string> &lines, const std::string &words) {
    return std::any_of(lines.begin(), lines.end(), [&](const std::string &line) {
        return line.find(words) != std::string::npos;
    });
}

} // namespace

// 55 degC is common practice, no source; it is also the dew point of the flue gas (see
// tests/published/condensing_boiler.cpp), below which a wall at the water's temperature is wet.
TEST_CASE("a boiler that does not condense is warned of water cooler than 55 degC coming back") {
    const networks::House assumed = boiler_house("condensing: no, ");
    CHECK(least_return_c(assumed) == 55.0);
    CHECK(cold_return(assumed, 55.0).empty());
    CHECK_THAT(cold_return(assumed, 54.9),
               Contains("54.9 degC, below 55 degC (common practice, 45 to 60)"));
    const networks::House stated = boiler_house("condensing: no, least_return: 40 degC, ");
    CHECK(least_return_c(stated) == 40.0);
    CHECK(cold_return(stated, 40.0).empty());
    CHECK_THAT(cold_return(stated, 35.0), Contains("35.0 degC, below 40 degC: one not made"));
    CHECK_FALSE(least_return_c(boiler_house("")));
    CHECK(cold_return(boiler_house(""), 20.0).empty());
}

TEST_CASE("every answer that has the boiler's return warns where it is too cool") {
    const std::string warning = "comes back to the boiler at ";
    for (const auto &[keys, cold] : {std::pair("condensing: no, ", true),
                                     {"condensing: no, least_return: 45 degC, ", false},
                                     {"", false}}) {
        INFO(keys);
        const networks::House house = boiler_house(keys);
        const DriveAnswer driven = drive(house);
        CHECK(tells(driven.remarks, warning + "50.0 degC") == cold);
        const bool assumed =
            std::any_of(driven.assumed.begin(), driven.assumed.end(), [](const auto &row) {
                return row.what.find("coolest return") != std::string::npos &&
                       row.value == "55 degC";
            });
        CHECK(assumed == cold);
        CHECK(tells(commission(house).remarks, warning + "50.0 degC") == cold);
    }
    // Running free more water flows than designed, and comes back warmer than 50 degC.
    CHECK(tells(flows(boiler_house("condensing: no, least_return: 64 degC, ")).warnings, warning));
    CHECK_FALSE(tells(flows(boiler_house("")).warnings, warning));
}

TEST_CASE("a year counts the hours in which too cool water comes back to the boiler") {
    // A weather curve: the milder, the cooler. All hours but those of the design day.
    networks::House house = boiler_house("condensing: no, least_return: 45 degC, ");
    house.year.hours = {{-3.0, 100.0}, {10.0, 900.0}};
    house.year.free_heat = false;
    CHECK(tells(season(house).warnings,
                "for 900 h a year on the weather curve the return is too cool; at its coolest "
                "water comes back to the boiler at "));
    house.source->least_return_c = 20.0;
    CHECK_FALSE(tells(season(house).warnings, "comes back"));
}
