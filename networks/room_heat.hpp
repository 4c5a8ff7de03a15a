#pragma once

#include "networks/house.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::networks {

/// What one part of a room loses on the design day, and the factors whose product it is:
/// area U share difference, or volume changes heat of air difference.
struct RoomPartLoss {
    std::string what; ///< "wall", "air", "thermal bridges"
    double loss_w;
    double difference_k; ///< inside less outside, or less what is known beyond
    double share = 1.0;  ///< of the difference: the temperature factor
    std::optional<double> area_m2 =
        std::nullopt; ///< of thermal bridges: of all elements, each by its share
    std::optional<double> u_w_m2k =
        std::nullopt; ///< of thermal bridges: what is added to each U-value
    std::optional<double> volume_m3 = std::nullopt; ///< of air
    std::optional<double> changes_per_h = std::nullopt;
};

/// A room's loss worked out from its fabric and air by EN 12831-1; empty for a room that gives
/// none.
std::vector<RoomPartLoss> worked_losses(const House &house, const Room &room);

/// Whether the room gives fabric or air from which a loss can be worked out.
bool has_worked_loss(const Room &room);

} // namespace headroom::networks
