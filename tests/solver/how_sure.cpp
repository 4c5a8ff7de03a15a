// A verdict repeated within the tolerances, against what can be worked out by hand.
#include "solver/questions/how_sure.hpp"

#include "solver/questions/judge.hpp"
#include "solver/questions/lattice.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "tests/support/one_valve_house.hpp"
#include "tests/support/read_house.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace headroom;
using namespace headroom::solver;
using tests::example_house;
using tests::house_of;

namespace {

const std::string one_valve = tests::one_valve(tests::margin("10 %", "0 %"));

} // namespace

TEST_CASE("A lattice's coordinates each run evenly through their range") {
    const Lattice lattice(500, 40);
    CHECK(lattice.points() == 503); // the next prime
    std::vector<std::vector<double>> columns(40);
    std::vector<double> x;
    for (std::uint32_t i = 0; i < lattice.points(); ++i) {
        lattice.point(i, x);
        for (std::size_t j = 0; j < x.size(); ++j)
            columns[j].push_back(x[j]);
    }
    for (std::vector<double> &column : columns) {
        std::sort(column.begin(), column.end());
        CHECK(column.front() >= 0.0);
        CHECK(column.back() < 1.0);
        for (std::size_t i = 1; i < column.size(); ++i)
            CHECK(column[i] - column[i - 1] == Approx(1.0 / 503.0).epsilon(1e-9));
    }
}

// The integral of a product of cosines is 0; of 1009 random points the mean would be some 0.02.
TEST_CASE("A lattice's mean of a smooth function of six inputs is better than a random one's") {
    const Lattice lattice(1009, 30);
    std::vector<double> x;
    double sum = 0.0;
    for (std::uint32_t i = 0; i < lattice.points(); ++i) {
        lattice.point(i, x);
        double product = 1.0;
        for (std::size_t j = 0; j < 6; ++j)
            product *= 1.0 + 0.5 * std::cos(2.0 * std::numbers::pi * x[j]);
        sum += product - 1.0;
    }
    CHECK(std::abs(sum / lattice.points()) < 0.01);
}

// Headroom is the circulator's head less what the valve needs: head (1 + 0.1 (2u - 1)) - needed,
// which is not negative for u from u0 on, so the chance is 1 - u0.
TEST_CASE("With the circulator's curve alone uncertain the chance is that of a straight line") {
    const networks::House house = house_of(one_valve);
    const Judgement judged = judge(with_ideal_balancing(single_circulator(size(house).house)));
    REQUIRE(judged.needed);
    const double needed_pa = judged.needed->pressure_pa;
    const double head_pa = judged.available_pa; // 30 kPa, less for warm water's density
    CHECK(head_pa == Approx(30e3).epsilon(0.02));
    const double from = 0.5 * (1.0 + (needed_pa / head_pa - 1.0) / 0.1);
    REQUIRE(from > 0.1);
    REQUIRE(from < 0.9);
    const HowSure sure = how_sure(house, 1000, 1);
    CHECK(sure.samples == 1009);
    CHECK(sure.not_solved == 0);
    CHECK(sure.chance() == Approx(1.0 - from).margin(1.5 / 1009)); // a point either side
    CHECK(sure.short_of_head == sure.samples - sure.works);
    CHECK(sure.inputs.front().what == "the circulator's head");
    CHECK(sure.inputs.front().spread_share == Approx(1.0).margin(1e-6));
    CHECK(sure.inputs.front().full_range_pa == Approx(0.2 * head_pa).epsilon(1e-4));
    CHECK(sure.headroom_middle_pa == Approx(head_pa - needed_pa).margin(10.0));
    CHECK(sure.headroom_low_pa == Approx(0.91 * head_pa - needed_pa).margin(10.0));
    CHECK(sure.headroom_high_pa == Approx(1.09 * head_pa - needed_pa).margin(10.0));
}

