#include "models/valve.hpp"

#include <algorithm>
#include <cmath>

namespace headroom::models {

double valve_kv(Characteristic characteristic, double kvs_m3_h, double travel,
                double rangeability) {
    const double h = std::clamp(travel, 0.0, 1.0);
    if (characteristic == Characteristic::Linear)
        return kvs_m3_h * h;
    const double least_travel = 1.0 / rangeability;
    if (h < least_travel)
        return kvs_m3_h * std::pow(rangeability, least_travel - 1.0) * h / least_travel;
    return kvs_m3_h * std::pow(rangeability, h - 1.0);
}

double kv_at_turns(const std::vector<std::pair<double, double>> &turns_and_kv, double turns) {
    if (turns <= turns_and_kv.front().first)
        return turns_and_kv.front().second;
    for (std::size_t i = 1; i < turns_and_kv.size(); ++i) {
        if (turns > turns_and_kv[i].first)
            continue;
        const auto &[t0, k0] = turns_and_kv[i - 1];
        const auto &[t1, k1] = turns_and_kv[i];
        return k0 + (k1 - k0) * (turns - t0) / (t1 - t0);
    }
    return turns_and_kv.back().second;
}

double turns_at_kv(const std::vector<std::pair<double, double>> &table, double kv) {
    std::vector<std::pair<double, double>> swapped;
    swapped.reserve(table.size());
    for (const auto &[turns, row_kv] : table)
        swapped.emplace_back(row_kv, turns);
    return kv_at_turns(swapped, kv);
}

} // namespace headroom::models
