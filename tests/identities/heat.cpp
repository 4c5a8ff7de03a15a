// The heat balance over every example, as it stands and in the states that try it hardest.
#include "solver/heat/emission.hpp"
#include "solver/questions/heat_balance.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>

using namespace headroom;
using networks::House;

namespace {

constexpr double closure_share = 1e-8;

solver::HeatBalance balance(const House &house) {
    const networks::Network network = networks::expand(house);
    const solver::Solution solution = solver::solve(network, &house);
    INFO(solution.outcome.explanation);
    REQUIRE(solution.outcome.converged());
    return solver::heat_balance(house, network, solution);
}

double turned_over_w(const solver::HeatBalance &heat) {
    return std::abs(heat.rooms_w) + std::abs(heat.down_w) + std::abs(heat.pipes_w);
}

void check_closed(const House &house) {
    const solver::HeatBalance heat = balance(house);
    CHECK(turned_over_w(heat) > 0.0);
    CHECK(std::abs(heat.closure_w) <= closure_share * turned_over_w(heat));
}

House sized(const std::string &name) {
    return solver::size(tests::example_house(name)).house;
}

House with_losing_pipes(House house) {
    for (networks::Run &run : house.runs)
        run.surroundings = networks::PipeSurroundings{12.0, 0.013, 0.04, true};
    return house;
}

House with_pumps_stopped(House house) {
    house.source->circulator.mode = networks::PumpMode::Stopped;
    for (networks::Run &run : house.runs)
        if (run.pump)
            run.pump->mode = networks::PumpMode::Stopped;
    return house;
}

// The header house with every loop in a described floor and every radiator rated.
House described_header() {
    House house = sized("header-three-pumps.yaml");
    const networks::Emission floor = sized("warm-floor.yaml").emitters.front().emission;
    for (networks::Emitter &emitter : house.emitters)
        if (emitter.kind == networks::Emitter::Kind::FloorLoop)
            emitter.emission = floor;
        else
            emitter.emission = models::Radiator{1800.0};
    return with_losing_pipes(house);
}

} // namespace

TEST_CASE("source = rooms + down + pipes, over every example") {
    for (const std::string &file : tests::example_houses()) {
        const std::string name = std::filesystem::path(file).filename().string();
        const House house = sized(name);
        if (!house.source)
            continue;
        for (const bool losing : {false, true})
            for (const bool afloat : {false, true}) {
                INFO(name << (losing ? ", pipes lose heat" : "")
                          << (afloat ? ", rooms float" : ""));
                House as_is = losing ? with_losing_pipes(house) : house;
                as_is.condition.buoyancy = true;
                as_is.condition.rooms_float = afloat;
                check_closed(as_is);
            }
    }
}

TEST_CASE("source = rooms + down + pipes, over every example with its pumps stopped") {
    for (const std::string &file : tests::example_houses()) {
        const std::string name = std::filesystem::path(file).filename().string();
        House house = sized(name);
        if (!house.source)
            continue;
        INFO(name);
        house.condition.buoyancy = true;
        house = with_pumps_stopped(with_losing_pipes(house));
        if (house.levels_given)
            check_closed(house);
        else // nothing moves but by rounding, and nothing is given off
            CHECK(turned_over_w(balance(house)) <= 1e-6);
    }
    House house = described_header();
    house.condition.buoyancy = true;
    check_closed(with_pumps_stopped(with_losing_pipes(house)));
}

TEST_CASE("source = rooms + down + pipes, over every example with the flow reversed") {
    for (const std::string &file : tests::example_houses()) {
        const std::string name = std::filesystem::path(file).filename().string();
        const House given = sized(name);
        if (!given.source)
            continue;
        INFO(name);
        const House house = solver::with_ideal_rise(with_losing_pipes(given), -15e3);
        const networks::Network network = networks::expand(house);
        CHECK(solver::solve(network).flow_kg_s[network.source->pump] < 0.0);
        check_closed(house);
    }
}

TEST_CASE("source = rooms + down + pipes, with the header short-circuiting either way") {
    const House as_found = described_header();
    SECTION("as found") {
        check_closed(as_found);
    }
    SECTION("the primary's flow turns round in the header, its secondaries stopped") {
        House house = with_pumps_stopped(as_found);
        house.source->circulator.mode = networks::PumpMode::FixedSpeed;
        check_closed(house);
    }
    SECTION("the secondaries draw their own return through the header") {
        check_closed(solver::with_ideal_rise(as_found, 300.0));
    }
    SECTION("the primary all but stands") {
        check_closed(solver::with_ideal_rise(as_found, 1.0));
    }
}

TEST_CASE("Heat closes where water is let in at one end and out at another") {
    const House house =
        solver::size(tests::house_of(tests::example_text("direct-16mm.yaml") +
                                     "\nends:\n  - {at: source.return, fixed_flow: {in: 3 l/min}}\n"
                                     "  - {at: source.flow, fixed_flow: {out: 3 l/min}}\n"))
            .house;
    check_closed(house);
    const solver::HeatBalance heat = balance(house);
    // What comes in is as warm as the return, what goes out as the flow, some 5 K above it.
    CHECK(heat.ends_w < 0.0);
    CHECK(heat.ends_w > -0.05 * 4190.0 * 10.0);
}
