// What must stay the same, or may only move one way, when a house is changed. Tried over every
// example house of the class in which the law holds. (Laws of networks alone: relations.cpp.)
#include "solver/questions/drive.hpp"
#include "solver/questions/size.hpp"
#include "solver/solve.hpp"
#include "tests/support/frozen_flow.hpp"
#include "tests/support/random_network.hpp"
#include "tests/support/read_house.hpp"
#include "tests/support/small_house.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <functional>
#include <map>
#include <string>
#include <vector>

using namespace headroom;
using namespace headroom::tests;
using networks::House;

namespace {

// The head needed is sought to 0.001 Pa, from another start in another order; flows that follow
// from it, of one-pipe circuits, and the temperatures they carry are as near.
constexpr double same_pa = 0.01;

struct Example {
    std::string file;
    House house;
};

std::vector<Example> examples() {
    std::vector<Example> all;
    for (const std::string &file : example_houses()) {
        const std::string name = std::filesystem::path(file).filename();
        all.push_back({name, example_house(name)});
    }
    return all;
}

void check_same_answer(const House &house, const House &other,
                       const std::function<std::string(std::string)> &name_there) {
    const solver::DriveAnswer one = solver::drive(house);
    const solver::DriveAnswer two = solver::drive(other);
    REQUIRE(one.outcome.converged());
    REQUIRE(two.outcome.converged());
    CHECK(two.verdict == one.verdict);
    CHECK_THAT(two.needed_pa, Catch::WithinAbs(one.needed_pa, same_pa));
    CHECK_THAT(two.available_pa, Catch::WithinAbs(one.available_pa, same_pa));
    CHECK_THAT(two.headroom_pa, Catch::WithinAbs(one.headroom_pa, same_pa));
    CHECK_THAT(two.headroom_low_pa, Catch::WithinAbs(one.headroom_low_pa, same_pa));
    CHECK_THAT(two.flow_temperature_c, Catch::WithinAbs(one.flow_temperature_c, 1e-6));
    CHECK_THAT(two.return_temperature_c, Catch::WithinAbs(one.return_temperature_c, 1e-4));
    CHECK(two.emitters.size() == one.emitters.size());
    for (const solver::EmitterRow &row : one.emitters) {
        const auto there = std::find_if(
            two.emitters.begin(), two.emitters.end(),
            [&](const solver::EmitterRow &r) { return r.name == name_there(row.name); });
        INFO(row.name);
        REQUIRE(there != two.emitters.end());
        CHECK_THAT(there->design_l_min, Catch::WithinRel(row.design_l_min, 1e-6));
        CHECK_THAT(there->surplus_pa, Catch::WithinAbs(row.surplus_pa, same_pa));
    }
}

std::string unchanged(std::string name) {
    return name;
}

template <class T> void turn_round(std::vector<T> &list) {
    std::reverse(list.begin(), list.end());
}

// Every list back to front; loops keep their order along their manifold's bar.
House reordered(House house) {
    for (networks::Manifold &manifold : house.manifolds)
        for (std::size_t &loop : manifold.loops)
            loop = house.emitters.size() - 1 - loop;
    turn_round(house.emitters);
    turn_round(house.rooms);
    turn_round(house.floors);
    turn_round(house.runs);
    turn_round(house.manifolds);
    turn_round(house.bypasses);
    turn_round(house.tees);
    return house;
}

std::string backwards(std::string name) {
    return {name.rbegin(), name.rend()};
}

std::string place_backwards(const std::string &name) {
    for (const std::string side : {".flow", ".return"})
        if (name.ends_with(side))
            return place_backwards(name.substr(0, name.size() - side.size())) + side;
    return name == "source" || name == "header" ? name : backwards(name);
}

// Every name back to front, so that their alphabetical order changes too.
House renamed(House house) {
    const auto rename = [](std::string &name) { name = backwards(name); };
    const auto move = [](std::string &place) { place = place_backwards(place); };
    for (networks::Room &room : house.rooms)
        rename(room.name);
    for (networks::Run &run : house.runs) {
        rename(run.name);
        move(run.from);
        move(run.to);
        for (networks::Part &part : run.parts)
            rename(part.zone);
    }
    for (networks::Manifold &manifold : house.manifolds)
        rename(manifold.name);
    for (networks::Emitter &emitter : house.emitters) {
        rename(emitter.name);
        rename(emitter.room);
        rename(emitter.zone);
        move(emitter.from);
        move(emitter.to);
    }
    for (networks::Bypass &bypass : house.bypasses)
        move(bypass.at);
    if (house.hot_water)
        move(house.hot_water->from);
    for (networks::Tee &tee : house.tees) {
        move(tee.at);
        for (std::string *leg : {&tee.combined, &tee.through, &tee.branch})
            rename(*leg);
    }
    if (house.fill)
        move(house.fill->at);
    std::map<std::string, double> levels;
    for (const auto &[place, level] : house.levels)
        levels[place_backwards(place)] = level;
    house.levels = levels;
    return house;
}

// One pump, at fixed speed, and two-pipe branches only.
bool two_pipe_tree(const House &house) {
    return house.source && house.source->circulator.mode == networks::PumpMode::FixedSpeed &&
           !house.separator && house.bypasses.empty() &&
           std::none_of(house.runs.begin(), house.runs.end(),
                        [](const networks::Run &run) { return run.one_way || run.pump; }) &&
           std::none_of(house.emitters.begin(), house.emitters.end(),
                        [](const networks::Emitter &emitter) { return !emitter.to.empty(); });
}

// Laws that rise with their own flow; else a longer pipe can raise it.
bool falling_pumps(const House &house) {
    return std::none_of(house.runs.begin(), house.runs.end(), [](const networks::Run &run) {
        return run.pump && run.pump->mode == networks::PumpMode::ProportionalPressure;
    });
}

// Flow of each emitter at frozen temperatures.
std::vector<double> emitter_flows(const House &house) {
    const networks::Network network = networks::expand(house);
    const FrozenFlow flow = frozen_flow(network);
    REQUIRE(flow.outcome.converged());
    std::vector<double> out(house.emitters.size());
    for (const networks::EmitterLinks &links : network.emitters)
        out[links.emitter] = flow.flow_kg_s[links.links.front()];
    return out;
}

} // namespace

