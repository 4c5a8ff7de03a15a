// The valve to turn next in a house that stands as it was found.
#pragma once

#include "solver/questions/balance.hpp"
#include "solver/questions/balanced.hpp"

#include <optional>

namespace headroom::solver {

/// Of the valves that stand away from their settings, the one whose flow is farthest from its
/// design flow now; nothing if all stand where they should. The pumps are set first.
std::optional<NextTurn> next_turn(const Balanced &work);

} // namespace headroom::solver
