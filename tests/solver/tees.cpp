// Tees at splits known beforehand, with Crane's formulas worked out by hand: Crane Co., Flow of
// Fluids Through Valves, Fittings and Pipe, Technical Paper 410 (2009), 90 degree tees of one bore.
//
//     dividing    through  M s^2,  M = 2 (2s - 1) up to s = 0.5, 0.3 (2s - 1) above
//                 branch   (1 + 0.3 s^2)(1 + 0.3 s^2)
//     uniting     through  1.55 s - s^2
//                 branch   C (1 + s^2 - 2 (1 - s)^2),  C = 0.9 (1 - s) up to s = 0.4, 0.55 above
#include "solver/solve.hpp"
#include "tests/support/small_network.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headroom;
using namespace headroom::tests;

namespace {

constexpr double combined_kg_s = 0.4;

// 0.4 kg/s of 1000 kg/m3 in a bore of 20 mm: v = 1.273240 m/s.
constexpr double velocity_head_pa = 810.5695;

// A loss by a square law leaves it by up to 0.005 Pa; the outer iteration adds 1e-7 Pa.
constexpr double square_law_pa = 0.006;

double kv_through(double flow_kg_s, double pressure_pa) {
    return flow_kg_s * 3.6 / std::sqrt(pressure_pa / 1e5);
}

// A tee between an ideal rise and two valves that return to it.
struct TeeCircuit {
    SmallNetwork n;
    networks::LinkId combined, through, branch, through_leg, branch_leg;

    TeeCircuit(double rise_pa, double through_kv, double branch_kv) {
        n.network.fluid.kind = models::FluidKind::Stated; // 1000 kg/m3
        const auto tee = n.node(), run = n.node(), side = n.node(), end = n.node();
        combined = n.link(end, tee, networks::PressureRise{rise_pa});
        through = n.link(run, end, networks::FlowFactor{through_kv});
        branch = n.link(end, side, networks::FlowFactor{branch_kv}); // drawn the other way
        through_leg = n.link(tee, run, networks::TeeLeg{});
        branch_leg = n.link(side, tee, networks::TeeLeg{});
        add_tee(tee);
    }

    // The same tee with nothing but fixed flows, positive into it.
    TeeCircuit(double combined_in, double through_in) {
        n.network.fluid.kind = models::FluidKind::Stated;
        const auto tee = n.node(), run = n.node(), side = n.node(), end = n.node(),
                   run_end = n.node(), side_end = n.node();
        combined = n.link(end, tee, networks::FlowFactor{5.0});
        through = n.link(run, run_end, networks::FlowFactor{5.0});
        branch = n.link(side_end, side, networks::FlowFactor{5.0});
        through_leg = n.link(tee, run, networks::TeeLeg{});
        branch_leg = n.link(side, tee, networks::TeeLeg{});
        n.network.fixed = {{end, combined_in, 0},
                           {run_end, through_in, 1},
                           {side_end, -combined_in - through_in, 2}};
        add_tee(tee);
    }

    void add_tee(networks::NodeId tee) {
        n.network.tees = {{tee, combined, through, branch, through_leg, branch_leg, 0.02, 0.02}};
    }

    solver::Solution solved() const {
        solver::Solution s = solver::solve(n.network);
        INFO(s.outcome.explanation);
        REQUIRE(s.outcome.converged());
        return s;
    }
};

struct Coefficients {
    double share, through, branch;
};

} // namespace

TEST_CASE("A dividing tee with its split fixed takes Crane's losses") {
    for (const Coefficients k : {Coefficients{0.25, -0.0625, 1.0378516}, // 1.01875^2
                                 {0.5, 0.0, 1.155625},                   // 1.075^2
                                 {0.75, 0.084375, 1.3659766}}) {         // 1.16875^2
        const TeeCircuit circuit(combined_kg_s, -(1.0 - k.share) * combined_kg_s);
        const solver::Solution s = circuit.solved();
        INFO("share " << k.share);
        CHECK(s.flow_kg_s[circuit.branch_leg] ==
              Approx(-k.share * combined_kg_s).epsilon(1e-12)); // drawn towards the tee
        CHECK(s.loss_pa[circuit.through_leg] ==
              Approx(k.through * velocity_head_pa).margin(square_law_pa));
        CHECK(-s.loss_pa[circuit.branch_leg] ==
              Approx(k.branch * velocity_head_pa).margin(square_law_pa));
    }
}

TEST_CASE("A uniting tee with its split fixed takes Crane's losses") {
    // The quarter is Crane's example 7.35, which prints -0.042 for the branch.
    for (const Coefficients k :
         {Coefficients{0.25, 0.325, -0.0421875}, {0.5, 0.525, 0.4125}, {0.75, 0.6, 0.790625}}) {
        const TeeCircuit circuit(-combined_kg_s, (1.0 - k.share) * combined_kg_s);
        const solver::Solution s = circuit.solved();
        INFO("share " << k.share);
        CHECK(s.flow_kg_s[circuit.through_leg] ==
              Approx(-(1.0 - k.share) * combined_kg_s).epsilon(1e-12));
        CHECK(-s.loss_pa[circuit.through_leg] ==
              Approx(k.through * velocity_head_pa).margin(square_law_pa));
        CHECK(s.loss_pa[circuit.branch_leg] ==
              Approx(k.branch * velocity_head_pa).margin(square_law_pa));
    }
}

