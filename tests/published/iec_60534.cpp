// IEC 60534-1, the definition of the flow coefficient: Kv is the flow in m3/h of water that loses
// 1 bar, so that the loss in bar is (Q/Kv)^2.
#include "models/local_loss.hpp"

#include "tests/support/reference_value.hpp"

#include <catch2/catch.hpp>

using namespace headroom::models;
using namespace headroom::tests;

TEST_CASE("A valve's loss in bar is the square of flow over Kv") {
    // (flow m3/h, Kv m3/h, bar), by hand from the definition.
    struct Row {
        double flow, kv, bar;
    };
    for (const Row &row : {Row{2.0, 2.0, 1.0}, Row{1.0, 2.0, 0.25}, Row{0.3, 1.0, 0.09}}) {
        const double flow_kg_s = row.flow * 1000.0 / 3600.0;
        CHECK_THAT(kv_resistance(row.kv, 1000.0) * flow_kg_s * flow_kg_s / 1e5,
                   agrees_with(row.bar, 1e-12, "IEC 60534-1, definition of Kv"));
        CHECK_THAT(kv_for_loss(flow_kg_s, row.bar * 1e5, 1000.0),
                   agrees_with(row.kv, 1e-12, "IEC 60534-1, definition of Kv"));
    }
}
