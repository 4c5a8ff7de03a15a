#include "solver/report/bores_report.hpp"
#include "solver/report/changes.hpp"
#include "solver/report/figures.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

#include <algorithm>
#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

std::string alone(const BoreRow &row) {
    if (row.enough)
        return row.verdict == Verdict::Yes ? "yes" : "yes *";
    return row.headroom_pa >= 0.0 || row.headroom_high_pa > 0.0 ? "marginal" : "NO";
}

std::string laid_table(const BoresAnswer &a, const std::vector<BoreRow> &rows) {
    Table table({{"pipe", Align::Left},
                 {"loops"},
                 {"pipe m"},
                 {"longest m"},
                 {"litres"},
                 {"output W"},
                 {"needs degC"},
                 {"driven to m"},
                 {a.currency.empty() ? "cost, relative" : "cost, " + a.currency}});
    for (const BoreRow &row : rows)
        table.row({row.pipe, std::to_string(row.loops), fixed(row.pipe_m, 0),
                   fixed(row.longest_loop_m, 0), fixed(row.volume_m3 * 1e3, 0),
                   cell(row.output_w, 0), cell(row.needs_c, 1), cell(row.longest_driven_m, 0),
                   fixed(row.material_cost, 0)});
    return table.text(a.form);
}

std::string index_table(TextForm form, const std::vector<BoreRow> &rows) {
    Table table({{"pipe", Align::Left},
                 {"index loop", Align::Left},
                 {flow_unit(form)},
                 {"m/s"},
                 {"Reynolds"},
                 {"regime", Align::Left},
                 {in_pressure(form, "its")}});
    for (const BoreRow &row : rows)
        table.row({row.pipe, row.index, flow_of_l_min(form, row.index_l_min, 2),
                   fixed(row.index_velocity_m_s, 2), fixed(row.index_reynolds, 0), row.index_regime,
                   pressure(form, row.index_loss_pa)});
    return table.text(form);
}

std::string head_table(TextForm form, const std::vector<BoreRow> &rows) {
    Table table({{"pipe", Align::Left},
                 {flow_unit(form)},
                 {in_pressure(form, "needed")},
                 {"available"},
                 {"headroom"},
                 {"from"},
                 {"to"},
                 {"alone", Align::Left}});
    for (const BoreRow &row : rows)
        table.row({row.pipe, flow_of_l_min(form, row.source_l_min), pressure(form, row.needed_pa),
                   pressure(form, row.available_pa), signed_pressure(form, row.headroom_pa),
                   signed_pressure(form, row.headroom_low_pa),
                   signed_pressure(form, row.headroom_high_pa), alone(row)});
    return table.text(form);
}

// Why bores with the head are refused all the same; one line for those of one reason.
std::string refusals(const std::vector<BoreRow> &rows) {
    std::vector<std::pair<std::string, std::string>> sentences; // with the pipes before them
    for (const BoreRow &row : rows) {
        if (!row.enough || row.verdict == Verdict::Yes)
            continue;
        const auto same = std::find_if(sentences.begin(), sentences.end(),
                                       [&](const auto &s) { return s.second == row.sentence; });
        if (same == sentences.end())
            sentences.emplace_back(row.pipe, row.sentence);
        else
            same->first += ", " + row.pipe;
    }
    std::string out;
    for (const auto &[pipes, sentence] : sentences)
        out += wrapped(fmt::format("  * {}: {}", pipes, sentence), "    ");
    return out;
}

bool same_changes(const BoreRow &a, const BoreRow &b) {
    const auto &x = a.changes->sets;
    const auto &y = b.changes->sets;
    if (x.empty() || y.empty())
        return x.empty() && y.empty() && a.changes->candidates == b.changes->candidates &&
               a.changes->complete == b.changes->complete;
    return x[0].changes == y[0].changes && x[0].cost == y[0].cost;
}

