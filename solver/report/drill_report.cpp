#include "solver/report/drill_report.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using Align = Table::Align;

constexpr std::size_t width = 100;

// Words set in lines, the first after `head`, the others below its end.
std::string set_in_lines(const std::string &head, const std::string &text) {
    std::string out = head;
    std::size_t column = head.size();
    const auto put = [&](const std::string &word) {
        if (column + 1 + word.size() > width) {
            out += "\n" + std::string(head.size(), ' ');
            column = head.size();
        }
        if (column > head.size()) {
            out += ' ';
            ++column;
        }
        out += word;
        column += word.size();
    };
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        put(text.substr(at, end - at));
        at = end + 1;
    }
    return out + "\n";
}

std::string degrees(const std::optional<double> &value) {
    return value ? fixed(*value, 1) : "-";
}

std::string findings(const char *mark, const std::vector<Finding> &list) {
    std::string out;
    for (const Finding &finding : list) {
        out += set_in_lines(fmt::format("  {}: ", mark), finding.what);
        for (const std::string &fault : finding.faults)
            out += set_in_lines("    - ", fault);
        out += set_in_lines("    help: ", finding.help);
    }
    return out;
}

// The rooms that go cold, the coldest first, the rest counted.
std::string cold_rooms(const FaultRow &row) {
    std::vector<RoomShare> rooms = row.cold;
    std::stable_sort(rooms.begin(), rooms.end(),
                     [](const RoomShare &x, const RoomShare &y) { return x.share < y.share; });
    constexpr std::size_t most_named = 3;
    std::vector<std::string> words;
    for (std::size_t i = 0; i < std::min(rooms.size(), most_named); ++i)
        words.push_back(fmt::format("{} {}", rooms[i].room,
                                    rooms[i].reached_c ? fixed(*rooms[i].reached_c, 1) + " degC"
                                                       : percent(std::max(rooms[i].share, 0.0))));
    return listed(words) + (rooms.size() > most_named
                                ? fmt::format(" and {} more", rooms.size() - most_named)
                                : "");
}

// What is said of a fault, or of several in the same words.
std::string remarks(const DrillAnswer &a) {
    std::vector<std::pair<std::string, std::string>> lines; // numbers, words
    for (std::size_t i = 0; i < a.faults.size(); ++i) {
        const std::string &remark = a.faults[i].remark;
        if (remark.empty())
            continue;
        const auto same = std::find_if(lines.begin(), lines.end(),
                                       [&](const auto &line) { return line.second == remark; });
        if (same == lines.end())
            lines.emplace_back(fmt::format("{}", i), remark);
        else
            same->first += fmt::format(", {}", i);
    }
    std::string out;
    for (const auto &line : lines)
        out += set_in_lines(fmt::format("  {}: ", line.first), line.second);
    return out;
}

std::string faults_table(const DrillAnswer &a) {
    Table table({{"fault", Align::Left},
                 {in_flow(a.form, "source")},
                 {"creep"},
                 {"cold"},
                 {"comes to", Align::Left}});
    for (std::size_t i = 0; i < a.faults.size(); ++i) {
        const FaultRow &row = a.faults[i];
        table.row({fmt::format("{} {}", i, row.fault),
                   row.outcome.converged()
                       ? flow(a.form, row.source_after_m3_s.value_or(row.source_m3_s))
                       : "-",
                   row.creep_m3_s ? flow(a.form, *row.creep_m3_s) : "-",
                   row.outcome.converged() ? fmt::format("{}", row.cold.size()) : "-",
                   fault_result(row)});
    }
    std::string out =
        "\nFaults, one at a time\n" + table.text(a.form, width) +
        fmt::format("  source {2}: once every stat that trips has acted{0}\n"
                    "  creep: {2} through the run whose pump stands; cold: rooms of {1}\n",
                    a.least_flow_m3_s
                        ? fmt::format("; its least flow {}", flow(a.form, *a.least_flow_m3_s))
                        : "",
                    a.rooms, flow_unit(a.form));
    return out + remarks(a);
}

std::string cold_table(const DrillAnswer &a) {
    Table table({{"fault", Align::Left}, {"rooms, the coldest first", Align::Left}});
    for (std::size_t i = 0; i < a.faults.size(); ++i)
        if (!a.faults[i].cold.empty())
            table.row({fmt::format("{}", i), cold_rooms(a.faults[i])});
    if (table.empty())
        return "";
    return "\nRooms that go cold, by the numbers above\n" + table.text(a.form, width) +
           fmt::format(
               "  get less than {} of their heat (own choice) and got more without the "
               "fault; degC where their\n  emitters are described, else the share of heat\n",
               percent(cold_share));
}

