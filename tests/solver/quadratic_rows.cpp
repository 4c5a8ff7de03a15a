// One house where everything loses as the square of its flow, through `drive`, `flows` and
// `balance`: whole rows by hand.
#include "solver/questions/balance.hpp"
#include "solver/questions/drive.hpp"
#include "solver/questions/flows.hpp"
#include "tests/support/quadratic_house.hpp"
#include "tests/support/read_house.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::solver;
using Catch::WithinAbs;
using Catch::WithinRel;
using namespace headroom::tests::quadratic;
using tests::kv_r;
using tests::pipe_r;

TEST_CASE("a loop's row has flow, velocity, Reynolds number, loss and setting by hand") {
    const DriveAnswer answer = drive(tests::house_of(house_text));
    CHECK(answer.verdict == Verdict::Yes);
    CHECK(answer.index == "long");
    REQUIRE(answer.emitters.size() == 2);
    const EmitterRow &index = answer.emitters[0];
    CHECK(index.kind == "loop");
    CHECK(index.heat_w == 500.0);
    CHECK(index.drop_k == 5.0);
    CHECK_THAT(index.design_l_min, WithinRel(long_m3_s * 6e4, flow_exact));
    CHECK_THAT(index.velocity_m_s, WithinRel(velocity(long_m3_s, 0.012), flow_exact));
    CHECK_THAT(index.reynolds,
               WithinRel(velocity(long_m3_s, 0.012) * 0.012 * 1000.0 / 0.65e-3, flow_exact));
    CHECK_THAT(index.own_loss_pa, WithinAbs(long_pa, small_pa));
    CHECK(index.surplus_pa == 0.0);
    CHECK_THAT(index.valve_kv_m3_h, WithinRel(1.1, 1e-4));
    const EmitterRow &other = answer.emitters[1];
    CHECK_THAT(other.own_loss_pa, WithinAbs(short_pa, small_pa));
    CHECK_THAT(other.surplus_pa, WithinAbs(long_pa - short_pa, small_pa));
    CHECK_THAT(other.valve_kv_m3_h, WithinRel(set_kv, 1e-4));
    for (const EmitterRow &row : answer.emitters) {
        CHECK(row.valve_in_range);
        CHECK_THAT(row.reaches_share, WithinRel(1.0, 1e-9)); // its valve holds it back
        // Nothing here depends on the water's temperature.
        CHECK_THAT(row.cold_share, WithinRel(1.0, 1e-4));
    }
}