// Bores that the same changes turn, or none does.
std::string changes_of(TextForm form, const std::vector<const BoreRow *> &rows,
                       const std::string &currency) {
    std::string pipes;
    int judged = 0;
    double low_pa = rows[0]->changes->sets.empty() ? 0.0 : 1e12;
    bool proven = true;
    for (const BoreRow *row : rows) {
        pipes += (pipes.empty() ? "" : ", ") + row->pipe;
        judged += row->changes->judged;
        proven = proven && row->changes->proven;
        if (!row->changes->sets.empty())
            low_pa = std::min(low_pa, row->changes->sets[0].headroom_low_pa);
    }
    const LeastChanges &c = *rows[0]->changes;
    const std::string tried = fmt::format("houses solved: {}, over sets of up to {} of {} changes",
                                          judged, c.most_changes, c.candidates);
    if (c.candidates == 0)
        return pipes + ": no change is known that could help";
    if (c.sets.empty())
        return fmt::format("{}: none works{}; {}", pipes,
                           c.complete ? "" : " so far, the search ended at its limit (--solves)",
                           tried);
    return fmt::format("{}, at {:.0f}{}: {}; then at least {} {}; {}{}", pipes, c.sets[0].cost,
                       currency.empty() ? "" : " " + currency,
                       fmt::join(c.sets[0].changes, ", and "), signed_pressure(form, low_pa),
                       pressure_unit(form), tried, proven ? ", the cheapest of them all" : "");
}

std::string least_changes_text(const BoresAnswer &a, const std::vector<BoreRow> &rows) {
    std::vector<std::vector<const BoreRow *>> groups;
    for (const BoreRow &row : rows) {
        if (!row.changes)
            continue;
        const auto group = std::find_if(groups.begin(), groups.end(), [&](const auto &g) {
            return same_changes(*g.front(), row);
        });
        if (group == groups.end())
            groups.push_back({&row});
        else
            group->push_back(&row);
    }
    std::vector<std::string> lines;
    lines.reserve(groups.size());
    for (const auto &group : groups)
        lines.push_back(changes_of(a.form, group, a.currency));
    return lines.empty()
               ? std::string()
               : "\n  Least changes that turn each refused bore, its loops kept in its pipe\n" +
                     bullets(lines);
}

void add_rows(const BoresAnswer &a, const std::vector<BoreRow> &rows, const std::string &title,
              std::string &out) {
    out += fmt::format("\n{}\n", title) + laid_table(a, rows) + "\n" + index_table(a.form, rows) +
           "\n" + head_table(a.form, rows) + refusals(rows) + least_changes_text(a, rows);
}

void add_running(const BoresAnswer &a, std::string &out) {
    Table table({{"pipe", Align::Left},
                 {"laid", Align::Left},
                 {"circulator W"},
                 {"season"},
                 {"kWh a year"},
                 {a.yearly_currency.empty() ? "cost a year" : a.yearly_currency + " a year"}});
    for (const auto &[rows, words] : {std::pair(&a.relaid, "anew"), std::pair(&a.same, "as drawn")})
        for (const BoreRow &row : *rows)
            table.row({row.pipe, words, fixed(row.circulator_w, 1),
                       cell(row.seasonal_performance, 2), cell(row.electricity_kwh, 0),
                       cell(row.yearly_cost, 0)});
    out += "\nRunning it\n" + table.text(a.form, 100);
    out += fmt::format("  circulator: electricity at the head needed, {:.0f} % wire to water "
                       "assumed; season: heat over\n  what source and pumps take, along the "
                       "weather curve\n",
                       100.0 * a.pump_efficiency);
}

std::string left_out_text(const std::vector<LeftOutPipe> &pipes) {
    std::vector<std::string> lines;
    lines.reserve(pipes.size());
    for (const LeftOutPipe &pipe : pipes)
        lines.push_back(fmt::format("{}: {}", pipe.pipe, pipe.reason));
    return lines.empty() ? std::string() : "\nLeft out\n" + bullets(lines);
}

std::string text_report(const BoresAnswer &a) {
    std::string out = a.house + "\n";
    for (const std::string &conclusion : a.conclusions)
        out += wrapped(conclusion, "  ");
    out += left_out_text(a.left_out);
    add_rows(a, a.relaid,
             fmt::format("Laid anew in each bore: the fewest equal loops that lose at most {} "
                         "in their pipe",
                         pressure_words(a.form, a.loop_head_pa, 0)),
             out);
    add_rows(a, a.same, "Like for like: each bore at the lengths the file has", out);
    out +=
        fmt::format("  output: all loops at {:.1f} degC and their design drop; driven to: length "
                    "to which the index\n  loop alone could grow, floor and heat with it, until "
                    "the head is used up (-: others use it up\n  first, or it never is); alone: "
                    "by the source's circulator\n",
                    a.common_c);
    add_running(a, out);
    out += "\n" + wrapped(a.habit);
    out += "Costs rank the bores and are no offer; figures the file does not give are invented.\n";
    out += "\nCautions\n" + bullets(a.cautions);
    return out;
}

} // namespace

std::string report(const BoresAnswer &answer, Format format) {
    return report_in(format, answer, text_report, bores_json, bores_csv);
}

} // namespace headroom::solver
