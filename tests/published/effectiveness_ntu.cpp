// Effectiveness of a heat exchanger one side of which keeps its temperature (capacity ratio 0), as
// heat transfer textbooks plot it; values from memory, to the three digits such a plot is read to.
#include "models/coil.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A coil's effectiveness against its number of transfer units is the textbook's") {
    struct Row {
        double ntu, effectiveness;
    };
    for (const Row &row : {Row{0.25, 0.221}, Row{0.5, 0.393}, Row{1.0, 0.632}, Row{1.5, 0.777},
                           Row{2.0, 0.865}, Row{3.0, 0.950}, Row{5.0, 0.993}}) {
        INFO("NTU " << row.ntu);
        CHECK_THAT(coil_effectiveness(row.ntu * 700.0, 700.0),
                   agrees_with(row.effectiveness, 0.0,
                               "Incropera et al. 2007, ch. 11, capacity ratio 0, from memory",
                               0.0005));
    }
}
