#include "solver/report/changes.hpp"

#include "solver/report/figures.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <sstream>

namespace headroom::solver {
namespace {

// A set in lines that a table's first column takes whole.
std::vector<std::string> lines_of(const ChangeSet &set) {
    constexpr int width = 48;
    std::vector<std::string> lines;
    for (const std::string &change : set.changes) {
        std::istringstream text(wrapped(lines.empty() ? change : "  and " + change, "    ", width));
        for (std::string line; std::getline(text, line);)
            lines.push_back(line);
    }
    return lines;
}

std::string how_sure(const LeastChanges &a) {
    const std::string words =
        a.proven          ? "the first is the cheapest of them all"
        : !a.sets.empty() ? "it works; the search for a cheaper one ended at its limit "
                            "(--solves)"
        : a.complete      ? "none of them works"
                          : "none works so far; the search ended at its limit (--solves)";
    const auto counted = [](int count, const char *what) {
        return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
    };
    return wrapped(fmt::format("  {} solved over sets of up to {} of {}; {}",
                               counted(a.judged, "house"), std::min(a.most_changes, a.candidates),
                               counted(a.candidates, "change"), words),
                   "  ");
}

} // namespace

std::string changes_text(networks::TextForm form, const LeastChanges &a) {
    if (a.candidates == 0)
        return {};
    using Align = Table::Align;
    std::string out = "\nLeast changes that make it a yes\n";
    if (!a.sets.empty()) {
        Table table({{"any one of these", Align::Left},
                     {a.currency.empty() ? "cost, relative" : "cost, " + a.currency},
                     {in_pressure(form, "headroom")},
                     {"at least"},
                     {"degC"}});
        for (const ChangeSet &set : a.sets) {
            std::vector<std::string> figures{
                fixed(set.cost, 0), signed_pressure(form, set.headroom_pa),
                signed_pressure(form, set.headroom_low_pa), fixed(set.flow_temperature_c, 1)};
            for (const std::string &line : lines_of(set)) {
                std::vector<std::string> row{line};
                row.insert(row.end(), figures.begin(), figures.end());
                table.row(row);
                figures.assign(figures.size(), "");
            }
        }
        out += table.text(form);
    }
    out += how_sure(a);
    if (!a.sets.empty())
        out += "  costs rank the changes and are no offer; those the file does not give are "
               "invented\n";
    return out;
}

Json changes_json(const LeastChanges &a) {
    Json sets = Json::array();
    for (const ChangeSet &set : a.sets)
        sets.push_back({{"changes", set.changes},
                        {"cost", set.cost},
                        {"headroom_pa", set.headroom_pa},
                        {"headroom_low_pa", set.headroom_low_pa},
                        {"flow_temperature_c", set.flow_temperature_c}});
    return {{"sets", sets},
            {"proven_cheapest", a.proven},
            {"complete", a.complete},
            {"candidates", a.candidates},
            {"houses_solved", a.judged},
            {"most_changes", a.most_changes},
            {"currency", a.currency}};
}

} // namespace headroom::solver
