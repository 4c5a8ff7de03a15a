#include "models/chi_squared.hpp"

#include <catch2/catch.hpp>

using headroom::models::chi_squared_once_in_twenty;

TEST_CASE("Chi-squared exceeded once in twenty agrees with printed tables") {
    // Upper 5 % points as in any table of the distribution: 3.841, 5.991, 11.070, 18.307, 31.410,
    // 43.773. Tolerances are what the cube-root approximation is stated to keep.
    CHECK(chi_squared_once_in_twenty(1) == Approx(3.841).epsilon(0.025));
    CHECK(chi_squared_once_in_twenty(2) == Approx(5.991).epsilon(0.010));
    CHECK(chi_squared_once_in_twenty(5) == Approx(11.070).epsilon(0.003));
    CHECK(chi_squared_once_in_twenty(10) == Approx(18.307).epsilon(0.001));
    CHECK(chi_squared_once_in_twenty(20) == Approx(31.410).epsilon(0.001));
    CHECK(chi_squared_once_in_twenty(30) == Approx(43.773).epsilon(0.001));
}