// All head goes through a quadratic resistance, so 10 % more heat takes 1.21 times the head.
TEST_CASE("With the heat alone uncertain headroom follows the square of the flow") {
    std::string text = one_valve;
    text.replace(text.find("curve: 10 %"), 11, "curve: 0 %");
    text.replace(text.find("heat_loss: 0 %"), 14, "heat_loss: 10 %");
    const networks::House house = house_of(text);
    const Judgement judged = judge(with_ideal_balancing(single_circulator(size(house).house)));
    const double needed_pa = judged.needed->pressure_pa;
    const HowSure sure = how_sure(house, 1000, 2);
    CHECK(sure.inputs.front().what == "heat of `hall`");
    CHECK(sure.inputs.front().full_range_pa == Approx(-0.4 * needed_pa).epsilon(0.02));
    CHECK(sure.headroom_low_pa ==
          Approx(judged.available_pa - 1.09 * 1.09 * needed_pa).epsilon(0.02));
}

TEST_CASE("A longer loop takes more head, however much of it is tails that lose heat") {
    std::string text = tests::example_text("direct-16mm.yaml");
    const std::string margin =
        "length: 50 %, heat_loss: 0 %, curve: 0 %, bore: 0 %, fittings: 0 %, "
        "roughness: 0 %, filter: 0 %";
    text += "\nmargin: {" + margin + "}\n";
    const std::string first = "length: 88 m, tails: 8 m";
    const auto effect_pa = [&](const std::string &loop) {
        std::string changed = text;
        REQUIRE(changed.find(first) != std::string::npos);
        changed.replace(changed.find(first), first.size(), loop);
        const HowSure sure = how_sure(house_of(changed), 100, 2);
        CHECK(sure.not_solved == 0);
        const auto at =
            std::find_if(sure.inputs.begin(), sure.inputs.end(), [](const UncertainInput &input) {
                return input.what == "length of `kitchen 1`";
            });
        REQUIRE(at != sure.inputs.end());
        return at->full_range_pa;
    };
    const std::string long_loop = "length: 150 m, surroundings: 20 degC, tails: ";
    const double short_tails_pa = effect_pa(long_loop + "8 m");
    CHECK(short_tails_pa < -10e3);
    // The same pipe; its water is warmer by what the tails do not lose.
    CHECK(effect_pa(long_loop + "148 m") == Approx(short_tails_pa).epsilon(0.1));
}

TEST_CASE("How sure a verdict is does not depend on the number of threads") {
    const networks::House house = example_house("small-bore-long.yaml");
    const HowSure one = how_sure(house, 300, 1);
    for (unsigned threads : {2u, 8u}) {
        const HowSure more = how_sure(house, 300, threads);
        CHECK(more.works == one.works);
        CHECK(more.headroom_middle_pa == one.headroom_middle_pa);
        CHECK(more.explained_share == one.explained_share);
        REQUIRE(more.inputs.size() == one.inputs.size());
        for (std::size_t i = 0; i < one.inputs.size(); ++i) {
            CHECK(more.inputs[i].what == one.inputs[i].what);
            CHECK(more.inputs[i].spread_share == one.inputs[i].spread_share);
        }
    }
}

TEST_CASE("Without tolerances every drawn house is the house") {
    std::string text = one_valve;
    text.replace(text.find("curve: 10 %"), 11, "curve: 0 %");
    const HowSure sure = how_sure(house_of(text), 100, 1);
    CHECK(sure.headroom_high_pa - sure.headroom_low_pa < 1.0); // late or early transition alone
    CHECK((sure.works == 0 || sure.works == sure.samples));
    CHECK(sure.tolerances_stated);
}

TEST_CASE("Each uncertain figure is named with the range the file gives it") {
    std::string text = one_valve;
    text.replace(text.find("filter: 0 %"), 11, "filter: 15 %");
    const HowSure sure = how_sure(house_of(text), 20, 1);
    const auto range = [&](const std::string &what) {
        for (const auto &input : sure.inputs)
            if (input.what == what)
                return input.range;
        return std::string();
    };
    CHECK(range("dirt in filters") == "0 to +15 %");
    CHECK(range("the circulator's head") == "-/+ 10 %");
}
