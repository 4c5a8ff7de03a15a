// What `emitters` shows of floors and radiators, against hand figures and against what else is
// said.
#include "solver/questions/emitters.hpp"
#include "solver/questions/drive.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>
#include <string>

using namespace headroom;
using Catch::Contains;
using Catch::Matchers::WithinRel;
using solver::EmittersAnswer;

namespace {

// One loop in a floor of `floor`, one radiator of `radiator`, water at 45 degC.
EmittersAnswer emitters_of(const std::string &floor, const std::string &radiator,
                           const std::string &loop = "spacing: 150 mm, pipe: pex 16x2") {
    return solver::emitters(tests::house_of(R"(
house: one of each
water: plain
rooms:
  living: {floor_area: 12 m2, indoor: 20 degC, loss: 600 W}
  bed: {floor_area: 12 m2, indoor: 20 degC, loss: 700 W}
floors: {kind: {)" + floor + R"(, insulation: 90 mm, below: 10 degC}}
source: {kind: heat_pump, drop: 5 K, flow_temperature: 45 degC, circulator: {states: external, curve: [[0 m3/h, 60 kPa], [1 m3/h, 40 kPa]]}}
pipework: [{run: feed, from: source, to: manifold, pipe: copper 22, length: 5 m}]
manifolds: {manifold: {floor: kind, loops: [{room: living, )" +
                                            loop + R"(, length: 86 m, tails: 6 m}]}}
radiators: [{radiator: bed, room: bed, from: manifold, pipe: copper 15, length: 3 m, drop: 5 K, )" +
                                            radiator + "}]\n"));
}

const std::string bare_screed = "cover: 45 mm, conductivity: 1.2 W/(m K), covering: 0 m2 K/W";
const std::string panel = "output: 2000 W, rated_at: 75/65/20, exponent: 1.3";

} // namespace

TEST_CASE("The factors of 16 x 2 at 150 mm under bare screed are those of EN 1264-2") {
    // Tables A.1 to A.3 at their entries; a_B and K_H by an independent calculation, to 1e-5.
    const auto factors = emitters_of(bare_screed, panel).sections.at(0).factors.value();
    CHECK_THAT(factors.a_covering, WithinRel(1.05765, 1e-5));
    CHECK_THAT(factors.a_spacing, WithinRel(1.230, 1e-12));
    CHECK_THAT(factors.m_spacing, WithinRel(-1.0, 1e-12));
    CHECK_THAT(factors.a_cover, WithinRel(1.057, 1e-12));
    CHECK(factors.m_cover == Approx(0.0).margin(1e-12));
    CHECK_THAT(factors.a_diameter, WithinRel(1.040, 1e-12));
    CHECK_THAT(factors.m_diameter, WithinRel(-1.0, 1e-12));
    CHECK_THAT(factors.system_w_m2_k, WithinRel(6.7, 1e-12));
    CHECK_THAT(factors.characteristic_w_m2_k, WithinRel(5.53961, 1e-5));
}

TEST_CASE("The limit curve shown for 16 x 2 at 150 mm under bare screed is the standard's") {
    // B_G 76.3 and n_G 0.076 in the tables; 17.0897 K and 94.670 W/m2 by an independent
    // calculation.
    const auto limit = emitters_of(bare_screed, panel).floors.at(0).limit.value();
    CHECK_THAT(limit.b_factor, WithinRel(76.3, 1e-12));
    CHECK_THAT(limit.exponent, WithinRel(0.076, 1e-12));
    CHECK_THAT(limit.excess_k, WithinRel(17.0897, 1e-5));
    CHECK_THAT(limit.heat_w_m2, WithinRel(94.670, 1e-5));
}

TEST_CASE("A floor's conduction figure is the one that drive decides by, and its film costs heat") {
    const networks::House house = tests::example_house("warm-floor.yaml");
    const EmittersAnswer answer = solver::emitters(house);
    const solver::DriveAnswer driven = solver::drive_verdict(house);
    CHECK(answer.flow_temperature_c == driven.flow_temperature_c);
    CHECK(answer.set_by == driven.temperature_set_by);
    REQUIRE(answer.floors.size() == 6);
    CHECK(answer.sections.size() == 3);
    for (std::size_t i = 0; i < answer.floors.size(); ++i) {
        const solver::LoopOutput &loop = answer.floors[i];
        INFO(loop.name);
        CHECK(loop.name == driven.heat[i].name);
        CHECK_THAT(loop.conduction_w_m2k,
                   WithinRel(driven.heat[i].conduction_w_m2k.value(), 1e-12));
        CHECK(loop.conduction_w_m2k < loop.without_film_w_m2k);
        CHECK(loop.without_film_w_m2k < loop.standard_w_m2k.value());
        CHECK(loop.standard_needs_c.value() < loop.needs_c);
        CHECK(answer.sections[loop.section].grid_step_share <= 0.0015);
    }
}

TEST_CASE("The standard's flow temperature and heat down are those of EN 1264-3 by hand") {
    const EmittersAnswer answer = emitters_of(bare_screed, panel);
    const solver::LoopOutput &loop = answer.floors.at(0);
    // 600 W on 80 m at 150 mm: 50 W/m2 over 5.53961 W/(m2 K) is 9.0259 K, and more than half of
    // that is the drop: 20 + 9.0259 + 2.5 + 25/(12 x 9.0259) degC.
    CHECK_THAT(loop.asked_w_m2, WithinRel(50.0, 1e-12));
    CHECK_THAT(loop.standard_needs_c.value(), WithinRel(31.7567, 1e-5));
    // R_o = 1/10.8 + 0.045/1.2, R_u = 0.09/0.035 + 0.17; (50 R_o + 10)/R_u W/m2.
    CHECK_THAT(loop.down.value().upper_resistance_m2k_w, WithinRel(0.130093, 1e-5));
    CHECK_THAT(loop.down->lower_resistance_m2k_w, WithinRel(2.741429, 1e-6));
    CHECK_THAT(loop.down->heat_down_w_m2, WithinRel(6.020449, 1e-5));
}

TEST_CASE("A groove board is outside the standard's tables and still has its conduction figure") {
    const EmittersAnswer answer = emitters_of(
        "cover: 18 mm, conductivity: 0.32 W/(m K), covering: 0.05 m2 K/W, groove_board: "
        "{thickness: "
        "25 mm, conductivity: 0.035 W/(m K), plate: {thickness: 0.5 mm, conductivity: 200 W/(m K), "
        "width: 120 mm}}",
        panel);
    CHECK_FALSE(answer.sections.at(0).factors);
    CHECK_THAT(solver::range_words(answer.sections[0].range), Contains("type B"));
    CHECK_FALSE(answer.floors.at(0).standard_w_m2k);
    CHECK(answer.floors[0].conduction_w_m2k > 0.0);
}

TEST_CASE("A radiator at 45 degC gives 35 % of its rating and must be rated 2.8 times its heat") {
    // By hand with the arithmetic mean: (22.5/50)^1.3 = 0.3541; the exact outlet at a drop of 5 K
    // gives within 0.3 % of it.
    const solver::RadiatorOutput radiator = emitters_of(bare_screed, panel).radiators.at(0);
    CHECK_THAT(radiator.factor, WithinRel(0.3541, 0.003));
    CHECK_THAT(radiator.gives_w, WithinRel(708.3, 0.003));
    CHECK_THAT(radiator.rated_share, WithinRel(2000.0 / 700.0, 1e-12));
    CHECK_THAT(radiator.needs_rated_share.value(), WithinRel(1.0 / 0.3541, 0.003));
    CHECK_THAT(radiator.needs_rated_w.value(), WithinRel(700.0 / 0.3541, 0.003));
}

TEST_CASE("A radiator of the rating said to be needed gives its room's heat, however connected") {
    for (const std::string connection : {"same_end", "bottom_ends", "80 %"}) {
        INFO(connection);
        const auto with_output = [&](double rated_w) {
            return emitters_of(bare_screed, "output: " + std::to_string(rated_w) +
                                                " W, rated_at: 75/65/20, exponent: 1.25, "
                                                "connection: " +
                                                connection)
                .radiators.at(0);
        };
        const double needed_w = with_output(1500.0).needs_rated_w.value();
        const solver::RadiatorOutput just = with_output(needed_w);
        CHECK_THAT(just.gives_w, WithinRel(700.0, 1e-6));
        CHECK_THAT(just.rated_share, WithinRel(just.needs_rated_share.value(), 1e-6));
    }
}

TEST_CASE("A house whose floors and radiators are not described has no such answer") {
    CHECK_THAT(solver::why_no_emitters(tests::example_house("direct-16mm.yaml")),
               Contains("described floor"));
    CHECK(solver::why_no_emitters(tests::example_house("warm-floor.yaml")).empty());
}
