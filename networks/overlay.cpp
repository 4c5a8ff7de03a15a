#include "networks/overlay.hpp"

#include <algorithm>
#include <array>
#include <fmt/format.h>

namespace headroom::networks {
namespace {

constexpr std::array<std::string_view, 9> naming_keys{"run", "radiator", "loop", "bypass", "part",
                                                      "end", "name",     "at",   "room"};

bool says(const Entry &entry, std::string_view key) {
    const Entry *value = entry.is_map() ? entry.find(key) : nullptr;
    return value != nullptr && value->is_scalar() &&
           (value->scalar == "yes" || value->scalar == "true");
}

// What a list's item is called: its first naming key and that key's value.
const Pair *naming_pair(const Entry &item) {
    if (!item.is_map())
        return nullptr;
    for (const std::string_view key : naming_keys)
        for (const Pair &pair : item.pairs)
            if (pair.key == key && pair.value->is_scalar())
                return &pair;
    return nullptr;
}

bool has_name(const Entry &item, const Pair &name) {
    const Entry *value = item.is_map() ? item.find(name.key) : nullptr;
    return value != nullptr && value->is_scalar() && value->scalar == name.value->scalar;
}

class Overlay {
public:
    explicit Overlay(Diagnostics &diagnostics) : diagnostics_(diagnostics) {}

    std::unique_ptr<Entry> over(const Entry &base, const Entry &changes) {
        if (changes.is_map() && base.is_map() && !says(changes, "replace"))
            return maps(base, changes);
        if (changes.is_list() && base.is_list())
            return lists(base, changes);
        return copy(changes);
    }

private:
    // Without the words that only tell how to lay over.
    static std::unique_ptr<Entry> copy(const Entry &entry) {
        auto out = bare(entry);
        for (const auto &item : entry.items)
            out->items.push_back(copy(*item));
        for (const Pair &pair : entry.pairs)
            if (pair.key != "replace" && pair.key != "remove")
                out->pairs.push_back({pair.key, pair.key_place, copy(*pair.value)});
        return out;
    }

    static std::unique_ptr<Entry> bare(const Entry &entry) {
        auto out = std::make_unique<Entry>();
        out->kind = entry.kind;
        out->place = entry.place;
        out->scalar = entry.scalar;
        out->quoted = entry.quoted;
        return out;
    }

    std::unique_ptr<Entry> maps(const Entry &base, const Entry &changes) {
        auto out = bare(base);
        for (const Pair &pair : base.pairs) {
            const Entry *change = changes.find(pair.key);
            if (change == nullptr)
                out->pairs.push_back({pair.key, pair.key_place, copy(*pair.value)});
            else if (!is_none(*change))
                out->pairs.push_back({pair.key, pair.key_place, over(*pair.value, *change)});
        }
        for (const Pair &pair : changes.pairs)
            if (base.find(pair.key) == nullptr && pair.key != "replace") {
                if (is_none(*pair.value))
                    diagnostics_.error(
                        "nothing-to-remove", pair.key_place,
                        fmt::format("the base has no `{}` here to take away", pair.key),
                        "remove this line, or check the name");
                else
                    out->pairs.push_back({pair.key, pair.key_place, copy(*pair.value)});
            }
        return out;
    }

    std::unique_ptr<Entry> lists(const Entry &base, const Entry &changes) {
        auto out = bare(base);
        for (const auto &item : base.items)
            out->items.push_back(copy(*item));
        for (const auto &change : changes.items) {
            const Pair *name = naming_pair(*change);
            const auto named = [&](const std::unique_ptr<Entry> &item) {
                return name != nullptr && has_name(*item, *name);
            };
            const auto twin = std::find_if(out->items.begin(), out->items.end(), named);
            const auto twins = std::count_if(out->items.begin(), out->items.end(), named);
            if (twins > 1)
                diagnostics_.error(
                    "which-one", name->value->place,
                    fmt::format("the base has {} items with `{}: {}`", twins, name->key,
                                name->value->scalar),
                    "name them apart in the base, or replace the whole map with `replace: yes`");
            else if (says(*change, "remove") && twins == 0)
                diagnostics_.error("nothing-to-remove", change->place,
                                   "the base has no such item to take away",
                                   "remove this line, or check the name");
            else if (says(*change, "remove"))
                out->items.erase(twin);
            else if (twins == 1)
                *twin = over(**twin, *change);
            else
                out->items.push_back(copy(*change));
        }
        return out;
    }

    static bool is_none(const Entry &entry) {
        return entry.is_scalar() && !entry.quoted && entry.scalar == "none";
    }

    Diagnostics &diagnostics_;
};

} // namespace

std::unique_ptr<Entry> laid_over(const Entry &base, const Entry &changes,
                                 Diagnostics &diagnostics) {
    return Overlay(diagnostics).over(base, changes);
}

} // namespace headroom::networks
