#include "solver/newton_krylov.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using headroom::solver::newton_krylov;

TEST_CASE("Newton's method without a Jacobian finds where a circle and a parabola meet") {
    // x^2 + y^2 = 4 and y = x^2: y = (sqrt(17) - 1)/2, by hand.
    Eigen::VectorXd x(2);
    x << 1.0, 1.0;
    const auto miss = [](const Eigen::VectorXd &at) {
        Eigen::VectorXd left(2);
        left << at[0] * at[0] + at[1] * at[1] - 4.0, at[1] - at[0] * at[0];
        return left;
    };
    REQUIRE(newton_krylov(miss, x, 1e-12, 1e-7));
    const double y = 0.5 * (std::sqrt(17.0) - 1.0);
    CHECK(x[0] == Approx(std::sqrt(y)).epsilon(1e-12));
    CHECK(x[1] == Approx(y).epsilon(1e-12));
}

TEST_CASE("It settles what repetition drives apart: x = cos(3 x)") {
    // |3 sin(3 x)| is 2.8 at the root, so that each repetition trebles the distance.
    Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 0.5);
    const auto miss = [](const Eigen::VectorXd &at) -> Eigen::VectorXd {
        return (3.0 * at.array()).cos().matrix() - at;
    };
    REQUIRE(newton_krylov(miss, x, 1e-13, 1e-7));
    CHECK(std::cos(3.0 * x[0]) == Approx(x[0]).margin(1e-13));
}

TEST_CASE("A step that overshoots is halved: the root of atan from far away") {
    Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 3.0); // whole steps run away from |x| > 1.39
    const auto miss = [](const Eigen::VectorXd &at) -> Eigen::VectorXd {
        return at.array().atan().matrix();
    };
    REQUIRE(newton_krylov(miss, x, 1e-12, 1e-7));
    CHECK(std::abs(x[0]) <= 1e-12);
}

TEST_CASE("Without a root the place of least miss is left and said to be none") {
    Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 2.0);
    const auto miss = [](const Eigen::VectorXd &at) -> Eigen::VectorXd {
        return (at.array() * at.array() + 1.0).matrix();
    };
    CHECK_FALSE(newton_krylov(miss, x, 1e-9, 1e-7));
    // x^2 + 1 is least at 0; within 0.05 it misses by less than 0.3 % more.
    CHECK(std::abs(x[0]) <= 0.05);
}

TEST_CASE("Where the miss is no number nothing is found") {
    Eigen::VectorXd x = Eigen::VectorXd::Constant(1, 1.0);
    const auto miss = [](const Eigen::VectorXd &at) -> Eigen::VectorXd {
        return (at.array() - 2.0).sqrt().matrix();
    };
    CHECK_FALSE(newton_krylov(miss, x, 1e-9, 1e-7));
}
