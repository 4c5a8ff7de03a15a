#include "solver/questions/judge.hpp"

#include "solver/questions/settings.hpp"
#include "solver/questions/size.hpp"
#include "solver/questions/variants.hpp"
#include "solver/solve.hpp"
#include "tests/support/read_house.hpp"

using namespace headroom;
using namespace headroom::solver;
using headroom::tests::example_house;

namespace {

networks::House ideal_house(const std::string &example) {
    return with_ideal_balancing(single_circulator(size(example_house(example)).house));
}

void check_same(const HeadNeeded &needed, const SolvedHouse &anew) {
    CHECK(needed.solution.flow_kg_s == anew.solution.flow_kg_s);
    CHECK(needed.solution.loss_pa == anew.solution.loss_pa);
    CHECK(needed.solution.heat.node_c == anew.solution.heat.node_c);
    const Solution again = solve(needed.network);
    CHECK(needed.solution.loss_pa == again.loss_pa);
}

} // namespace

// The search moves the rise of one network; where it ends must not differ from a new one's.
TEST_CASE("The network of the head needed is to the last bit that of a new expansion") {
    for (const std::string name : {"direct-16mm.yaml", "one-pipe-and-reverse-return.yaml",
                                   "two-manifolds-radiators.yaml", "small-bore-long-glycol.yaml"}) {
        INFO(name);
        const networks::House house = ideal_house(name);
        Outcome outcome;
        const auto needed = head_needed(house, outcome);
        REQUIRE(needed);
        check_same(*needed, solved(with_ideal_rise(house, needed->pressure_pa)));
    }
}

TEST_CASE("So is the network of the head that the pump of a run needs") {
    const networks::House house =
        at_full_speed(with_ideal_balancing(size(example_house("header-three-pumps.yaml")).house));
    int pumps = 0;
    for (std::size_t run = 0; run < house.runs.size(); ++run) {
        if (!house.runs[run].pump)
            continue;
        ++pumps;
        Circuit circuit{run, {}};
        for (std::size_t i = 0; i < house.emitters.size(); ++i)
            if (house.emitters[i].from == house.runs[run].to)
                circuit.emitters.push_back(i);
        Outcome outcome;
        std::vector<std::size_t> blocked;
        const auto needed = head_needed(house, circuit, outcome, blocked);
        REQUIRE(needed);
        check_same(*needed, solved(with_ideal_rise(house, needed->pressure_pa, run)));
    }
    CHECK(pumps >= 2);
}

TEST_CASE("Headroom alone is to the last bit what a whole judgement says of it") {
    bool driven = false, short_of_head = false;
    for (const std::string name : {"direct-16mm.yaml", "one-pipe-and-reverse-return.yaml",
                                   "two-manifolds-radiators.yaml", "small-bore-long-glycol.yaml"}) {
        INFO(name);
        const networks::House house = ideal_house(name);
        const Judgement whole = judge(house);
        const Headroom alone = headroom_of(house);
        REQUIRE(alone.outcome.converged());
        CHECK(alone.pa == whole.headroom_pa);
        (whole.all_driven ? driven : short_of_head) = true;
    }
    CHECK(driven);
    CHECK(short_of_head);
}

TEST_CASE("A drooping curve has at a flow what it says there, not what it peaks at") {
    // 13.6 l/min are on its way up from 22 kPa at 0.9 m3/h (15 l/min): it has less than that.
    const std::string drooping =
        "[[0 m3/h, 20 kPa], [0.9 m3/h, 22 kPa], [1.7 m3/h, 40 kPa], [1.9 m3/h, 18 kPa]]";
    std::string text = tests::example_text("direct-16mm.yaml");
    const std::size_t at = text.find("curve: [[");
    REQUIRE(at != std::string::npos);
    text.replace(at, text.find("]]", at) + 2 - at, "curve: " + drooping);
    const networks::House house =
        with_ideal_balancing(single_circulator(size(tests::house_of(text)).house));
    const Judgement judgement = judge(house);
    REQUIRE(judgement.needed);
    CHECK_FALSE(judgement.all_driven);
    CHECK(judgement.available_pa > 20e3);
    CHECK(judgement.available_pa < 22e3);
    CHECK(judgement.headroom_pa ==
          Approx(judgement.available_pa - judgement.needed->pressure_pa).margin(1e-6));
    CHECK(judgement.headroom_pa < 0.0);
}

TEST_CASE("A house whose fixed flows contradict each other is judged unsolved, with its reason") {
    const networks::House house = with_ideal_balancing(single_circulator(
        tests::house_of(tests::example_text("direct-16mm.yaml") +
                        "\nends: [{at: source.return, fixed_flow: {out: 1 l/s}}]\n")));
    const Judgement judgement = judge(house);
    CHECK(judgement.outcome.reason == StopReason::Contradiction);
    CHECK_FALSE(judgement.needed);
    const Headroom headroom = headroom_of(house);
    CHECK_FALSE(headroom.outcome.converged());
    CHECK(headroom.pa == -models::no_limit);
    const SolvedHouse stands = solved(house);
    CHECK(stands.solution.flow_kg_s.size() == stands.network.links.size());
    CHECK(stands.solution.loss_pa.size() == stands.network.links.size());
    CHECK(stands.solution.pressure_pa.size() == stands.network.nodes.size());
}
