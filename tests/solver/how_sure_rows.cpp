// Counts, quantiles and shares of a few drawn houses, worked out from the lattice's own points.
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

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using tests::margin;
using tests::one_valve;

namespace {

constexpr std::size_t curve = 0, heat = 6; // places of two inputs in the lattice
constexpr double other_pa = 1.0;           // the feed's transition to turbulence

struct Heads {
    double needed_pa, available_pa;
};

Heads heads_of(const networks::House &house) {
    const Judgement judged = judge(with_ideal_balancing(single_circulator(size(house).house)));
    REQUIRE(judged.needed);
    return {judged.needed->pressure_pa, judged.available_pa};
}

// Head goes with its factor, the head needed with the square of the flow and so of the heat.
std::vector<double> headrooms(const Heads &heads, double curve_by, double heat_by,
                              const Lattice &lattice) {
    std::vector<double> out, x;
    for (std::uint32_t i = 0; i < lattice.points(); ++i) {
        lattice.point(i, x);
        out.push_back(heads.available_pa * (1.0 + curve_by * (2.0 * x[curve] - 1.0)) -
                      heads.needed_pa * std::pow(1.0 + heat_by * (2.0 * x[heat] - 1.0), 2));
    }
    return out;
}

double mean_of(const std::vector<double> &values) {
    double sum = 0.0;
    for (const double value : values)
        sum += value;
    return sum / static_cast<double>(values.size());
}

const UncertainInput &input(const HowSure &sure, const std::string &what) {
    const auto at = std::find_if(sure.inputs.begin(), sure.inputs.end(),
                                 [&](const UncertainInput &i) { return i.what == what; });
    INFO(what);
    REQUIRE(at != sure.inputs.end());
    return *at;
}

} // namespace

TEST_CASE("of thirteen drawn houses those work whose drawn head and heat leave head to spare") {
    const networks::House house = tests::house_of(one_valve(margin("10 %", "5 %")));
    const Heads heads = heads_of(house);
    const Lattice lattice(13, 8); // six common inputs, a room, a run
    std::vector<double> spare = headrooms(heads, 0.10, 0.05, lattice);
    const auto works = std::count_if(spare.begin(), spare.end(), [](double pa) { return pa >= 0; });
    REQUIRE(works > 2);
    REQUIRE(works < 11);
    const HowSure sure = how_sure(house, 13, 1);
    CHECK(sure.samples == 13);
    CHECK(sure.works == works);
    CHECK(sure.short_of_head == 13 - works);
    CHECK(sure.short_of_heat == 0);
    CHECK(sure.too_hot == 0);
    CHECK(sure.not_solved == 0);
    CHECK_THAT(sure.chance(), WithinRel(static_cast<double>(works) / 13.0, 1e-12));
    // Of twelve steps 5 % is the first, 50 % the sixth, 95 % the eleventh.
    std::sort(spare.begin(), spare.end());
    const double sized = 0.003 * heads.needed_pa; // the flow's heat capacity and density
    CHECK_THAT(sure.headroom_low_pa, WithinAbs(spare[1], other_pa + sized));
    CHECK_THAT(sure.headroom_middle_pa, WithinAbs(spare[6], other_pa + sized));
    CHECK_THAT(sure.headroom_high_pa, WithinAbs(spare[11], other_pa + sized));
}

TEST_CASE("an input's share of the spread is its squared correlation, its worth a line's slope") {
    const networks::House house = tests::house_of(one_valve(margin("10 %", "5 %")));
    const Lattice lattice(13, 8);
    const std::vector<double> y = headrooms(heads_of(house), 0.10, 0.05, lattice);
    const HowSure sure = how_sure(house, 13, 1);
    double explained = 0.0;
    for (const auto &[at, what] : {std::pair(curve, "the circulator's head"),
                                   {heat, "heat of `hall`"},
                                   {std::size_t(1), "all bores"}}) {
        std::vector<double> x, point;
        for (std::uint32_t i = 0; i < lattice.points(); ++i) {
            lattice.point(i, point);
            x.push_back(point[at]);
        }
        double xx = 0.0, xy = 0.0, yy = 0.0; // about the means
        for (std::size_t i = 0; i < x.size(); ++i) {
            xx += std::pow(x[i] - mean_of(x), 2);
            yy += std::pow(y[i] - mean_of(y), 2);
            xy += (x[i] - mean_of(x)) * (y[i] - mean_of(y));
        }
        INFO(what);
        CHECK_THAT(input(sure, what).spread_share, WithinAbs(xy * xy / (xx * yy), 2e-3));
        CHECK_THAT(input(sure, what).full_range_pa, WithinAbs(xy / xx, 30.0));
    }
    for (std::size_t i = 0; i < sure.inputs.size(); ++i) {
        explained += sure.inputs[i].spread_share;
        CHECK((i == 0 || sure.inputs[i].spread_share <= sure.inputs[i - 1].spread_share));
    }
    CHECK_THAT(sure.explained_share, WithinRel(explained, 1e-12));
}

