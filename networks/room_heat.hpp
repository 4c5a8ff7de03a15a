#pragma once

#include "networks/house.hpp"

#include <string>
#include <vector>

namespace headroom::networks {

/// What one part of a room loses on the design day.
struct RoomPartLoss {
    std::string what; ///< "wall", "air", "thermal bridges"
    double loss_w;
};

/// A room's loss worked out from its fabric and air by EN 12831-1; empty for a room that gives
/// none.
std::vector<RoomPartLoss> worked_losses(const House &house, const Room &room);

/// Whether the room gives fabric or air from which a loss can be worked out.
bool has_worked_loss(const Room &room);

} // namespace headroom::networks