TEST_CASE("The order in which a house is written down changes no answer") {
    for (const Example &example : examples()) {
        INFO(example.file);
        check_same_answer(example.house, reordered(example.house), unchanged);
    }
}

TEST_CASE("The names in a house change no answer") {
    for (const Example &example : examples()) {
        INFO(example.file);
        check_same_answer(example.house, renamed(example.house), backwards);
    }
}

TEST_CASE("A run cut in two at a joint changes no answer") {
    int cut = 0;
    for (const Example &example : examples())
        for (std::size_t r = 0; r < example.house.runs.size(); r += 2) {
            House house = example.house;
            networks::Run &first = house.runs[r];
            const auto names_it = [&](const networks::Tee &tee) {
                return tee.combined == first.name || tee.through == first.name ||
                       tee.branch == first.name;
            };
            if (first.one_way || first.mixer || first.pump ||
                std::any_of(house.tees.begin(), house.tees.end(), names_it))
                continue;
            networks::Run second = first;
            second.name = "rest of " + first.name;
            second.parts.clear();
            second.from = first.to = "joint";
            for (networks::RunSide *side : {&second.flow, &second.back}) {
                side->fittings.clear();
                side->zeta = 0.0;
                side->length_m *= 0.3;
            }
            first.flow.length_m *= 0.7;
            first.back.length_m *= 0.7;
            if (const auto level = house.levels.find(first.from); level != house.levels.end())
                house.levels["joint"] = level->second;
            house.runs.push_back(second);
            INFO(example.file << ", run " << example.house.runs[r].name);
            check_same_answer(example.house, house, unchanged);
            ++cut;
        }
    CHECK(cut > 10);
}

TEST_CASE("A radiator that is shut changes no flow and has none") {
    for (const Example &example : examples()) {
        House house = example.house;
        networks::Emitter shut = house.emitters.front();
        shut.name = "shut";
        shut.kind = networks::Emitter::Kind::Radiator;
        shut.from = "source";
        shut.to.clear();
        shut.emission = std::monostate{};
        shut.heat_w = 1e-6; // it must not move the temperatures that links are expected to have
        shut.balancing = {networks::Balancing::Kind::Shut, 0.0};
        house.emitters.push_back(shut);
        const std::vector<double> without = emitter_flows(example.house);
        const std::vector<double> with = emitter_flows(house);
        INFO(example.file);
        for (std::size_t i = 0; i < without.size(); ++i)
            CHECK_THAT(with[i], Catch::WithinRel(without[i], 1e-9));
        CHECK(std::abs(with.back()) <= 1e-12);
    }
}

