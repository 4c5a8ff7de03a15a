#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

bool of_keys(const TermGroup &group) {
    return group.title.starts_with("keys of the house file");
}

// Every name, by group.
std::string listing(const ExplainAnswer &a) {
    std::string out = "`headroom explain TERM` explains each of these\n";
    const TermGroup *group = nullptr;
    std::string names;
    const auto close = [&] {
        if (!names.empty())
            out += wrapped("  " + names, "  ");
        names.clear();
    };
    for (const Explained &entry : a.found) {
        if (entry.group != group) {
            close();
            group = entry.group;
            out += fmt::format("\n{}\n", group->title);
        }
        names += fmt::format("{}{}", names.empty() ? "" : ", ", entry.term->name);
    }
    close();
    return out + "\nOther words and keys that belong to one of them are found too.\n";
}

std::string text_report(const ExplainAnswer &a) {
    if (a.asked.empty())
        return listing(a);
    std::string out;
    for (const Explained &entry : a.found) {
        out += fmt::format("{}{} ({})\n", out.empty() ? "" : "\n", entry.term->name,
                           entry.group->title);
        out += wrapped(fmt::format("  {}", entry.term->meaning), "  ");
        if (of_keys(*entry.group) && !entry.term->also.empty())
            out += wrapped(fmt::format("  keys in it or with it: {}", entry.term->also), "    ");
        out += wrapped(fmt::format("  {}: {}", entry.group->seen, entry.term->seen), "    ");
    }
    std::vector<std::string_view> others;
    for (const Explained &entry : a.see_also)
        others.push_back(entry.term->name);
    if (!others.empty())
        out += "\n" + wrapped(fmt::format("see also: {}", fmt::join(others, ", ")), "  ");
    return out;
}

Json json_report(const ExplainAnswer &a) {
    const auto entries = [](const std::vector<Explained> &list) {
        Json out = Json::array();
        for (const Explained &entry : list)
            out.push_back({{"name", entry.term->name},
                           {"group", entry.group->title},
                           {"also", other_names(*entry.term)},
                           {"meaning", entry.term->meaning},
                           {"use", entry.group->seen},
                           {"where", entry.term->seen}});
        return out;
    };
    return {{"answer", "explain"},
            {"version", json_version},
            {"asked", a.asked},
            {"terms", entries(a.found)},
            {"see_also", entries(a.see_also)}};
}

std::string csv_report(const ExplainAnswer &a) {
    std::string out = csv_record({"name", "group", "also", "meaning", "use", "where"});
    for (const Explained &entry : a.found)
        out += csv_record({std::string(entry.term->name), std::string(entry.group->title),
                           std::string(entry.term->also), std::string(entry.term->meaning),
                           std::string(entry.group->seen), std::string(entry.term->seen)});
    return out;
}

} // namespace

std::string report(const ExplainAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
