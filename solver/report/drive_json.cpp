// The answer of drive as JSON and CSV.
#include "solver/report/changes.hpp"
#include "solver/report/drive_report.hpp"
#include "solver/report/how_sure.hpp"
#include "solver/report/laid.hpp"
#include "solver/report/source_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
Json drive_json(const DriveAnswer &a) {
    Json j = json_head("drive", a.house);
    j["verdict"] = verdict_word(a.verdict);
    j["sentence"] = a.sentence;
    j["decided_by"] = a.decided_by;
    j["reasons"] = a.reasons;
    j["circulator_set_pa"] = a.set_pa;
    j["fluid"] = a.fluid;
    j["head_needed_pa"] = a.needed_pa;
    j["head_available_pa"] = a.available_pa;
    j["headroom_pa"] = a.headroom_pa;
    j["headroom_low_pa"] = a.headroom_low_pa;
    j["headroom_high_pa"] = a.headroom_high_pa;
    j["headroom_note"] = a.headroom_note;
    j["source_flow_m3_s"] = a.source_l_min / 6.0e4;
    j["flow_temperature_c"] = a.flow_temperature_c;
    j["return_temperature_c"] = a.return_temperature_c;
    j["index_circuit"] = a.index;
    j["index_steps"] = Json::array();
    for (const CircuitStep &step : a.index_circuit)
        j["index_steps"].push_back({{"where", step.where},
                                    {"piece", step.what},
                                    {"flow_kg_s", step.flow_kg_s},
                                    {"velocity_m_s", step.velocity_m_s},
                                    {"loss_pa", step.loss_pa}});
    j["emitters"] = Json::array();
    for (const EmitterRow &row : a.emitters)
        j["emitters"].push_back({{"name", row.name},
                                 {"kind", row.kind},
                                 {"heat_w", row.heat_w},
                                 {"drop_k", row.drop_k},
                                 {"design_flow_m3_s", row.design_l_min / 6.0e4},
                                 {"velocity_m_s", row.velocity_m_s},
                                 {"reynolds", row.reynolds},
                                 {"regime", row.regime},
                                 {"loss_pa", row.own_loss_pa},
                                 {"surplus_pa", row.surplus_pa},
                                 {"valve_kv_m3_h", row.valve_kv_m3_h},
                                 {"valve_in_range", row.valve_in_range},
                                 {"share_of_design_flow", row.reaches_share},
                                 {"cold_share_of_design_flow", row.cold_share}});
    j["cautions"] = a.cautions;
    j["states"] = Json::array();
    for (const StateRow &row : a.states)
        j["states"].push_back({{"state", row.state},
                               {"judged_by", row.judged_by},
                               {"decides", row.decides()},
                               {"fault", row.fault},
                               {"doubt", row.doubt},
                               {"source_flow_m3_s", row.source_l_min / 6.0e4},
                               {"head_needed_pa", row.needed_pa},
                               {"head_available_pa", row.available_pa},
                               {"headroom_pa", row.headroom_pa},
                               {"headroom_low_pa", row.headroom_low_pa},
                               {"headroom_high_pa", row.headroom_high_pa},
                               {"remark", row.remark}});
    j["beside"] = Json::array();
    for (const BesideRow &row : a.beside)
        j["beside"].push_back({{"house", row.what},
                               {"all_driven", row.all_driven},
                               {"least_served", row.worst},
                               {"share_of_design_flow", row.worst_share}});
    j["assumed"] = Json::array();
    for (const AssumptionRow &row : a.assumed)
        j["assumed"].push_back({{"what", row.what},
                                {"value", row.value},
                                {"range", row.range},
                                {"headroom_change_low_pa", optional_json(row.low_pa)},
                                {"headroom_change_high_pa", optional_json(row.high_pa)}});
    j["load_w"] = a.load_w;
    if (a.source)
        j["source"] = source_json(*a.source);
    j["pipe_loss_w"] = a.pipe_loss_w;
    j["pipes"] = pipe_losses_json(a.pipe_losses);
    j["inlet_rounds"] = a.inlet_rounds;
    j["inlet_change_k"] = a.inlet_change_k;
    if (a.how_sure)
        j["how_sure"] = how_sure_json(*a.how_sure);
    if (a.changes)
        j["least_changes"] = changes_json(*a.changes);
    j["laid"] = laid_json(a.laid);
    j["heat"] = Json::array();
    for (const HeatRow &row : a.heat)
        j["heat"].push_back({{"emitter", row.name},
                             {"room_w", row.room_w},
                             {"down_w", row.down_w},
                             {"own_flow_temperature_c", row.own_flow_c},
                             {"design_drop_k", row.design_drop_k},
                             {"drop_k", row.drop_k},
                             {"reaches", row.reaches},
                             {"short_w", row.short_w},
                             {"gives_share", row.gives_share},
                             {"rated_share", optional_json(row.rated_share)},
                             {"rated_needed_w", optional_json(row.rated_needed_w)},
                             {"surface_c", row.surface_c},
                             {"surface_limit_c", optional_json(row.surface_limit_c)},
                             {"conduction_w_m2k", optional_json(row.conduction_w_m2k)},
                             {"standard_w_m2k", optional_json(row.standard_w_m2k)}});
    j["flow_temperature_set_by"] = a.temperature_set_by;
    j["flow_temperature_needed_c"] = a.needed_temperature_c;
    j["flow_temperature_computed"] = a.temperature_computed;
    j["too_hot"] = Json::array();
    for (const ThermalLimit &limit : a.too_hot)
        j["too_hot"].push_back({{"emitter", limit.emitter},
                                {"water_c", limit.water_c},
                                {"limit_c", limit.limit_c},
                                {"when", limit.when}});
    j["band"] = a.band;
    j["remarks"] = a.remarks;
    j["worst_setting_error_share"] = a.worst_setting_error;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string drive_csv(const DriveAnswer &a) {
    std::string out =
        csv_record({"name", "kind", "heat_w", "drop_k", "design_flow_m3_s", "velocity_m_s",
                    "reynolds", "regime", "loss_pa", "surplus_pa", "valve_kv_m3_h",
                    "valve_in_range", "share_of_design_flow", "cold_share_of_design_flow"});
    for (const EmitterRow &row : a.emitters)
        out += csv_record(
            {row.name, row.kind, number(row.heat_w), number(row.drop_k),
             number(row.design_l_min / 6.0e4), number(row.velocity_m_s), number(row.reynolds),
             row.regime, number(row.own_loss_pa), number(row.surplus_pa), number(row.valve_kv_m3_h),
             row.valve_in_range ? "yes" : "no", number(row.reaches_share), number(row.cold_share)});
    return out;
}

} // namespace headroom::solver
