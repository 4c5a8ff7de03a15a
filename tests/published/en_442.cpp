// Radiator output factor (dT/50)^1.3 as a trade table prints it (buildingservicesindex, "delta T"),
// three decimals; it is EN 442-2's characteristic with exponent 1.3.
#include "models/radiator.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>
#include <utility>
#include <vector>

using namespace headroom::models;
using headroom::tests::agrees_with;

TEST_CASE("the EN 442 output factor agrees with the printed table at every excess") {
    const std::vector<std::pair<double, double>> printed{
        {5, .050},   {10, .123},  {15, .209},  {20, .304},  {25, .406},
        {30, .515},  {35, .629},  {40, .748},  {45, .872},  {50, 1.0},
        {55, 1.132}, {60, 1.267}, {65, 1.406}, {70, 1.549}, {75, 1.694}};
    const Radiator radiator{1.0};
    for (const auto &[excess, factor] : printed) {
        INFO("excess " << excess << " K");
        CHECK_THAT(radiator_output_at_excess_w(radiator, excess),
                   agrees_with(factor, 0.0, "EN 442 output factors, trade table", 0.0005));
    }
}
