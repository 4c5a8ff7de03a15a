// A reheat step by step: the source's output and efficiency follow the flow temperature it makes.
// For hotwater.cpp and its tests.
#pragma once

#include "models/coil.hpp"
#include "networks/house.hpp"
#include "solver/questions/hotwater.hpp"

#include <optional>

namespace headroom::solver {

/// What the source has at a flow temperature.
struct SourceAt {
    double greatest_w;
    double least_w;
    bool within_rating;
};
SourceAt source_at(const networks::House &house, double flow_c);

/// The store's temperature taken in equal steps. In each the source's greatest output is that at
/// the flow temperature it makes at mid-step, and the step's time is exact (heating_time_s); so
/// with a source of one output the whole is exact, and heat is always store times its rise. At most
/// `output_w` is asked of the source, if given. The time is infinite where the allowed flow
/// temperature does not reach `to_c`.
Reheat reheat(const networks::House &house, const models::CoilInStore &coil, double from_c,
              double to_c, std::optional<double> output_w);

} // namespace headroom::solver
