// Heat loss of each room on the design day.
#pragma once

#include "networks/room_heat.hpp"

#include <optional>
#include <string>
#include <vector>

namespace headroom::solver {

struct LossPart {
    std::string what;
    double loss_w;
};

struct RoomRow {
    std::string room;
    double indoor_c;
    std::optional<double> floor_area_m2;
    std::optional<double> surveyed_w;
    std::optional<double> worked_w; ///< from fabric and air
    /// Of the worked figure, one an element, with what it is made of.
    std::vector<networks::RoomPartLoss> parts;
    double used_w; ///< the surveyed figure, or else the worked one
};

struct LossesAnswer {
    std::string house;
    networks::TextForm form;
    std::optional<double> outdoor_c;
    double air_heat; ///< W/(m3 K) per air change an hour
    bool bridges_assumed = false;
    double bridge_w_m2k = 0.0;
    std::vector<RoomRow> rooms;
    std::vector<LossPart> shares; ///< over all rooms that were worked out
    double total_w = 0.0;
    std::optional<double> coefficient_w_k; ///< total over mean inside-outside difference
    std::optional<double> floor_area_m2;   ///< if every room gives one
};

LossesAnswer losses(const networks::House &house);

} // namespace headroom::solver