TEST_CASE("design, setting and cold start of one circulator follow from the loops' rows") {
    const DriveAnswer answer = drive(tests::house_of(house_text));
    CHECK_THAT(answer.source_l_min, WithinRel(both_m3_s * 6e4, flow_exact));
    CHECK_THAT(answer.needed_pa, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(answer.available_pa, WithinAbs(available_pa, small_pa));
    CHECK_THAT(answer.headroom_pa, WithinAbs(available_pa - needed_pa, 2.0 * small_pa));
    CHECK_THAT(answer.set_pa, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(answer.load_w, WithinRel(900.0, 1e-5));
    CHECK_THAT(answer.return_temperature_c, WithinAbs(32.5, 1e-3));
    CHECK(answer.pipe_loss_w == 0.0);
    REQUIRE(answer.states.size() == 2);
    const StateRow &cold = answer.states[1];
    CHECK(cold.judged_by == "least flow");
    CHECK_THAT(cold.source_l_min, WithinRel(both_m3_s * 6e4, 1e-4));
    CHECK(cold.remark.find("100 % of the design flow") != std::string::npos);
    CHECK(cold.fault.empty());
    CHECK_THAT(cold.needed_pa, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(cold.headroom_pa, WithinAbs(available_pa - needed_pa, 2.0 * small_pa));
    // Pipe, fittings, the loop's pipe, its valve, and the way back.
    double sum = 0.0, feed = 0.0;
    for (const CircuitStep &step : answer.index_circuit) {
        sum += step.loss_pa;
        if (step.where.starts_with("run feed") && step.what.starts_with("pipe")) {
            feed += step.loss_pa;
            CHECK_THAT(step.velocity_m_s, WithinRel(velocity(both_m3_s, 0.020), flow_exact));
            CHECK_THAT(step.flow_kg_s, WithinRel(both_m3_s * 1000.0, flow_exact));
        }
    }
    CHECK_THAT(sum, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(feed, WithinAbs(2.0 * pipe_r(0.03, 10.0, 0.020) * both_m3_s * both_m3_s, small_pa));
}

TEST_CASE("both ends of the band move the head needed and had as their tolerances say") {
    // 10 % on the curve alone: the head had goes with it, the head needed stays.
    const DriveAnswer answer = drive(tests::house_of(
        house_text +
        "margin: {curve: 10 %, bore: 0 %, filter: 0 %, length: 0 %, fittings: 0 %}\n"));
    CHECK_THAT(answer.headroom_low_pa, WithinAbs(0.9 * available_pa - needed_pa, 2.0 * small_pa));
    CHECK_THAT(answer.headroom_high_pa, WithinAbs(1.1 * available_pa - needed_pa, 2.0 * small_pa));
}

TEST_CASE("running free each link, loop and pump has the flow that the losses' squares share out") {
    const FlowsAnswer answer = flows(tests::house_of(house_text));
    REQUIRE(answer.outcome.converged());
    const Free free = free_running();
    REQUIRE(answer.emitters.size() == 2);
    CHECK_THAT(answer.emitters[0].flow_m3_s, WithinRel(free.of(long_r), flow_exact));
    CHECK_THAT(answer.emitters[1].flow_m3_s, WithinRel(free.of(short_r), flow_exact));
    CHECK_THAT(answer.emitters[0].design_share, WithinRel(free.of(long_r) / long_m3_s, flow_exact));
    double heat_w = 0.0;
    for (const FlowRow &row : answer.emitters) {
        heat_w += row.heat_w;
        // Warmer on the whole than with the design flow, so a little more than its design heat.
        CHECK_THAT(row.heat_w, WithinRel(row.flow_m3_s * 1000.0 * c * (37.5 - row.out_c), 1e-4));
        CHECK(row.heat_w > 400.0);
        CHECK(row.to_room_w == row.heat_w);
        CHECK(row.down_w == 0.0);
    }
    REQUIRE(answer.pumps.size() == 1);
    CHECK_THAT(answer.pumps[0].flow_m3_s, WithinRel(free.both, flow_exact));
    CHECK_THAT(answer.pumps[0].rise_pa, WithinAbs(40e3 - curve_fall * free.both, 0.5));
    REQUIRE(answer.source);
    CHECK_THAT(answer.source->flow_m3_s, WithinRel(free.both, flow_exact));
    CHECK_THAT(answer.source->load_w, WithinRel(heat_w, 1e-6));
    CHECK_THAT(answer.source->sent_c, WithinAbs(37.5, 1e-9));
    CHECK_FALSE(answer.source->below_least_flow());
    CHECK(answer.warnings.empty());
    double run_pa = 0.0;
    for (const LinkRow &row : answer.links) {
        CHECK_THAT(row.flow_kg_s, WithinRel(row.flow_m3_s * 1000.0, 1e-12));
        if (!row.where.starts_with("run feed"))
            continue;
        run_pa += row.loss_pa;
        if (row.velocity_m_s == 0.0)
            continue;
        CHECK_THAT(row.velocity_m_s, WithinRel(velocity(free.both, 0.020), flow_exact));
        CHECK_THAT(row.reynolds,
                   WithinRel(velocity(free.both, 0.020) * 0.020 * 1000.0 / 0.65e-3, flow_exact));
        CHECK(row.regime == "turbulent"); // a stated factor holds at any Reynolds number
    }
    CHECK_THAT(run_pa, WithinAbs(run_r * free.both * free.both, 0.5));
}

TEST_CASE("a source below its least flow is warned of, at the very flow it has") {
    const double l_min = free_running().both * 6e4;
    for (const double share : {0.99, 1.01}) {
        std::string asked = house_text;
        asked.replace(asked.find("2 l/min"), 7, std::to_string(share * l_min) + " l/min");
        const FlowsAnswer answer = flows(tests::house_of(asked));
        CHECK(answer.source->below_least_flow() == (share > 1.0));
        CHECK(answer.warnings.size() == (share > 1.0 ? 1 : 0));
    }
}

TEST_CASE(
    "balancing sets the shorter loop's valve to what it is to take, and the pump to the need") {
    const BalanceAnswer answer = balance(tests::house_of(house_text), BalanceScope::AsDrawn);
    REQUIRE(answer.outcome.converged());
    const Free free = free_running();
    REQUIRE(answer.valves.size() == 2);
    const BalanceValve &index = answer.valves[0], &other = answer.valves[1];
    CHECK(index.open);
    CHECK_FALSE(other.open);
    CHECK(index.surplus_pa == 0.0);
    CHECK_THAT(other.surplus_pa, WithinAbs(long_pa - short_pa, small_pa));
    CHECK_THAT(index.valve_loss_pa, WithinAbs(kv_r(1.1) * long_m3_s * long_m3_s, small_pa));
    CHECK_THAT(other.valve_loss_pa, WithinAbs(taken_pa, small_pa));
    CHECK_THAT(other.kv_m3_h, WithinRel(set_kv, 1e-4));
    CHECK(other.now_kv_m3_h == 1.1);
    for (const BalanceValve *row : {&index, &other}) {
        CHECK(row->pump == "source");
        CHECK(row->kind == "loop");
        CHECK(row->driven);
        CHECK_FALSE(row->blocked);
        CHECK(row->in_range);
        CHECK(row->meter_holds);
        CHECK_THAT(row->circuit_pa, WithinAbs(long_pa, small_pa));
        CHECK_THAT(row->authority_share, WithinRel(row->valve_loss_pa / long_pa, 1e-3));
        CHECK_THAT(row->set_share, WithinRel(1.0, 1e-4));
    }
    CHECK_THAT(index.design_m3_s, WithinRel(long_m3_s, flow_exact));
    CHECK_THAT(index.now_share, WithinRel(free.of(long_r) / long_m3_s, flow_exact));
    CHECK_THAT(other.now_share, WithinRel(free.of(short_r) / short_m3_s, flow_exact));
    REQUIRE(answer.pumps.size() == 1);
    const BalancePump &pump = answer.pumps[0];
    CHECK(pump.name == "source");
    CHECK(pump.title == "the source's circulator");
    CHECK(pump.index == "long");
    CHECK(pump.emitters == 2);
    CHECK_THAT(pump.flow_m3_s, WithinRel(both_m3_s, flow_exact));
    CHECK_THAT(pump.needed_pa, WithinAbs(needed_pa, small_pa));
    CHECK_THAT(pump.available_pa, WithinAbs(available_pa, 0.5));
    CHECK_THAT(pump.found_pa, WithinAbs(available_pa, 0.5));
    CHECK_THAT(pump.set_pa, WithinAbs(needed_pa, 0.5));
    CHECK_THAT(answer.saved_w,
               WithinRel(both_m3_s * (available_pa - needed_pa) / answer.efficiency, 1e-3));
    CHECK(answer.efficiency == 0.30); // the habit: common practice, no source
    // Set after the pump: the loop to be throttled, then the index is read.
    REQUIRE(answer.steps.size() == 2);
    for (const BalanceStep &step : answer.steps) {
        const bool is_index = step.valve == "long";
        CHECK(step.open == is_index);
        CHECK_THAT(step.final_m3_s, WithinRel(is_index ? long_m3_s : short_m3_s, 1e-4));
    }
    CHECK_THAT(answer.steps.back().reads_m3_s, WithinRel(answer.steps.back().final_m3_s, 1e-4));
    CHECK(answer.steps.back().others_m3_s == 0.0);
    CHECK_THAT(answer.steps.front().others_m3_s, WithinRel(answer.steps.back().before_m3_s, 1e-9));
}
