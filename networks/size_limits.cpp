// How much one file may hold. Far above any house, and low enough that `drive` and `flows` answer
// within seconds; `balance`, which solves the house anew for each valve, takes minutes at the
// limit. Solves grow with the parts, those of controlled pumps and mixers faster than that, and
// each different floor is worked out from a conduction model of its own.
#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr std::size_t most_emitters = 5000;
constexpr std::size_t most_heated = 1000; // of those that are solved with their rooms
constexpr std::size_t most_runs = 5000;
constexpr std::size_t most_bypasses = 1000;
constexpr std::size_t most_tees = 100;
constexpr std::size_t most_controls = 24;
constexpr std::size_t most_floors = 60;

// Keeps the place of the first thing beyond the limit.
struct Counter {
    std::size_t most;
    std::size_t count = 0;
    Place beyond{};

    void add(Place place) {
        if (++count == most + 1)
            beyond = place;
    }
    // True if there are no more than there may be.
    bool holds(std::string_view what, Diagnostics &diagnostics) const {
        if (count <= most)
            return true;
        diagnostics.error("too-large", beyond,
                          fmt::format("more than {} {} in one file", most, what),
                          "split the house into several files");
        return false;
    }
};

template <class Item> Counter counted(const std::vector<Item> &items, std::size_t most) {
    Counter counter{most};
    for (const Item &item : items)
        counter.add(item.place);
    return counter;
}

Counter controls(const House &house) {
    Counter counter{most_controls};
    for (const Run &run : house.runs) {
        if (run.pump)
            counter.add(run.place);
        if (run.mixer && run.mixer->set_c)
            counter.add(run.place);
    }
    return counter;
}

Counter heated(const House &house) {
    Counter counter{most_heated};
    for (const Emitter &emitter : house.emitters)
        if (!std::holds_alternative<std::monostate>(emitter.emission))
            counter.add(emitter.place);
    return counter;
}

Counter different_floors(const House &house) {
    Counter counter{most_floors};
    std::vector<const models::FloorSection *> seen;
    for (const Emitter &emitter : house.emitters) {
        const auto *floor = std::get_if<FloorPart>(&emitter.emission);
        if (floor == nullptr ||
            std::any_of(seen.begin(), seen.end(), [&](const models::FloorSection *section) {
                return *section == floor->section;
            }))
            continue;
        counter.add(emitter.place);
        if (counter.count > most_floors)
            break;
        seen.push_back(&floor->section);
    }
    return counter;
}

} // namespace

bool check_size(Reading &reading) {
    const House &house = reading.house;
    Diagnostics &diagnostics = reading.diagnostics;
    bool fits = counted(house.emitters, most_emitters).holds("loops and radiators", diagnostics);
    fits = heated(house).holds("floors and rated radiators", diagnostics) && fits;
    fits = counted(house.runs, most_runs).holds("runs", diagnostics) && fits;
    fits = counted(house.bypasses, most_bypasses).holds("bypasses", diagnostics) && fits;
    fits = counted(house.tees, most_tees).holds("tees", diagnostics) && fits;
    fits = controls(house).holds("pumps and mixers that control", diagnostics) && fits;
    return different_floors(house).holds("different floors", diagnostics) && fits;
}

} // namespace headroom::networks
