#include "networks/overlay.hpp"
#include "networks/read_parts.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>

namespace headroom::networks {
namespace {

bool same(const Diagnostic &a, const Diagnostic &b) {
    return a.code == b.code && a.place.line == b.place.line && a.place.column == b.place.column;
}

// The tree a proposal is laid over: the base, or an earlier proposal that it builds on.
const Entry &ground_of(const Entry &changes, const Entry &base,
                       const std::map<std::string, std::unique_ptr<Entry>> &earlier,
                       Diagnostics &diagnostics) {
    const Entry *name = changes.find("builds_on");
    if (name == nullptr)
        return base;
    if (const auto found = earlier.find(name->scalar); found != earlier.end())
        return *found->second;
    diagnostics.error("unknown-proposal", name->place,
                      fmt::format("there is no earlier proposal `{}`", name->scalar),
                      "a proposal can build on one that stands above it");
    return base;
}

int last_line(const Entry &entry) {
    int line = entry.place.line;
    for (const auto &item : entry.items)
        line = std::max(line, last_line(*item));
    for (const Pair &pair : entry.pairs)
        line = std::max({line, pair.key_place.line, last_line(*pair.value)});
    return line;
}

// What the base says and the proposal keeps may not fit what the proposal says.
void tell_how_to_part(const Diagnostic &fault, bool in_base, std::string &help) {
    if (fault.code == "one-too-many" ||
        (in_base && (fault.code == "unknown-key" || fault.code == "not-used")))
        help += "; a proposal keeps what the base says: in it `KEY: none` takes a key away, "
                "`replace: yes` puts its whole map in place of the base's";
}

} // namespace

void read_proposals(Entry &document, House &base, Diagnostics &diagnostics) {
    const auto found = std::find_if(document.pairs.begin(), document.pairs.end(),
                                    [](const Pair &pair) { return pair.key == "proposals"; });
    if (found == document.pairs.end())
        return;
    const Place place = found->key_place;
    const std::unique_ptr<Entry> proposals = std::move(found->value);
    document.pairs.erase(found); // so that none is read within another
    if (Fields all(proposals.get(), place, "proposals", diagnostics); !all.usable())
        return;
    const std::vector<Diagnostic> told = diagnostics.sorted();
    std::map<std::string, std::unique_ptr<Entry>> merged;
    for (const Pair &pair : proposals->pairs) {
        Diagnostics own;
        if (Fields changes(pair.value.get(), pair.key_place, fmt::format("proposal `{}`", pair.key),
                           own);
            changes.usable()) {
            auto tree = laid_over(ground_of(*pair.value, document, merged, own), *pair.value, own);
            std::erase_if(tree->pairs, [](const Pair &key) { return key.key == "builds_on"; });
            House house = read_document(*tree, own);
            if (house.name == base.name)
                house.name += ", " + pair.key;
            merged[pair.key] = std::move(tree);
            if (!own.has_errors())
                base.proposals.push_back(
                    {pair.key, std::make_shared<const House>(std::move(house))});
        }
        for (Diagnostic fault : own.sorted()) {
            if (std::any_of(told.begin(), told.end(),
                            [&](const Diagnostic &known) { return same(known, fault); }))
                continue;
            tell_how_to_part(
                fault, fault.place.line < place.line || fault.place.line > last_line(*proposals),
                fault.help);
            fault.message = fmt::format("in proposal `{}`: {}", pair.key, fault.message);
            diagnostics.add(std::move(fault));
        }
    }
}

} // namespace headroom::networks