std::string floors_table(const DrillAnswer &a) {
    Table table({{"fault", Align::Left},
                 {"floor", Align::Left},
                 {flow_unit(a.form)},
                 {"degC"},
                 {"limit"},
                 {"surface"},
                 {"stat", Align::Left},
                 {in_flow(a.form, "then")},
                 {"then degC"},
                 {"stopped", Align::Left}});
    for (std::size_t i = 0; i < a.faults.size(); ++i)
        for (const FloorRow &floor : a.faults[i].floors) {
            const bool acted = floor.after.has_value();
            table.row({fmt::format("{}", i), floor.floor, flow(a.form, floor.fault.flow_m3_s),
                       degrees(floor.fault.water_c), fixed(floor.fault.limit_c, 0),
                       degrees(floor.fault.surface_c), floor.behind.empty() ? "-" : "trips",
                       acted ? flow(a.form, floor.after->flow_m3_s) : "-",
                       acted ? degrees(floor.after->water_c) : "-",
                       floor.unprotected     ? "NO"
                       : floor.fault.too_hot ? "yes"
                                             : "-"});
        }
    if (table.empty())
        return "";
    return "\nHottest water that reaches each floor, by the numbers above\n" +
           table.text(a.form, width) +
           "  degC: of the hottest water that enters it, - where none comes; surface: its hottest "
           "place, - where\n  no loop is described and it is not known; then: once every stat "
           "that trips has acted\n";
}

std::string assumed_table(const DrillAnswer &a) {
    if (a.assumed.empty())
        return "";
    Table table({{"assumed", Align::Words}, {"value"}, {"plausible"}});
    for (const DrillAssumption &row : a.assumed)
        table.row({row.what, row.value, row.range});
    return "\nAssumed, as the file does not say (common practice)\n" + table.text(a.form, width);
}

std::string text_report(const DrillAnswer &a) {
    std::string out = a.house + "\n" + set_in_lines("", drill_sentence(a)) + "\n";
    out +=
        fmt::format("  source sends {:.1f} degC, {:.1f} at the highest; {} high-limit stat{}; {}\n",
                    a.sent_c, a.highest_c, a.stats, a.stats == 1 ? "" : "s",
                    a.buoyancy ? "with buoyancy" : "no levels, so no buoyancy");
    if (!a.missing.empty())
        out += "\nMissing protection\n" + findings("error", a.missing);
    if (!a.unsolved.empty())
        out += "\nNot known\n" + findings("error", a.unsolved);
    out += faults_table(a);
    out += floors_table(a);
    out += cold_table(a);
    if (!a.warnings.empty())
        out += "\nWarnings\n" + findings("warning", a.warnings);
    out += assumed_table(a);
    out += "\nThe house runs free as the file has it, in steady state; faults are single. A drill "
           "on paper does\nnot replace the test of each stat on site by competent people; local "
           "codes and makers' rules\nstand above it.\n";
    return out;
}

// The house and how many of its faults could not be solved; empty if all were.
std::string which_unsolved(const DrillAnswer &a) {
    const auto unsolved = [](const FaultRow &row) { return !row.outcome.converged(); };
    const auto count = std::count_if(a.faults.begin() + 1, a.faults.end(), unsolved);
    std::string out = unsolved(a.faults.front()) ? "the house without a fault" : "";
    if (count > 0)
        out += fmt::format("{}{} of {} single faults", out.empty() ? "" : " and ", count,
                           a.faults.size() - 1);
    return out;
}

} // namespace

std::string listed(const std::vector<std::string> &words) {
    std::string out;
    for (const std::string &word : words)
        out += (out.empty() ? "" : ", ") + word;
    return out;
}

std::string drill_sentence(const DrillAnswer &a) {
    const auto missing = [](const FaultRow &row) { return row.missing; };
    const auto faults = a.faults.size() - 1;
    const auto open = std::count_if(a.faults.begin() + 1, a.faults.end(), missing);
    const std::string unsolved = which_unsolved(a);
    if (a.missing.empty() && unsolved.empty())
        return fmt::format("yes: in none of {} single faults does a floor keep getting water above "
                           "its limit",
                           faults);
    if (a.missing.empty())
        return fmt::format("not known: {} could not be solved; in none of the others does a floor "
                           "keep getting water above its limit",
                           unsolved);
    const std::string beside =
        unsolved.empty() ? "" : fmt::format("; {} could not be solved and is not known", unsolved);
    if (open == 0 && !a.faults.front().missing)
        return "no: protection is missing in the house itself, whatever fails" + beside;
    return fmt::format("no: protection is missing in {} of {} single faults{}", open, faults,
                       a.faults.front().missing ? ", and without a fault" : "") +
           beside;
}

std::string fault_result(const FaultRow &row) {
    const auto any = [&](auto &&which) {
        return std::any_of(row.floors.begin(), row.floors.end(), which);
    };
    if (!row.outcome.converged())
        return "not solved";
    if (any([](const FloorRow &floor) { return floor.unprotected; }))
        return "too hot";
    if (!row.tripped.empty())
        return "stopped";
    if (row.below_least)
        return "low flow";
    if (row.creeps)
        return "creeps";
    return row.cold.empty() ? "good" : "cold";
}

std::string report(const DrillAnswer &answer, Format format) {
    return report_in(format, answer, text_report, drill_json, drill_csv);
}

} // namespace headroom::solver
