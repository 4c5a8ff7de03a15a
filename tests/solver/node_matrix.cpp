#include "solver/flow/node_matrix.hpp"
#include "tests/support/random_network.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>

using namespace headroom;
using solver::NodeMatrix;
using tests::Random;

TEST_CASE("The node matrix solves as a dense matrix does") {
    for (std::uint64_t seed = 1; seed <= 50; ++seed) {
        Random random(seed);
        const std::size_t nodes = random.between(2, 40);
        const auto below = [&](std::size_t n) {
            return static_cast<std::uint32_t>(random.below(n));
        };
        std::vector<NodeMatrix::Ends> ends;
        for (std::size_t v = 1; v < nodes; ++v) // every node hangs on the ground in the end
            ends.push_back({below(v), static_cast<std::uint32_t>(v)});
        for (std::size_t i = random.between(0, 60); i > 0; --i) // parallels and loops among them
            ends.push_back({below(nodes), below(nodes)});
        const auto size = static_cast<Eigen::Index>(nodes - 1);
        Eigen::MatrixXd dense = Eigen::MatrixXd::Zero(size, size);
        std::vector<double> conductance;
        for (const NodeMatrix::Ends &e : ends) {
            conductance.push_back(random.log_uniform(1e-3, 1e3));
            const auto from = static_cast<Eigen::Index>(e.from) - 1;
            const auto to = static_cast<Eigen::Index>(e.to) - 1;
            if (e.from == e.to)
                continue;
            if (from >= 0)
                dense(from, from) += conductance.back();
            if (to >= 0)
                dense(to, to) += conductance.back();
            if (from >= 0 && to >= 0) {
                dense(from, to) -= conductance.back();
                dense(to, from) -= conductance.back();
            }
        }
        std::vector<double> to_ground(nodes, 0.0);
        std::vector<double> inflow(nodes, 0.0);
        Eigen::VectorXd right_side(size);
        for (std::size_t v = 1; v < nodes; ++v) {
            const auto row = static_cast<Eigen::Index>(v) - 1;
            to_ground[v] = random.chance(0.2) ? random.log_uniform(1e-3, 1e3) : 0.0;
            dense(row, row) += to_ground[v];
            inflow[v] = right_side(row) = random.uniform(-1.0, 1.0);
        }
        NodeMatrix matrix(nodes, ends);
        REQUIRE(matrix.factorise(conductance, to_ground));
        std::vector<double> pressure;
        matrix.solve(inflow, pressure);
        const Eigen::VectorXd expected = dense.ldlt().solve(right_side);
        INFO("seed " << seed);
        CHECK(pressure[0] == 0.0);
        // Conductances over six decades leave a condition of about 1e8 and so eight digits.
        for (std::size_t v = 1; v < nodes; ++v)
            CHECK(std::abs(pressure[v] - expected(static_cast<Eigen::Index>(v) - 1)) <=
                  1e-8 * expected.cwiseAbs().maxCoeff());
    }
}

TEST_CASE("The node matrix reports a conductance that is not finite") {
    NodeMatrix matrix(2, {{0, 1}});
    CHECK_FALSE(matrix.factorise({models::no_limit}, {0.0, 0.0}));
    CHECK(matrix.factorise({1.0}, {0.0, 0.0}));
}

namespace {

// A few sums and quotients of small numbers are right to a few units in the last place.
void check_pressures(const NodeMatrix &matrix, const std::vector<double> &inflow,
                     const std::vector<double> &expected) {
    std::vector<double> pressure;
    matrix.solve(inflow, pressure);
    CHECK_THAT(pressure, Catch::Matchers::Approx(expected).epsilon(1e-15).margin(1e-15));
}

} // namespace

TEST_CASE("Two conductances in a row to the ground add their pressures") {
    // 1 kg/s put in at the far end: 1/1 Pa over the outer one and 1/2 Pa over the inner one.
    NodeMatrix matrix(3, {{0, 1}, {2, 1}});
    REQUIRE(matrix.factorise({2.0, 1.0}, {0.0, 0.0, 0.0}));
    check_pressures(matrix, {0.0, 0.0, 1.0}, {0.0, 0.5, 1.5});
    // The same pattern takes other values, and a loop from a node to itself adds nothing.
    NodeMatrix looped(3, {{0, 1}, {2, 1}, {2, 2}, {1, 2}});
    REQUIRE(looped.factorise({2.0, 1.0, 7.0, 1.0}, {0.0, 0.0, 0.0}));
    check_pressures(looped, {0.0, 0.0, 1.0}, {0.0, 0.5, 1.0});
    REQUIRE(looped.factorise({4.0, 2.0, 7.0, 2.0}, {0.0, 0.0, 0.0}));
    check_pressures(looped, {0.0, 0.0, 1.0}, {0.0, 0.25, 0.5});
}

TEST_CASE("The node matrix reports a part that nothing ties to the ground") {
    NodeMatrix matrix(3, {{1, 2}});
    CHECK_FALSE(matrix.factorise({1.0}, {0.0, 0.0, 0.0}));
    REQUIRE(matrix.factorise({1.0}, {0.0, 1.0, 0.0}));
    check_pressures(matrix, {0.0, 0.0, 1.0}, {0.0, 1.0, 2.0});
}

TEST_CASE("A node matrix of the ground alone has nothing to solve") {
    NodeMatrix matrix(1, {{0, 0}});
    CHECK(matrix.factorise({1.0}, {0.0}));
    check_pressures(matrix, {0.0}, {0.0});
}
