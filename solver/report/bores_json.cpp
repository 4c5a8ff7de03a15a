// The answer of bores as JSON and CSV.
#include "solver/report/bores_report.hpp"
#include "solver/report/changes.hpp"
#include "solver/report/table.hpp"

#include <fmt/ranges.h>

namespace headroom::solver {
namespace {

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
                        {"longest_driven_m", optional_json(row.longest_driven_m)},
                        {"least_changes", row.changes ? changes_json(*row.changes) : Json()}});
    return list;
}

Json left_out_json(const std::vector<LeftOutPipe> &pipes) {
    Json list = Json::array();
    for (const LeftOutPipe &pipe : pipes)
        list.push_back({{"pipe", pipe.pipe}, {"reason", pipe.reason}});
    return list;
}

std::vector<std::string> changes_cells(const BoreRow &row) {
    if (!row.changes)
        return {"", "", "", ""};
    const LeastChanges &c = *row.changes;
    const std::string judged = std::to_string(c.judged);
    if (c.sets.empty())
        return {"", "", "no", judged};
    return {fmt::format("{}", fmt::join(c.sets[0].changes, "; ")), number(c.sets[0].cost),
            c.proven ? "yes" : "no", judged};
}

} // namespace

Json bores_json(const BoresAnswer &a) {
    Json j = json_head("bores", a.house);
    j["conclusions"] = a.conclusions;
    j["common_flow_temperature_c"] = a.common_c;
    j["loop_head_pa"] = a.loop_head_pa;
    j["laid_anew"] = rows_json(a.relaid);
    j["same_lengths"] = rows_json(a.same);
    j["left_out"] = left_out_json(a.left_out);
    j["currency"] = a.currency;
    j["yearly_currency"] = a.yearly_currency;
    j["habit"] = a.habit;
    j["cautions"] = a.cautions;
    return j;
}

std::string bores_csv(const BoresAnswer &a) {
    std::string out = csv_record({"laid",
                                  "pipe",
                                  "bore_m",
                                  "loops",
                                  "pipe_m",
                                  "longest_loop_m",
                                  "output_w",
                                  "needs_c",
                                  "source_flow_m3_s",
                                  "needed_pa",
                                  "available_pa",
                                  "headroom_pa",
                                  "headroom_low_pa",
                                  "one_circulator_enough",
                                  "longest_driven_m",
                                  "material_cost",
                                  "least_changes",
                                  "least_changes_cost",
                                  "proven_cheapest",
                                  "houses_solved"});
    const auto text = [](const std::optional<double> &value) {
        return value ? number(*value) : std::string();
    };
    for (const auto &[rows, words] : {std::pair(&a.relaid, "anew"), std::pair(&a.same, "as drawn")})
        for (const BoreRow &row : *rows) {
            std::vector<std::string> cells{words,
                                           row.pipe,
                                           number(row.bore_m),
                                           std::to_string(row.loops),
                                           number(row.pipe_m),
                                           number(row.longest_loop_m),
                                           text(row.output_w),
                                           text(row.needs_c),
                                           number(row.source_l_min / 6.0e4),
                                           number(row.needed_pa),
                                           number(row.available_pa),
                                           number(row.headroom_pa),
                                           number(row.headroom_low_pa),
                                           row.enough ? "yes" : "no",
                                           text(row.longest_driven_m),
                                           number(row.material_cost)};
            const std::vector<std::string> changes = changes_cells(row);
            cells.insert(cells.end(), changes.begin(), changes.end());
            out += csv_record(cells);
        }
    return out;
}

} // namespace headroom::solver
