#pragma once

#include <algorithm>
#include <array>
#include <cstddef>

namespace headroom::models {

/// A place between two neighbouring entries of an ascending list.
struct Bracket {
    std::size_t lower = 0;
    double share = 0.0; ///< 0 at the lower entry, 1 at the next

    template <typename Values> double of(const Values &values) const {
        return values[lower] + share * (values[lower + 1] - values[lower]);
    }
};

/// The entries that enclose `at`, which must lie within the list.
template <std::size_t N> Bracket bracket(const std::array<double, N> &entries, double at) {
    const auto above = std::upper_bound(entries.begin() + 1, entries.end() - 1, at);
    const auto lower = static_cast<std::size_t>(above - entries.begin()) - 1;
    return {lower, (at - entries[lower]) / (entries[lower + 1] - entries[lower])};
}

} // namespace headroom::models
