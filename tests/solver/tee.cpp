#include "models/tee.hpp"

#include "models/local_loss.hpp"
#include "solver/solve.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

using namespace headroom;
using namespace headroom::tests;

namespace {

constexpr double bore = 0.02;

// A tee whose combined pipe a pressure rise feeds, or empties, and two pipes beyond it.
struct TeeCircuit {
    SmallNetwork n;
    networks::House house;
    networks::LinkId combined, through, branch, through_leg, branch_leg;

    TeeCircuit(double rise_pa, double through_m, double branch_m) {
        const auto start = n.node(), tee = n.node(), run = n.node(), side = n.node(),
                   end = n.node();
        n.link(end, start, networks::PressureRise{rise_pa});
        combined = n.link(start, tee, plain_pipe(5.0, bore));
        through = n.link(run, end, plain_pipe(through_m, bore));
        branch = n.link(side, end, plain_pipe(branch_m, bore));
        through_leg = n.link(tee, run, networks::TeeLeg{0, false});
        branch_leg = n.link(tee, side, networks::TeeLeg{0, true});
        n.network.tees = {{0, tee, combined, through, branch, through_leg, branch_leg}};
        networks::Tee data;
        data.bore_m = data.branch_bore_m = bore;
        house.tees.push_back(data);
        house.runs.push_back({}); // lends its name to messages
    }
};

} // namespace

TEST_CASE("A dividing tee ends with the coefficients of its own split") {
    for (const double branch_m : {0.5, 5.0, 50.0}) {
        TeeCircuit circuit(20e3, 5.0, branch_m);
        const solver::Solution s = solver::solve(circuit.n.network, &circuit.house);
        REQUIRE(s.outcome.converged());
        const double flow = s.flow_kg_s[circuit.combined];
        const double share = s.flow_kg_s[circuit.branch] / flow;
        const auto loss = [&](double zeta, networks::LinkId e) {
            return models::zeta_resistance(zeta, bore, s.fluid[e].density_kg_m3) * flow * flow;
        };
        INFO("branch " << branch_m << " m, share " << share);
        CHECK(flow > 0.0);
        CHECK_THAT(s.loss_pa[circuit.through_leg],
                   Catch::WithinAbs(
                       loss(models::diverging_tee_run(share, 1.0), circuit.through_leg), 0.006));
        CHECK_THAT(s.loss_pa[circuit.branch_leg],
                   Catch::WithinAbs(
                       loss(models::diverging_tee_branch(share, 1.0), circuit.branch_leg), 0.006));
    }
}

TEST_CASE("A uniting tee ends with the coefficients of its own split, negative ones too") {
    bool negative = false;
    for (const double branch_m : {0.5, 5.0, 50.0, 500.0}) {
        TeeCircuit circuit(-20e3, 5.0, branch_m);
        const solver::Solution s = solver::solve(circuit.n.network, &circuit.house);
        REQUIRE(s.outcome.converged());
        const double flow = -s.flow_kg_s[circuit.combined];
        const double share = -s.flow_kg_s[circuit.branch] / flow;
        const double through_zeta = models::converging_tee_run(share);
        const double branch_zeta = models::converging_tee_branch(share, 1.0);
        negative |= branch_zeta < 0.0;
        const auto loss = [&](double zeta, networks::LinkId e) {
            return -models::zeta_resistance(zeta, bore, s.fluid[e].density_kg_m3) * flow * flow;
        };
        INFO("branch " << branch_m << " m, share " << share);
        CHECK(flow > 0.0);
        CHECK_THAT(s.loss_pa[circuit.through_leg],
                   Catch::WithinAbs(loss(through_zeta, circuit.through_leg), 0.006));
        CHECK_THAT(s.loss_pa[circuit.branch_leg],
                   Catch::WithinAbs(loss(branch_zeta, circuit.branch_leg), 0.006));
    }
    CHECK(negative);
}
