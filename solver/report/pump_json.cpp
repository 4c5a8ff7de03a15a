// Pumps as JSON and CSV.
#include "solver/report/figures.hpp"
#include "solver/report/pump_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

Json power_json(const PumpPower &power) {
    return {{"hydraulic_w", power.hydraulic_w},
            {"shaft_w", power.shaft_w},
            {"electric_w", power.electric_w},
            {"efficiency", power.efficiency},
            {"efficiency_assumed", power.assumed}};
}

Json point_json(const CirculatorPoint &point) {
    return {{"head_pa", point.head_pa},
            {"rise_pa", point.rise_pa},
            {"speed_share", point.speed},
            {"power", power_json(point.power)},
            {"year_kwh", optional_json(point.year_kwh)}};
}

Json header_json(const HeaderFlows &header) {
    Json j{{"name", header.name},
           {"primary_m3_s", header.primary_m3_s},
           {"secondary_m3_s", header.secondary_m3_s},
           {"through_m3_s", header.through_m3_s},
           {"primary_flow_c", header.primary_flow_c},
           {"secondary_flow_c", header.secondary_flow_c},
           {"secondary_return_c", header.secondary_return_c},
           {"primary_return_c", header.primary_return_c},
           {"through_velocity_m_s", header.velocity_m_s},
           {"whole_velocity_m_s", header.whole_velocity_m_s},
           {"balance", Json()}};
    if (header.balance_pa)
        j["balance"] = {{"head_pa", *header.balance_pa},
                        {"flow_m3_s", header.balance_m3_s},
                        {"available_pa", header.balance_available_pa},
                        {"speed_share", header.balance_speed},
                        {"secondary_flow_c", header.balance_flow_c},
                        {"power", power_json(header.balance_power)}};
    return j;
}

Json setting_json(const CirculatorSetting &setting) {
    Json j{{"verdict", setting.sentence},    {"enough", setting.enough},
           {"flow_m3_s", setting.flow_m3_s}, {"design_flow_m3_s", setting.design_m3_s},
           {"needed_pa", setting.needed_pa}, {"inner_loss_pa", setting.inner_pa}};
    j["balancing_pa"] = setting.balanced_pa > 0.0 ? Json(setting.balanced_pa) : Json();
    j["full_speed"] = point_json(setting.full);
    j["set"] = point_json(setting.set);
    j["throttled_year_kwh"] = optional_json(setting.throttled_kwh);
    return j;
}

} // namespace

Json pump_json(const PumpAnswer &a) {
    Json j = json_head("pump", a.house);
    j["electric_w"] = a.electric_w;
    j["heating_h"] = optional_json(a.heating_h);
    j["year_kwh"] = optional_json(a.year_kwh);
    j["no_year"] = a.no_year;
    j["pumps"] = Json::array();
    for (const PumpReport &pump : a.pumps)
        j["pumps"].push_back({{"where", pump.duty.where},
                              {"mode", pump.duty.mode},
                              {"flow_m3_s", pump.duty.flow_m3_s},
                              {"rise_pa", pump.duty.rise_pa},
                              {"speed_share", pump.duty.speed},
                              {"inlet_pa", pump.duty.inlet_pa},
                              {"inlet_known", pump.duty.inlet_known},
                              {"power", power_json(pump.duty.power)},
                              {"energy_index_share", optional_json(pump.duty.eei)},
                              {"year_kwh", optional_json(pump.year_kwh)}});
    j["one_circulator"] = setting_json(a.setting);
    j["curves"] = Json::array();
    for (const SystemCurve &curve : a.curves) {
        Json points = Json::array();
        for (const SystemPoint &point : curve.points)
            points.push_back({{"flow_m3_s", point.flow_m3_s},
                              {"needs_pa", point.needs_pa},
                              {"full_speed_pa", point.full_pa},
                              {"set_speed_pa", point.set_pa},
                              {"crossing", point.crossing}});
        j["curves"].push_back({{"state", curve.state}, {"points", points}});
    }
    j["candidates"] = Json::array();
    for (const Candidate &candidate : a.candidates)
        j["candidates"].push_back({{"model", candidate.model},
                                   {"enough", candidate.enough},
                                   {"beyond_curve", candidate.beyond_curve},
                                   {"gives_pa", candidate.gives_pa},
                                   {"excess_pa", candidate.excess_pa},
                                   {"speed_share", candidate.speed},
                                   {"full_speed", power_json(candidate.full)},
                                   {"set", power_json(candidate.set)}});
    j["needs"] = Json::array();
    for (const PumpNeed &need : a.needs)
        j["needs"].push_back({{"pump", need.name},
                              {"flow_m3_s", need.flow_m3_s},
                              {"needed_pa", optional_json(need.needed_pa)},
                              {"driven", need.driven},
                              {"setting", need.setting}});
    j["header"] = a.header ? header_json(*a.header) : Json();
    j["header_set"] = a.header_set ? header_json(*a.header_set) : Json();
    j["assumed"] = a.assumed;
    j["remarks"] = a.remarks;
    j["cautions"] = a.cautions;
    j["outcome"] = outcome_json(a.outcome);
    return j;
}

std::string pump_csv(const PumpAnswer &a) {
    std::string out =
        csv_record({"name", "kind", "flow_m3_s", "rise_pa", "speed_share", "inlet_pa",
                    "hydraulic_w", "shaft_w", "electric_w", "efficiency", "year_kwh"});
    for (const PumpReport &pump : a.pumps) {
        const PumpDuty &duty = pump.duty;
        out += csv_record({duty.where, duty.mode, number(duty.flow_m3_s), number(duty.rise_pa),
                           number(duty.speed), number(duty.inlet_pa),
                           number(duty.power.hydraulic_w), number(duty.power.shaft_w),
                           number(duty.power.electric_w), number(duty.power.efficiency),
                           pump.year_kwh ? number(*pump.year_kwh) : ""});
    }
    return out;
}

} // namespace headroom::solver
