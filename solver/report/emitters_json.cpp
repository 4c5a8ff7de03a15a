// How floors and radiators come to their output, as JSON and CSV.
#include "solver/report/emitters_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

Json section_json(const FloorFactors &row) {
    Json j = {{"floor", row.floor},
              {"pipe", row.pipe},
              {"spacing_m", row.section.spacing_m},
              {"cover_m", row.section.cover_m},
              {"conductivity_w_mk", row.section.layer_conductivity_w_m_k},
              {"covering_m2k_w", row.section.covering_resistance_m2k_w},
              {"loops", row.loops},
              {"outside_standard", range_words(row.range)},
              {"standard", nullptr},
              {"grid_cells", row.cells},
              {"grid_step_share", row.grid_step_share}};
    if (const auto &f = row.factors)
        j["standard"] = {{"covering_factor", f->a_covering},
                         {"spacing_factor", f->a_spacing},
                         {"spacing_exponent", f->m_spacing},
                         {"cover_factor", f->a_cover},
                         {"cover_exponent", f->m_cover},
                         {"diameter_factor", f->a_diameter},
                         {"diameter_exponent", f->m_diameter},
                         {"system_w_m2k", f->system_w_m2_k},
                         {"characteristic_w_m2k", f->characteristic_w_m2_k}};
    return j;
}

Json floor_json(const LoopOutput &row) {
    Json j = {{"loop", row.name},
              {"section", section_letter(row.section)},
              {"asked_w_m2", row.asked_w_m2},
              {"drop_k", row.drop_k},
              {"reynolds", row.reynolds},
              {"film_mk_w", optional_json(row.film_mk_w)},
              {"standard_w_m2k", optional_json(row.standard_w_m2k)},
              {"without_film_w_m2k", row.without_film_w_m2k},
              {"conduction_w_m2k", row.conduction_w_m2k},
              {"standard_needs_c", optional_json(row.standard_needs_c)},
              {"needs_c", row.needs_c},
              {"surface_limit_c", row.surface_limit_c},
              {"surface_highest_c", row.surface_highest_c},
              {"even_surface_c", row.even_surface_c},
              {"limit", nullptr},
              {"standard_down", nullptr},
              {"down_w_m2", row.down_w_m2}};
    if (row.limit)
        j["limit"] = {{"limit_factor", row.limit->b_factor},
                      {"limit_exponent", row.limit->exponent},
                      {"excess_k", row.limit->excess_k},
                      {"heat_w_m2", row.limit->heat_w_m2}};
    if (row.down)
        j["standard_down"] = {{"upper_m2k_w", row.down->upper_resistance_m2k_w},
                              {"lower_m2k_w", row.down->lower_resistance_m2k_w},
                              {"down_w_m2", row.down->heat_down_w_m2},
                              {"water_share", row.down->water_share}};
    return j;
}

Json radiator_json(const RadiatorOutput &row) {
    const models::Radiator &r = row.radiator;
    return {{"radiator", row.name},
            {"kind", body_name(row.body)},
            {"rated_w", r.rated_w},
            {"rated_flow_c", r.rated_flow_c},
            {"rated_return_c", r.rated_return_c},
            {"rated_room_c", r.rated_room_c},
            {"output_exponent", r.exponent},
            {"exponent_assumed", row.exponent_assumed},
            {"connected_share", r.share},
            {"room_c", row.room_c},
            {"room_w", row.room_w},
            {"in_c", row.in_c},
            {"out_c", row.out_c},
            {"excess_k", row.excess_k},
            {"output_factor", row.factor},
            {"gives_w", row.gives_w},
            {"rated_share", row.rated_share},
            {"needs_rated_share", optional_json(row.needs_rated_share)},
            {"needs_rated_w", optional_json(row.needs_rated_w)}};
}

} // namespace

Json emitters_json(const EmittersAnswer &a) {
    Json j = json_head("emitters", a.house);
    j["flow_temperature_c"] = a.flow_temperature_c;
    j["flow_temperature_computed"] = a.temperature_computed;
    j["flow_temperature_set_by"] = a.set_by;
    j["sections"] = Json::array();
    for (std::size_t i = 0; i < a.sections.size(); ++i) {
        Json row = section_json(a.sections[i]);
        row["section"] = section_letter(i);
        j["sections"].push_back(std::move(row));
    }
    j["floors"] = Json::array();
    for (const LoopOutput &row : a.floors)
        j["floors"].push_back(floor_json(row));
    j["radiators"] = Json::array();
    for (const RadiatorOutput &row : a.radiators)
        j["radiators"].push_back(radiator_json(row));
    j["not_described"] = a.not_described;
    j["warnings"] = a.warnings;
    return j;
}

std::string emitters_csv(const EmittersAnswer &a) {
    std::string out =
        csv_record({"emitter", "kind", "needs_c", "standard_needs_c", "standard_w_m2k",
                    "without_film_w_m2k", "conduction_w_m2k", "surface_limit_c",
                    "surface_highest_c", "rated_w", "gives_w", "needs_rated_w"});
    const auto figure = [](const std::optional<double> &value) {
        return value ? number(*value) : std::string();
    };
    for (const LoopOutput &row : a.floors)
        out += csv_record({row.name, "floor loop", number(row.needs_c),
                           figure(row.standard_needs_c), figure(row.standard_w_m2k),
                           number(row.without_film_w_m2k), number(row.conduction_w_m2k),
                           number(row.surface_limit_c), number(row.surface_highest_c), "", "", ""});
    for (const RadiatorOutput &row : a.radiators)
        out += csv_record({row.name, body_name(row.body), "", "", "", "", "", "", "",
                           number(row.radiator.rated_w), number(row.gives_w),
                           figure(row.needs_rated_w)});
    return out;
}

} // namespace headroom::solver
