// A year summed over its outdoor temperatures.
#include "models/cycling.hpp"
#include "solver/questions/season.hpp"
#include "solver/questions/volume.hpp"

namespace headroom::solver {
namespace {

constexpr double w_per_kw = 1000.0;

BinCycle bin_cycle(const StoredHeat &store, double heat_w, double least_w) {
    BinCycle out;
    if (heat_w <= 0.0 || heat_w >= least_w)
        return out;
    const double both_j = store.water_j + store.floor_j;
    if (both_j <= 0.0)
        return out;
    const models::CycleState cycle = models::on_off_cycle(heat_w, least_w, both_j);
    out.starts_per_h = cycle.starts_per_h;
    out.run_s = cycle.run_s;
    out.rest_s = cycle.rest_s;
    if (store.water_j > 0.0)
        out.water_only_starts_per_h =
            models::on_off_cycle(heat_w, least_w, store.water_j).starts_per_h;
    return out;
}

SeasonBin season_bin(const WeatherState &state, double hours) {
    SeasonBin bin;
    bin.outdoor_c = state.outdoor_c;
    bin.hours = hours;
    bin.heat_w = state.water_w;
    bin.given_w = state.water_w - state.source.short_w;
    bin.source_c = state.source_c;
    bin.return_c = state.return_c;
    bin.efficiency = state.source.efficiency;
    bin.input_w = state.source.input_w;
    bin.least_w = state.source.least_w;
    bin.within_rating = state.source.within_rating;
    return bin;
}

// A sum of energies at their rates; nothing where a rate is missing for an energy that is used.
std::optional<double> priced(double electricity_kwh, const std::optional<double> &electricity,
                             double gas_kwh, const std::optional<double> &gas) {
    double sum = 0.0;
    for (const auto &[energy, rate] :
         {std::pair(electricity_kwh, electricity), std::pair(gas_kwh, gas)}) {
        if (energy > 0.0 && !rate)
            return std::nullopt;
        sum += energy * rate.value_or(0.0);
    }
    return sum;
}

} // namespace

std::vector<models::TemperatureBin> season_hours(const networks::House &house) {
    if (!house.year.hours.empty())
        return house.year.hours;
    const auto climate =
        models::heating_climate(house.year.climate.value_or(models::ClimateKind::Average));
    return {climate.bins.begin(), climate.bins.end()};
}

SeasonTotals season_totals(const HeatingHouse &house, const Operation &operation) {
    SeasonTotals out;
    out.fuel_known = house.house.source->kind != networks::Source::Kind::SolidFuel;
    const double held_m3 = held_water_m3(house.house);
    for (const models::TemperatureBin &hours : season_hours(house.house)) {
        const WeatherState state = at_outdoor(house, hours.outdoor_c, operation);
        const double kh = hours.hours / w_per_kw;
        out.need_kwh += state.need_w * kh;
        if (!state.on)
            continue;
        SeasonBin bin = season_bin(state, hours.hours);
        if (!out.fuel_known)
            bin.efficiency = bin.input_w = 0.0;
        bin.cycle =
            bin_cycle(stored_heat(house.house, held_m3, 0.5 * (bin.source_c + bin.return_c)),
                      bin.heat_w, bin.least_w);
        out.hours += hours.hours;
        for (const CircuitState &circuit : state.circuits)
            for (const EmitterState &emitter : circuit.emitters)
                out.room_kwh += emitter.gets_w * kh;
        out.heat_kwh += bin.given_w * kh;
        if (state.source.flattered)
            out.flattered_kwh += bin.given_w * kh;
        out.short_kwh += state.source.short_w * kh;
        (state.source.heat_pump ? out.source_electricity_kwh : out.gas_kwh) += bin.input_w * kh;
        out.starts += bin.cycle.starts_per_h * hours.hours;
        out.bins.push_back(bin);
    }
    out.electricity_kwh = out.source_electricity_kwh;
    if (house.pump_electric_w) {
        out.pump_kwh = *house.pump_electric_w * out.hours / w_per_kw;
        out.electricity_kwh += *out.pump_kwh;
    }
    const double taken = out.source_electricity_kwh + out.gas_kwh;
    if (taken > 0.0) {
        out.seasonal_performance = out.heat_kwh / taken;
        out.performance_with_pumps = out.heat_kwh / (taken + out.pump_kwh.value_or(0.0));
    }
    if (!out.fuel_known)
        return out;
    const networks::Tariff &tariff = house.house.tariff;
    out.cost =
        priced(out.electricity_kwh, tariff.electricity_per_kwh, out.gas_kwh, tariff.gas_per_kwh);
    out.co2_kg =
        priced(out.electricity_kwh, tariff.electricity_kg_kwh, out.gas_kwh, tariff.gas_kg_kwh);
    return out;
}

} // namespace headroom::solver