TEST_CASE("A longer pipe never raises its own loop's flow") {
    int tried = 0;
    for (const Example &example : examples()) {
        if (!falling_pumps(example.house))
            continue;
        const std::vector<double> before = emitter_flows(example.house);
        for (std::size_t i = 0; i < before.size(); ++i) {
            House house = example.house;
            if (house.emitters[i].pipe.bore_m <= 0.0)
                continue;
            house.emitters[i].length_m *= 1.3;
            INFO(example.file << ", " << house.emitters[i].name);
            CHECK(std::abs(emitter_flows(house)[i]) < std::abs(before[i]));
            ++tried;
        }
    }
    CHECK(tried > 40);
}

TEST_CASE("Opening one valve raises its own flow and no other's behind a pump of fixed speed") {
    int tried = 0;
    for (const Example &example : examples()) {
        if (!two_pipe_tree(example.house))
            continue;
        for (std::size_t i = 0; i < example.house.emitters.size(); ++i) {
            House house = example.house;
            house.emitters[i].balancing = {}; // a setting below the valve's own Kv would rule
            house.emitters[i].valve_kv_m3_h = 0.3;
            const std::vector<double> before = emitter_flows(house);
            house.emitters[i].valve_kv_m3_h = 0.9;
            const std::vector<double> after = emitter_flows(house);
            INFO(example.file << ", " << house.emitters[i].name << " opened");
            CHECK(after[i] > before[i]);
            for (std::size_t j = 0; j < after.size(); ++j)
                if (j != i)
                    CHECK(after[j] <= before[j] * (1.0 + 1e-9));
            ++tried;
        }
    }
    CHECK(tried > 30);
}

TEST_CASE("A larger pump never lowers headroom, in any state") {
    for (const Example &example : examples()) {
        const solver::DriveAnswer before = solver::drive(example.house);
        for (const double factor : {1.02, 1.3, 2.0}) {
            House house = example.house;
            networks::Pump &pump = house.source->circulator;
            std::vector<models::CurvePoint> points = pump.curve.points;
            for (models::CurvePoint &point : points)
                point.pressure_pa *= factor;
            pump.curve = models::make_pump_curve(points);
            const solver::DriveAnswer after = solver::drive(house);
            INFO(example.file << ", " << factor << " times the head");
            REQUIRE(after.outcome.converged());
            CHECK(after.headroom_pa >= before.headroom_pa - same_pa);
            for (const solver::StateRow &row : before.states) {
                const auto there =
                    std::find_if(after.states.begin(), after.states.end(),
                                 [&](const solver::StateRow &r) { return r.state == row.state; });
                if (row.judged_by != "head" || there == after.states.end())
                    continue;
                INFO(row.state);
                CHECK(there->headroom_pa >= row.headroom_pa - same_pa);
            }
        }
    }
}

TEST_CASE("Twice the house, rooms and losses and emitters alike, needs the same temperatures") {
    // It holds where no pipe loses heat: pipes are not doubled with the rooms.
    int sized = 0;
    for (const Example &example : examples()) {
        if (std::any_of(example.house.runs.begin(), example.house.runs.end(),
                        [](const networks::Run &run) { return run.surroundings.has_value(); }))
            continue;
        House twice = example.house;
        for (networks::Room &room : twice.rooms) {
            room.loss_w *= 2.0;
            if (room.floor_area_m2)
                *room.floor_area_m2 *= 2.0;
        }
        const std::size_t count = twice.emitters.size();
        for (networks::Manifold &manifold : twice.manifolds)
            for (std::size_t i = 0, n = manifold.loops.size(); i < n; ++i)
                manifold.loops.push_back(manifold.loops[i] + count);
        for (std::size_t i = 0; i < count; ++i) {
            twice.emitters.push_back(twice.emitters[i]);
            twice.emitters.back().name += ", twin";
        }
        const solver::Sizing one = solver::size(example.house);
        const solver::Sizing two = solver::size(twice);
        INFO(example.file);
        CHECK(two.emitters.size() == 2 * one.emitters.size());
        CHECK(two.needed_c == one.needed_c);
        CHECK(two.house.source->flow_temperature_c == one.house.source->flow_temperature_c);
        for (std::size_t i = 0; i < one.emitters.size(); ++i)
            for (const std::size_t twin : {i, i + one.emitters.size()}) {
                CHECK(two.emitters[twin].drop_k == one.emitters[i].drop_k);
                CHECK(two.emitters[twin].flow_kg_s == one.emitters[i].flow_kg_s);
            }
        sized += !one.emitters.empty();
    }
    CHECK(sized >= 1);
}
