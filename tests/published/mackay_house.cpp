// The house of D. J. C. MacKay, Sustainable Energy - without the hot air, chapter E, tables E.8 and
// E.9 (element figures from memory; their arithmetic closes on the printed totals): leakiness by
// conduction 232.4 W/K, by ventilation 90 W/K, together 322 W/K.
#include "models/room_loss.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>
#include <vector>

using namespace headroom::models;
using headroom::tests::agrees_with;

namespace {

double conduction_w_k() {
    const std::vector<FabricElement> elements{
        {48.0, 0.6}, {1.6, 3.0}, {50.0, 0.8}, {24.1, 0.6},
        {50.0, 1.0}, {2.0, 3.0}, {7.35, 5.0}, {17.8, 2.9},
    };
    double sum = 0.0;
    for (const FabricElement &element : elements)
        sum += element_loss_w(element, 1.0, 0.0);
    return sum;
}

double ventilation_w_k() {
    return air_loss_w(0.5, 80.0, 1.0, 0.0, air_heat_british) +
           air_loss_w(2.0, 36.0, 1.0, 0.0, air_heat_british) +
           air_loss_w(3.0, 27.0, 1.0, 0.0, air_heat_british) +
           air_loss_w(1.0, 77.0, 1.0, 0.0, air_heat_british);
}

} // namespace

TEST_CASE("conduction of MacKay's house is 232.4 W/K") {
    CHECK_THAT(conduction_w_k(),
               agrees_with(232.4, 0.002, "MacKay 2009, tables E.8 and E.9, from memory"));
}

TEST_CASE("ventilation of MacKay's house is 90 W/K with a third per air change") {
    CHECK_THAT(ventilation_w_k(),
               agrees_with(90.0, 0.002, "MacKay 2009, tables E.8 and E.9, from memory"));
}

TEST_CASE("the whole of MacKay's house loses 322 W/K") {
    CHECK_THAT(conduction_w_k() + ventilation_w_k(),
               agrees_with(322.0, 0.002, "MacKay 2009, tables E.8 and E.9, from memory"));
}
