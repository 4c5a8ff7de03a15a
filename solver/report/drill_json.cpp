// The answer of drill as JSON and CSV.
#include "solver/report/drill_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

Json water_json(const FloorWater &water) {
    return {{"flow_m3_s", water.flow_m3_s},
            {"flow_share", water.flow_share},
            {"hottest_loop", water.loop},
            {"water_c", optional_json(water.water_c)},
            {"limit_c", water.limit_c},
            {"surface_c", optional_json(water.surface_c)},
            {"surface_limit_c", optional_json(water.surface_limit_c)},
            {"too_hot", water.too_hot}};
}

Json findings_json(const std::vector<Finding> &list) {
    Json out = Json::array();
    for (const Finding &finding : list)
        out.push_back({{"what", finding.what}, {"faults", finding.faults}, {"help", finding.help}});
    return out;
}

Json fault_json(const FaultRow &row) {
    Json j{{"fault", row.fault},
           {"remark", row.remark},
           {"comes_to", fault_result(row)},
           {"sent_c", row.sent_c},
           {"source_flow_m3_s", row.outcome.converged() ? Json(row.source_m3_s) : Json()},
           {"source_flow_after_m3_s", optional_json(row.source_after_m3_s)},
           {"below_least_flow", row.below_least},
           {"creep_flow_m3_s", optional_json(row.creep_m3_s)},
           {"creep_counts", row.creeps},
           {"stats_that_trip", row.tripped},
           {"heat_input_stops", row.heat_stops},
           {"heat_taken_w", optional_json(row.taken_w)}};
    j["floors"] = Json::array();
    for (const FloorRow &floor : row.floors)
        j["floors"].push_back({{"floor", floor.floor},
                               {"in_the_fault", water_json(floor.fault)},
                               {"stopped_by", floor.behind},
                               {"then", floor.after ? water_json(*floor.after) : Json()},
                               {"unprotected", floor.unprotected}});
    j["cold_rooms"] = Json::array();
    for (const RoomShare &room : row.cold)
        j["cold_rooms"].push_back({{"room", room.room},
                                   {"heat_share", room.share},
                                   {"reached_c", optional_json(room.reached_c)},
                                   {"wanted_c", room.wanted_c}});
    j["outcome"] = outcome_json(row.outcome);
    return j;
}

} // namespace

Json drill_json(const DrillAnswer &a) {
    Json j = json_head("drill", a.house);
    j["fluid"] = a.fluid;
    j["protected"] = a.missing.empty() && a.unsolved.empty();
    j["sentence"] = drill_sentence(a);
    j["sent_c"] = a.sent_c;
    j["highest_c"] = a.highest_c;
    j["least_flow_m3_s"] = optional_json(a.least_flow_m3_s);
    j["buoyancy"] = a.buoyancy;
    j["cold_below_share"] = cold_share;
    j["creep_counts_from_share"] = creep_share;
    j["missing"] = findings_json(a.missing);
    j["not_known"] = findings_json(a.unsolved);
    j["warnings"] = findings_json(a.warnings);
    j["faults"] = Json::array();
    for (const FaultRow &row : a.faults)
        j["faults"].push_back(fault_json(row));
    j["assumed"] = Json::array();
    for (const DrillAssumption &row : a.assumed)
        j["assumed"].push_back({{"what", row.what}, {"value", row.value}, {"range", row.range}});
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string drill_csv(const DrillAnswer &a) {
    std::string out = csv_record({"fault", "comes_to", "sent_c", "source_flow_m3_s", "floor",
                                  "flow_m3_s", "water_c", "limit_c", "surface_c", "stopped_by",
                                  "then_flow_m3_s", "then_water_c", "unprotected"});
    const auto cell = [](const std::optional<double> &value) {
        return value ? number(*value) : std::string();
    };
    for (const FaultRow &row : a.faults) {
        const std::vector<std::string> head{
            row.fault, fault_result(row), number(row.sent_c),
            row.outcome.converged() ? number(row.source_after_m3_s.value_or(row.source_m3_s)) : ""};
        const auto record = [&](const std::vector<std::string> &rest) {
            std::vector<std::string> cells = head;
            cells.insert(cells.end(), rest.begin(), rest.end());
            out += csv_record(cells);
        };
        for (const FloorRow &floor : row.floors)
            record({floor.floor, number(floor.fault.flow_m3_s), cell(floor.fault.water_c),
                    number(floor.fault.limit_c), cell(floor.fault.surface_c), listed(floor.behind),
                    floor.after ? number(floor.after->flow_m3_s) : "",
                    floor.after ? cell(floor.after->water_c) : "",
                    floor.unprotected ? "yes" : "no"});
        if (row.floors.empty())
            record({"", "", "", "", "", "", "", "", ""});
    }
    return out;
}

} // namespace headroom::solver