TEST_CASE(
    "A tee whose combined leg is named as its through leg takes Crane's losses all the same") {
    // 0.3 and 0.1 kg/s unite, or 0.4 kg/s divides into them; 0.4 kg/s is in the leg named through.
    // Branch and combined leg then lie on either side of both legs' losses.
    for (const bool unites : {true, false}) {
        const double sign = unites ? 1.0 : -1.0;
        const TeeCircuit circuit(sign * 0.3, sign * -combined_kg_s);
        const solver::Solution s = circuit.solved();
        const Coefficients k =
            unites ? Coefficients{0.25, 0.325, -0.0421875} : Coefficients{0.25, -0.0625, 1.0378516};
        INFO((unites ? "unites" : "divides"));
        CHECK(s.flow_kg_s[circuit.branch_leg] == Approx(sign * 0.1).epsilon(1e-12));
        const double through = sign * s.loss_pa[circuit.through_leg];
        CHECK(through == Approx(k.through * velocity_head_pa).margin(square_law_pa));
        CHECK(sign * s.loss_pa[circuit.branch_leg] + through ==
              Approx(k.branch * velocity_head_pa).margin(2.0 * square_law_pa));
        CHECK(s.remarks.empty());
    }
}

TEST_CASE("A leg whose water stands takes Crane's loss at no flow of its own") {
    // Through stands: all turns into the branch, (1 + 0.3)^2; through loses 0.3 (2 - 1).
    const solver::Solution dividing = TeeCircuit(combined_kg_s, 0.0).solved();
    // Branch stands beside what unites: 0.9 (1 - 2).
    const solver::Solution uniting = TeeCircuit(-combined_kg_s, combined_kg_s).solved();
    const TeeCircuit circuit(combined_kg_s, 0.0);
    CHECK(dividing.loss_pa[circuit.through_leg] ==
          Approx(0.3 * velocity_head_pa).margin(square_law_pa));
    CHECK(-dividing.loss_pa[circuit.branch_leg] ==
          Approx(1.69 * velocity_head_pa).margin(square_law_pa));
    CHECK(dividing.remarks.empty()); // a split that the coefficients cover
    CHECK(uniting.loss_pa[circuit.through_leg] == Approx(0.0).margin(square_law_pa));
    CHECK(uniting.loss_pa[circuit.branch_leg] ==
          Approx(-0.9 * velocity_head_pa).margin(square_law_pa));
}

TEST_CASE("A tee with all of its flow in the branch leg is named, as it has no coefficients") {
    for (const double sign : {1.0, -1.0}) {
        const solver::Solution s = TeeCircuit(sign * 0.2, sign * 0.2).solved();
        REQUIRE(s.remarks.size() == 1);
        CHECK_THAT(s.remarks.front(), Catch::Contains("tee at `"));
    }
}

TEST_CASE("A negative coefficient is a gain and does not hang on the leg's own flow") {
    const TeeCircuit circuit(-combined_kg_s, 0.75 * combined_kg_s);
    const solver::Solution s = circuit.solved();
    // A constant, so that nothing leaves a square law here: -0.0421875 * 810.5695.
    CHECK(s.loss_pa[circuit.branch_leg] == Approx(-34.19590).margin(1e-5));
}

TEST_CASE("A dividing tee finds the split at which its coefficients are those of that split") {
    // A quarter into the branch. The run's valve takes 5 kPa at 0.3 kg/s, the leg gains 0.0625
    // velocity heads; the branch leg takes 1.0378516 of them and its valve what is left.
    const double across = 5e3 - 0.0625 * velocity_head_pa;
    const double branch_valve = across - 1.0378516 * velocity_head_pa;
    const TeeCircuit circuit(across, kv_through(0.3, 5e3), kv_through(0.1, branch_valve));
    const solver::Solution s = circuit.solved();
    // Square laws that are off by 0.005 Pa in 4 kPa move flows by about 1e-6.
    CHECK(s.flow_kg_s[circuit.combined] == Approx(0.4).epsilon(3e-6));
    CHECK(s.flow_kg_s[circuit.through] == Approx(0.3).epsilon(3e-6));
    CHECK(-s.flow_kg_s[circuit.branch] == Approx(0.1).epsilon(3e-6));
    CHECK(s.loss_pa[circuit.through_leg] ==
          Approx(-0.0625 * velocity_head_pa).margin(square_law_pa));
    CHECK(-s.loss_pa[circuit.branch_leg] ==
          Approx(1.0378516 * velocity_head_pa).margin(square_law_pa));
}

TEST_CASE("A uniting tee finds the split at which its coefficients are those of that split") {
    // The fall is the other way: 5 kPa in the run's valve and 0.325 velocity heads in its leg; the
    // branch leg gains 0.0421875 of them, which its valve takes beyond the rest.
    const double across = 5e3 + 0.325 * velocity_head_pa;
    const double branch_valve = across + 0.0421875 * velocity_head_pa;
    const TeeCircuit circuit(-across, kv_through(0.3, 5e3), kv_through(0.1, branch_valve));
    const solver::Solution s = circuit.solved();
    CHECK(-s.flow_kg_s[circuit.combined] == Approx(0.4).epsilon(3e-6));
    CHECK(-s.flow_kg_s[circuit.through] == Approx(0.3).epsilon(3e-6));
    CHECK(s.flow_kg_s[circuit.branch] == Approx(0.1).epsilon(3e-6));
    CHECK(-s.loss_pa[circuit.through_leg] ==
          Approx(0.325 * velocity_head_pa).margin(square_law_pa));
    CHECK(s.loss_pa[circuit.branch_leg] ==
          Approx(-0.0421875 * velocity_head_pa).margin(square_law_pa));
}

TEST_CASE("A tee through which nothing flows takes nothing") {
    const TeeCircuit circuit(0.0, 3.0, 3.0);
    const solver::Solution s = circuit.solved();
    for (const double flow : s.flow_kg_s)
        CHECK(flow == 0.0);
    CHECK(s.loss_pa[circuit.through_leg] == 0.0);
    CHECK(s.loss_pa[circuit.branch_leg] == 0.0);
}
