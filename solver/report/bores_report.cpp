#include "solver/report/figures.hpp"
#include "solver/report/json.hpp"
#include "solver/report/report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

using Align = Table::Align;

std::string cell(const std::optional<double> &value, int digits) {
    return value ? fixed(*value, digits) : std::string("-");
}

std::string alone(const BoreRow &row) {
    if (row.enough)
        return row.verdict == Verdict::Yes ? "yes" : "head yes, but *";
    return row.headroom_pa >= 0.0 || row.headroom_high_pa > 0.0 ? "marginal" : "NO";
}

void add_rows(const BoresAnswer &a, const std::vector<BoreRow> &rows, const std::string &title,
              std::string &out) {
    Table laid({{"pipe", Align::Left},
                {"loops"},
                {"pipe m"},
                {"longest m"},
                {"litres"},
                {"output W"},
                {"needs degC"},
                {"driven to m"},
                {a.currency.empty() ? "cost, relative" : "cost, " + a.currency}});
    Table driven({{"pipe", Align::Left},
                  {flow_unit(a.form)},
                  {"index loop", Align::Left},
                  {flow_unit(a.form)},
                  {"m/s"},
                  {"regime", Align::Left},
                  {in_pressure(a.form, "its")},
                  {in_pressure(a.form, "needed")},
                  {"available"},
                  {"headroom"},
                  {"from"},
                  {"to"},
                  {"alone", Align::Left}});
    for (const BoreRow &row : rows) {
        laid.row({row.pipe, std::to_string(row.loops), fixed(row.pipe_m, 0),
                  fixed(row.longest_loop_m, 0), fixed(row.volume_m3 * 1e3, 0),
                  cell(row.output_w, 0), cell(row.needs_c, 1), cell(row.longest_driven_m, 0),
                  fixed(row.material_cost, 0)});
        driven.row({row.pipe, flow_of_l_min(a.form, row.source_l_min), row.index,
                    flow_of_l_min(a.form, row.index_l_min, 2), fixed(row.index_velocity_m_s, 2),
                    row.index_regime, pressure(a.form, row.index_loss_pa),
                    pressure(a.form, row.needed_pa), pressure(a.form, row.available_pa),
                    signed_pressure(a.form, row.headroom_pa),
                    signed_pressure(a.form, row.headroom_low_pa),
                    signed_pressure(a.form, row.headroom_high_pa), alone(row)});
    }
    out += fmt::format("\n{}\n", title) + laid.text(a.form, 110) + "\n" + driven.text(a.form, 120);
    for (const BoreRow &row : rows)
        if (row.enough && row.verdict != Verdict::Yes)
            out += fmt::format("  * {}: {}\n", row.pipe, row.sentence);
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

std::string text_report(const BoresAnswer &a) {
    std::string out = a.house + "\n";
    for (const std::string &conclusion : a.conclusions)
        out += conclusion + "\n";
    add_rows(a, a.relaid,
             fmt::format("Laid anew in each bore: the fewest equal loops that lose at most {} "
                         "in their pipe",
                         pressure_words(a.form, a.loop_head_pa, 0)),
             out);
    add_rows(a, a.same, "Like for like: each bore at the lengths the file has", out);
    out += fmt::format(
        "  output: all loops at {:.1f} degC and their design drop; driven to: length "
        "to which the index loop\n  alone could grow, floor and heat with it, until "
        "the head is used up (-: others use it up first); alone: by the source's circulator\n",
        a.common_c);
    add_running(a, out);
    out += "\n" + a.habit + "\n";
    out += "Costs rank the bores and are no offer; figures the file does not give are invented.\n";
    return out;
}

Json rows_json(const std::vector<BoreRow> &rows) {
    Json list = Json::array();
    for (const BoreRow &row : rows)
        list.push_back({{"pipe", row.pipe},
                        {"bore_m", row.bore_m},
                        {"loops", row.loops},
                        {"pipe_m", row.pipe_m},
                        {"longest_loop_m", row.longest_loop_m},
                        {"volume_m3", row.volume_m3},
                        {"output_w", optional_json(row.output_w)},
                        {"needs_c", optional_json(row.needs_c)},
                        {"source_flow_m3_s", row.source_l_min / 6.0e4},
                        {"index", row.index},
                        {"index_flow_m3_s", row.index_l_min / 6.0e4},
                        {"index_velocity_m_s", row.index_velocity_m_s},
                        {"reynolds", row.index_reynolds},
                        {"regime", row.index_regime},
                        {"index_loss_pa", row.index_loss_pa},
                        {"needed_pa", row.needed_pa},
                        {"available_pa", row.available_pa},
                        {"headroom_pa", row.headroom_pa},
                        {"headroom_low_pa", row.headroom_low_pa},
                        {"headroom_high_pa", row.headroom_high_pa},
                        {"one_circulator_enough", row.enough},
                        {"verdict", row.sentence},
                        {"circulator_w", row.circulator_w},
                        {"seasonal_performance", optional_json(row.seasonal_performance)},
                        {"electricity_kwh", optional_json(row.electricity_kwh)},
                        {"yearly_cost", optional_json(row.yearly_cost)},
                        {"material_cost", row.material_cost},
                        {"longest_driven_m", optional_json(row.longest_driven_m)}});
    return list;
}

Json json_report(const BoresAnswer &a) {
    Json j = json_head("bores", a.house);
    j["conclusions"] = a.conclusions;
    j["common_flow_temperature_c"] = a.common_c;
    j["loop_head_pa"] = a.loop_head_pa;
    j["laid_anew"] = rows_json(a.relaid);
    j["same_lengths"] = rows_json(a.same);
    j["currency"] = a.currency;
    j["yearly_currency"] = a.yearly_currency;
    j["habit"] = a.habit;
    return j;
}

std::string csv_report(const BoresAnswer &a) {
    std::string out = csv_record({"laid", "pipe", "bore_m", "loops", "pipe_m", "longest_loop_m",
                                  "output_w", "needs_c", "source_flow_m3_s", "needed_pa",
                                  "available_pa", "headroom_pa", "headroom_low_pa",
                                  "one_circulator_enough", "longest_driven_m", "material_cost"});
    const auto text = [](const std::optional<double> &value) {
        return value ? number(*value) : std::string();
    };
    for (const auto &[rows, words] : {std::pair(&a.relaid, "anew"), std::pair(&a.same, "as drawn")})
        for (const BoreRow &row : *rows)
            out += csv_record(
                {words, row.pipe, number(row.bore_m), std::to_string(row.loops), number(row.pipe_m),
                 number(row.longest_loop_m), text(row.output_w), text(row.needs_c),
                 number(row.source_l_min / 6.0e4), number(row.needed_pa), number(row.available_pa),
                 number(row.headroom_pa), number(row.headroom_low_pa), row.enough ? "yes" : "no",
                 text(row.longest_driven_m), number(row.material_cost)});
    return out;
}

} // namespace

std::string report(const BoresAnswer &answer, Format format) {
    return report_in(format, answer, text_report, json_report, csv_report);
}

} // namespace headroom::solver
