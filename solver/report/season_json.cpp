// The season answer as JSON and CSV.
#include "solver/report/season_report.hpp"
#include "solver/report/table.hpp"

namespace headroom::solver {
namespace {

// Nothing is said of what solid fuel comes to.
Json if_known(bool known, double value) {
    return known ? Json(value) : Json(nullptr);
}

Json bin_json(const SeasonBin &bin, bool fuel_known) {
    return {{"outdoor_c", bin.outdoor_c},
            {"time_h", bin.hours},
            {"heat_w", bin.heat_w},
            {"given_w", bin.given_w},
            {"flow_c", bin.source_c},
            {"return_c", bin.return_c},
            {"efficiency", if_known(fuel_known, bin.efficiency)},
            {"input_w", if_known(fuel_known, bin.input_w)},
            {"least_output_w", bin.least_w},
            {"within_rating", bin.within_rating},
            {"starts_per_h", bin.cycle.starts_per_h},
            {"run_s", bin.cycle.run_s},
            {"rest_s", bin.cycle.rest_s},
            {"water_only_starts_per_h", bin.cycle.water_only_starts_per_h}};
}

Json scenario_json(const SeasonScenario &scenario) {
    const SeasonTotals &year = scenario.totals;
    Json j{{"flow_temperature", scenario.name},
           {"heating_h", year.hours},
           {"need_kwh", year.need_kwh},
           {"room_kwh", year.room_kwh},
           {"heat_kwh", year.heat_kwh},
           {"short_kwh", year.short_kwh},
           {"beyond_figures_kwh", year.flattered_kwh},
           {"gas_kwh", if_known(year.fuel_known, year.gas_kwh)},
           {"source_electricity_kwh", year.source_electricity_kwh},
           {"pump_kwh", optional_json(year.pump_kwh)},
           {"electricity_kwh", year.electricity_kwh},
           {"seasonal_performance", if_known(year.fuel_known, year.seasonal_performance)},
           {"performance_with_pumps", if_known(year.fuel_known, year.performance_with_pumps)},
           {"starts", year.starts},
           {"cost", optional_json(year.cost)},
           {"co2_kg", optional_json(year.co2_kg)},
           {"bins", Json::array()}};
    for (const SeasonBin &bin : year.bins)
        j["bins"].push_back(bin_json(bin, year.fuel_known));
    return j;
}

Json point_json(const SeasonAnswer &a, const CurvePoint &point) {
    Json j{{"outdoor_c", point.outdoor_c},
           {"source_c", point.source_c},
           {"return_c", point.return_c},
           {"circuits", Json::array()},
           {"rooms", Json::array()}};
    for (std::size_t i = 0; i < point.circuits.size(); ++i) {
        const CurveCircuit &circuit = point.circuits[i];
        j["circuits"].push_back({{"circuit", a.circuits[i].name},
                                 {"flow_c", circuit.flow_c},
                                 {"return_c", circuit.return_c},
                                 {"hot_share", optional_json(circuit.hot_share)},
                                 {"held_low", circuit.held_low},
                                 {"held_high", circuit.held_high}});
    }
    for (std::size_t i = 0; i < point.room_need_w.size(); ++i)
        j["rooms"].push_back({{"room", a.rooms[i]},
                              {"need_w", point.room_need_w[i]},
                              {"gets_w", point.room_gets_w[i]}});
    return j;
}

Json store_json(const StoredHeat &store) {
    return {{"held_water_m3", store.held_water_m3},
            {"added_water_m3", store.added_water_m3},
            {"water_swing_k", store.water_swing_k},
            {"water_j", store.water_j},
            {"screed_m3", store.screed_m3},
            {"floor_swing_k", store.floor_swing_k},
            {"floor_j", store.floor_j}};
}

} // namespace

Json season_json(const SeasonAnswer &a) {
    Json j = json_head("season", a.house);
    j["source"] = a.heat_pump                      ? "heat_pump"
                  : a.with_curve.totals.fuel_known ? "boiler"
                                                   : "solid_fuel";
    j["climate"] = a.climate;
    j["design_outdoor_c"] = a.design_outdoor_c;
    j["heating_limit_c"] = a.heating_limit_c;
    j["loss_w"] = a.loss_w;
    j["needed_c"] = a.needed_c;
    j["stated_c"] = optional_json(a.stated_c);
    j["currency"] = a.currency;
    j["pump_electric_w"] = optional_json(a.pump_electric_w);
    j["circuits"] = Json::array();
    for (const CircuitInfo &circuit : a.circuits)
        j["circuits"].push_back({{"circuit", circuit.name},
                                 {"mixer", circuit.mixer},
                                 {"design_c", circuit.design_c},
                                 {"highest_c", optional_json(circuit.highest_c)}});
    j["curve"] = Json::array();
    for (const CurvePoint &point : a.curve)
        j["curve"].push_back(point_json(a, point));
    j["ways"] = Json::array();
    for (const SeasonScenario *scenario : {&a.with_curve, &a.turned_down, &a.fixed})
        j["ways"].push_back(scenario_json(*scenario));
    j["turned_down_k"] = turned_down_k;
    j["turned_down_rooms"] = Json::array();
    for (const RoomTurnedDown &room : a.turned_down_rooms)
        j["turned_down_rooms"].push_back({{"room", room.room},
                                          {"wanted_c", room.wanted_c},
                                          {"need_w", room.need_w},
                                          {"gets_w", room.gets_w},
                                          {"settles_c", room.settles_c}});
    j["store"] = store_json(a.store);
    j["assumed"] = Json::array();
    for (const SeasonAssumption &row : a.assumed)
        j["assumed"].push_back({{"what", row.what}, {"value", row.value}});
    j["warnings"] = a.warnings;
    return j;
}

std::string season_csv(const SeasonAnswer &a) {
    std::string out = csv_record({"name", "outdoor_c", "time_h", "heat_w", "given_w", "flow_c",
                                  "return_c", "efficiency", "input_w", "starts_per_h", "run_s"});
    for (const SeasonScenario *scenario : {&a.with_curve, &a.turned_down, &a.fixed})
        for (const SeasonBin &bin : scenario->totals.bins)
            out += csv_record({scenario->name, number(bin.outdoor_c), number(bin.hours),
                               number(bin.heat_w), number(bin.given_w), number(bin.source_c),
                               number(bin.return_c),
                               scenario->totals.fuel_known ? number(bin.efficiency) : "",
                               scenario->totals.fuel_known ? number(bin.input_w) : "",
                               number(bin.cycle.starts_per_h), number(bin.cycle.run_s)});
    return out;
}

} // namespace headroom::solver
