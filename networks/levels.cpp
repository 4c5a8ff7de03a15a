#include "networks/levels.hpp"

#include "networks/names.hpp"

#include <fmt/format.h>

namespace headroom::networks {

std::string names_without_level(const House &house) {
    constexpr int most_named = 3;
    std::string names;
    int count = 0;
    for (const std::string &place : Names(house).places())
        if (!house.levels.contains(place) && ++count <= most_named)
            names += (names.empty() ? "" : ", ") + place;
    if (count > most_named)
        names += fmt::format(" and {} more", count - most_named);
    return names;
}

} // namespace headroom::networks
