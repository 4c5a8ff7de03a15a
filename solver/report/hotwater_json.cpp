// The answer of hotwater as JSON and CSV.
#include "models/units.hpp"
#include "solver/report/hotwater_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

Json rows_json(const std::vector<ReheatRow> &rows) {
    Json list = Json::array();
    for (const ReheatRow &row : rows)
        list.push_back({{"store_c", row.store_c},
                        {"time_s", row.at_s},
                        {"flow_c", row.sent_c},
                        {"return_c", row.back_c},
                        {"heat_w", row.heat_w},
                        {"source_greatest_w", row.source_w},
                        {"efficiency", row.efficiency},
                        {"held_back", row.held},
                        {"cycles", row.cycles},
                        {"within_rating", row.within_rating}});
    return list;
}

Json state_json(const CoilState &s) {
    Json j{{"wanted_flow_m3_s", s.wanted_m3_s},
           {"flow_m3_s", s.flow_m3_s},
           {"driven", s.driven},
           {"can_be_driven", s.can_be_driven},
           {"head_needed_pa", s.needed_pa},
           {"head_available_pa", s.available_pa},
           {"headroom_pa", s.headroom_pa},
           {"source_least_flow_m3_s", optional_json(s.least_flow_m3_s)}};
    j["circuit"] = Json::array();
    for (const CircuitStep &step : s.circuit)
        j["circuit"].push_back({{"where", step.where},
                                {"piece", step.what},
                                {"flow_kg_s", step.flow_kg_s},
                                {"velocity_m_s", step.velocity_m_s},
                                {"loss_pa", step.loss_pa}});
    return j;
}

Json in_seconds(const std::optional<double> &time_h) {
    return time_h ? Json(*time_h * models::seconds_per_hour) : Json();
}

} // namespace

Json hotwater_json(const HotWaterAnswer &a) {
    Json j = json_head("hotwater", a.house);
    j["fluid"] = a.fluid;
    j["outdoor_c"] = optional_json(a.outdoor_c);
    j["store_m3"] = a.store_m3;
    j["store_from_cold_kwh"] = a.store_kwh;
    j["cold_c"] = a.cold_c;
    j["store_to_c"] = a.store_to_c;
    j["flow_temperature_allowed_c"] = a.allowed_c;
    j["coil_ua_w_k"] = a.ua_w_k;
    j["coil_area_m2"] = optional_json(a.coil_area_m2);
    j["effectiveness_share"] = a.effectiveness;
    j["coil_passes_w"] = a.passes_w;
    j["source_greatest_w"] = a.greatest_w;
    j["source_least_w"] = a.least_w;
    j["set_output_w"] = a.coil_too_small ? Json() : Json(a.set_w);
    j["coil_too_small"] = a.coil_too_small;
    j["reached_without_cycling_c"] = a.reached_c;
    j["at_tap_c"] = optional_json(a.at_tap_c);
    j["at_tap_m3"] = optional_json(a.at_tap_m3);
    j["coil_state"] = state_json(a.state);
    j["reheats"] = Json::array();
    for (const Reheat &r : a.reheats)
        j["reheats"].push_back({{"from_c", r.from_c},
                                {"to_c", r.to_c},
                                {"set_output_w", optional_json(r.output_w)},
                                {"time_s", r.time_s},
                                {"heat_kwh", r.heat_kwh},
                                {"input_kwh", r.input_kwh},
                                {"held_back_from_c", optional_json(r.held_from_c)},
                                {"cycles_from_c", optional_json(r.cycles_from_c)},
                                {"rows", rows_json(r.rows)}});
    j["coils"] = Json::array();
    for (const CoilRow &row : a.coils)
        j["coils"].push_back({{"flow_c", row.flow_c},
                              {"efficiency", row.efficiency},
                              {"greatest_w", row.greatest_w},
                              {"least_w", row.least_w},
                              {"within_rating", row.within_rating},
                              {"ua_greatest_w_k", optional_json(row.ua_greatest_w_k)},
                              {"ua_least_w_k", optional_json(row.ua_least_w_k)},
                              {"area_greatest_m2", optional_json(row.area_greatest_m2)},
                              {"area_least_m2", optional_json(row.area_least_m2)}});
    j["rooms"] = Json::array();
    for (const RoomCooling &row : a.rooms)
        j["rooms"].push_back({{"room", row.room},
                              {"time_constant_s", in_seconds(row.time_constant_h)},
                              {"falls_from_cold_k", optional_json(row.falls_k)},
                              {"falls_usual_k", optional_json(row.falls_usual_k)}});
    if (a.day)
        j["day"] = {{"draw_m3", a.day->draw_m3},
                    {"draw_c", a.day->draw_c},
                    {"heat_kwh", a.day->heat_kwh},
                    {"reheats_count", optional_json(a.day->reheats)},
                    {"time_s", optional_json(a.day->time_s)},
                    {"input_kwh", optional_json(a.day->input_kwh)}};
    if (a.pasteurising) {
        const PasteurisingAnswer &p = *a.pasteurising;
        j["pasteurising"] = {{"from_c", p.from_c},
                             {"to_c", p.to_c},
                             {"every_s", p.every_h * models::seconds_per_hour},
                             {"source_to_c", p.source_to_c},
                             {"source_kwh", p.source_kwh},
                             {"source_s", p.source_s},
                             {"source_input_kwh", p.source_input_kwh},
                             {"direct_kwh", p.direct_kwh},
                             {"direct_s", optional_json(p.direct_s)},
                             {"year_heat_kwh", p.year_heat_kwh},
                             {"year_input_kwh", p.year_input_kwh}};
    }
    j["not_worked_out"] = a.unknown;
    j["cautions"] = a.cautions;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string hotwater_csv(const HotWaterAnswer &a) {
    std::string out = csv_record({"from_c", "set_output_w", "store_c", "time_s", "flow_c",
                                  "return_c", "heat_w", "source_greatest_w", "efficiency"});
    for (const Reheat &r : a.reheats)
        for (const ReheatRow &row : r.rows)
            out += csv_record({number(r.from_c), r.output_w ? number(*r.output_w) : "",
                               number(row.store_c), number(row.at_s), number(row.sent_c),
                               number(row.back_c), number(row.heat_w), number(row.source_w),
                               number(row.efficiency)});
    return out;
}

} // namespace headroom::solver