TEST_CASE("every input is named once, with the range that the file or the habit gives it") {
    const std::string room =
        R"(  - {radiator: spare, heat: 200 W, from: tee, pipe: copper 15, length: 3 m}
)";
    const HowSure sure = how_sure(
        tests::house_of(one_valve("curve: 4 %, bore: 2 %, filter: 15 %, length: 6 %, fittings: "
                                  "20 %, roughness: 50 %, heat_loss: 8 %",
                                  room, "0.2 m")),
        3, 1);
    CHECK(sure.inputs.size() == 10);
    CHECK(input(sure, "the circulator's head").range == "-/+ 4 %");
    CHECK(input(sure, "all bores").range == "-/+ 2 %");
    CHECK(input(sure, "roughness of all pipes").range == "/ 1.5 to x 1.5");
    CHECK(input(sure, "losses of all fittings").range == "-/+ 20 %");
    CHECK(input(sure, "dirt in filters").range == "0 to +15 %");
    CHECK(input(sure, "where flow turns turbulent").range == "late, middle or early");
    CHECK(input(sure, "heat of `hall`").range == "-/+ 8 %");
    CHECK(input(sure, "heat of `spare`").range == "-/+ 8 %"); // no room: by its own name
    CHECK(input(sure, "length of `spare`").range == "-/+ 6 %");
    CHECK(input(sure, "length of run `feed`").range == "-/+ 6 %"); // short as it is
    CHECK(sure.tolerances_stated);
}

TEST_CASE("a floor that takes less warm water makes every drawn house too hot, whatever its head") {
    const std::string floor = R"(manifolds:
  manifold: {loops: [{loop: den, heat: 300 W, pipe: pex 16x2, length: 20 m, flow_limit: 50 degC}]}
)";
    std::string text = one_valve(margin("0 %", "0 %"), floor);
    const std::string run = "pipework:\n";
    text.insert(text.find(run) + run.size(),
                "  - {run: floor feed, from: tee, to: manifold, pipe: copper 22, length: 1 m}\n");
    const HowSure sure = how_sure(tests::house_of(text), 3, 1);
    CHECK(sure.samples == 3);
    CHECK(sure.too_hot == 3);
    CHECK(sure.works == 0);
    text.replace(text.find("50 degC"), 7, "55 degC"); // just what it takes
    CHECK(how_sure(tests::house_of(text), 3, 1).too_hot == 0);
}

TEST_CASE("a radiator too small at any flow leaves the drawn houses of more heat short of it") {
    // Linear, 5000 W at 55/45/20: from 55 to 45 degC by 500 W/K, so 500 ln(35/25) = 168.24 W/K. At
    // the least drop that counts, 5 K and 1 % of margin, it gives 99 % of up to 1.104 of its
    // rating: 35 x 1010 (1 - exp(-168.24/(1010 x 1.104))) = 0.99 x 5000.
    const auto short_of_heat = [](const std::string &by) {
        std::string text = one_valve(margin("0 %", by));
        const std::string valve = "lockshield_kv: 2 m3/h";
        text.replace(text.find(valve), valve.size(),
                     valve + ", output: 5000 W, rated_at: 55/45/20, exponent: 1");
        const HowSure sure = how_sure(tests::house_of(text), 13, 1);
        CHECK(sure.works <= sure.samples - sure.short_of_heat);
        return sure.short_of_heat;
    };
    CHECK(short_of_heat("10 %") == 0);
    // Of a range of -/+ 40 % that is what lies above +10.4 %: 37 %, five of thirteen points.
    CHECK_THAT(static_cast<double>(short_of_heat("40 %")), WithinAbs(5.0, 1.0));
}

TEST_CASE("a lattice has the next prime number of points, squares of primes are none") {
    CHECK(Lattice(8, 2).points() == 11);
    CHECK(Lattice(9, 2).points() == 11);
    CHECK(Lattice(24, 2).points() == 29);
    CHECK(Lattice(13, 2).points() == 13);
    CHECK(Lattice(2, 2).points() == 2);
}
