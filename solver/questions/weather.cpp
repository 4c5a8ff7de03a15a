#include "solver/questions/weather.hpp"

#include "solver/heat/emission.hpp"
#include "solver/root.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::House;

constexpr double slack_k = 1e-6; // by which a curve may pass its end unnoticed

double loss_w(const HeatingHouse &house, const CurveEmitter &emitter, double outdoor_c) {
    const double indoor = house.house.emitters[emitter.emitter].indoor_c;
    const double design = indoor - *house.house.outdoor_c;
    return design <= 0.0 ? 0.0 : emitter.design_w * std::max(0.0, indoor - outdoor_c) / design;
}

double need_w(const HeatingHouse &house, const CurveEmitter &emitter, double outdoor_c,
              const Operation &operation) {
    const double limit = heating_limit_c(house.house);
    if (outdoor_c >= limit)
        return 0.0;
    const double lost = loss_w(house, emitter, outdoor_c);
    return operation.free_heat ? std::max(0.0, lost - loss_w(house, emitter, limit)) : lost;
}

// Where water that source or mixer sends at `flow_c` reaches an emitter.
double inlet_c(const HeatingHouse &house, const CurveEmitter &emitter, double flow_c) {
    const double indoor = house.house.emitters[emitter.emitter].indoor_c;
    return indoor + emitter.inlet_share * (flow_c - indoor);
}

// Flow temperature at which an emitter gives `heat_w` at its design day's flow.
double flow_at_design_flow(const HeatingHouse &house, const CurveEmitter &emitter, double heat_w) {
    const double indoor = house.house.emitters[emitter.emitter].indoor_c;
    const auto excess_w = [&](double at_c) {
        return emitter_heat(emitter.emission, house.house.fluid, at_c, indoor, emitter.most_kg_s)
                   .to_room_w -
               heat_w;
    };
    constexpr double hottest_k = 120.0; // above the room
    const double inlet =
        bracketed_root(excess_w, indoor + slack_k, indoor + hottest_k, 1e-7 * heat_w);
    return indoor + (inlet - indoor) / emitter.inlet_share;
}

void set_flow_temperature(const HeatingHouse &house, const HeatingCircuit &circuit,
                          const Operation &operation, double outdoor_c, CircuitState &state) {
    double needed_c = -models::no_limit;
    for (const CurveEmitter &emitter : circuit.emitters)
        if (const double lost = loss_w(house, emitter, outdoor_c); lost > 0.0)
            needed_c = std::max(needed_c, flow_at_design_flow(house, emitter, lost));
    state.on = needed_c > -models::no_limit;
    if (!state.on)
        return;
    state.flow_c = operation.weather_curve ? needed_c + operation.shift_k : circuit.design_c;
    if (!operation.weather_curve)
        return;
    const networks::Year &year = house.house.year;
    if (year.lowest_flow_c && state.flow_c < *year.lowest_flow_c - slack_k) {
        state.flow_c = *year.lowest_flow_c;
        state.held_low = true;
    }
    for (const auto &highest : {year.highest_flow_c, circuit.highest_c})
        if (highest && state.flow_c > *highest + slack_k) {
            state.flow_c = *highest;
            state.held_high = true;
        }
}

// The source sends the warmest circuit's temperature, which is then also that of the circuit
// without mixer, whose floors' limit binds the source.
void meet_at_the_source(const HeatingHouse &house, const Operation &operation,
                        WeatherState &state) {
    double sent_c = -models::no_limit;
    for (const CircuitState &circuit : state.circuits)
        if (circuit.on)
            sent_c = std::max(sent_c, circuit.flow_c);
    if (!operation.weather_curve)
        sent_c = house.design_source_c;
    for (std::size_t i = 0; i < state.circuits.size(); ++i)
        if (const HeatingCircuit &circuit = house.circuits[i];
            operation.weather_curve && !circuit.mixer_run && circuit.highest_c)
            sent_c = std::min(sent_c, *circuit.highest_c);
    for (std::size_t i = 0; i < state.circuits.size(); ++i) {
        CircuitState &circuit = state.circuits[i];
        circuit.flow_c = house.circuits[i].mixer_run ? std::min(circuit.flow_c, sent_c) : sent_c;
    }
    state.source_c = sent_c;
}

void emit(const HeatingHouse &house, const HeatingCircuit &circuit, const Operation &operation,
          double outdoor_c, CircuitState &state) {
    double carried = 0.0; // flow times outlet temperature
    for (std::size_t i = 0; i < circuit.emitters.size(); ++i) {
        const CurveEmitter &emitter = circuit.emitters[i];
        EmitterState &row = state.emitters[i];
        row.need_w = need_w(house, emitter, outdoor_c, operation);
        const double indoor = house.house.emitters[emitter.emitter].indoor_c;
        if (!state.on || row.need_w <= 0.0 || state.flow_c <= indoor)
            continue;
        const double in_c = inlet_c(house, emitter, state.flow_c);
        double flow = flow_for_heat(emitter.emission, house.house.fluid, in_c, indoor,
                                    row.need_w * (1.0 - 1e-6), emitter.most_kg_s);
        if (flow < 0.0)
            flow = emitter.most_kg_s;
        const EmitterHeat heat =
            emitter_heat(emitter.emission, house.house.fluid, in_c, indoor, flow);
        row.gets_w = std::min(heat.to_room_w, row.need_w);
        state.flow_kg_s += flow;
        state.water_w += heat.from_water_w;
        carried += flow * heat.out_c;
    }
    state.on = state.flow_kg_s > 0.0;
    state.return_c = state.on ? carried / state.flow_kg_s : state.flow_c;
}

void run_source(const HeatingHouse &house, WeatherState &state) {
    double drawn = 0.0;
    double carried = 0.0;
    for (CircuitState &circuit : state.circuits) {
        state.water_w += circuit.water_w;
        for (const EmitterState &row : circuit.emitters)
            state.need_w += row.need_w;
        if (!circuit.on)
            continue;
        circuit.hot_share = std::min(1.0, (circuit.flow_c - circuit.return_c) /
                                              (state.source_c - circuit.return_c));
        drawn += circuit.hot_share * circuit.flow_kg_s;
        carried += circuit.hot_share * circuit.flow_kg_s * circuit.return_c;
    }
    state.on = drawn > 0.0;
    if (!state.on)
        return;
    const double back_c = carried / drawn;
    const double primary = house.primary_kg_s.value_or(drawn);
    const double mean_c = 0.5 * (state.source_c + back_c);
    const double drop_k =
        state.water_w /
        (primary * models::fluid_state(house.house.fluid, mean_c).heat_capacity_j_kg_k);
    if (primary < drawn)
        state.source_c = std::max(state.source_c, back_c + drop_k);
    state.return_c = state.source_c - drop_k;
    state.source = source_heat_at(*house.house.source, state.outdoor_c, state.source_c,
                                  state.return_c, state.water_w);
}

} // namespace

double heating_limit_c(const House &house) {
    return house.year.heating_limit_c.value_or(house.habits[networks::Habit::HeatingLimit]);
}

WeatherState at_outdoor(const HeatingHouse &house, double outdoor_c, const Operation &operation) {
    WeatherState state;
    state.outdoor_c = outdoor_c;
    state.circuits.resize(house.circuits.size());
    for (std::size_t i = 0; i < house.circuits.size(); ++i) {
        state.circuits[i].emitters.resize(house.circuits[i].emitters.size());
        if (outdoor_c < heating_limit_c(house.house))
            set_flow_temperature(house, house.circuits[i], operation, outdoor_c, state.circuits[i]);
    }
    if (std::none_of(state.circuits.begin(), state.circuits.end(),
                     [](const CircuitState &circuit) { return circuit.on; }))
        return state;
    meet_at_the_source(house, operation, state);
    for (std::size_t i = 0; i < house.circuits.size(); ++i)
        emit(house, house.circuits[i], operation, outdoor_c, state.circuits[i]);
    run_source(house, state);
    return state;
}

double settles_c(const HeatingHouse &house, const std::string &room, const WeatherState &state) {
    double indoor = state.outdoor_c;
    double warmest = indoor;
    for (std::size_t i = 0; i < house.circuits.size(); ++i)
        for (const CurveEmitter &emitter : house.circuits[i].emitters)
            if (const auto &of = house.house.emitters[emitter.emitter]; of.room == room) {
                indoor = of.indoor_c;
                warmest = std::max(warmest, inlet_c(house, emitter, state.circuits[i].flow_c));
            }
    const auto short_w = [&](double room_c) {
        double balance = 0.0;
        for (std::size_t i = 0; i < house.circuits.size(); ++i)
            for (const CurveEmitter &emitter : house.circuits[i].emitters) {
                if (house.house.emitters[emitter.emitter].room != room)
                    continue;
                balance += loss_w(house, emitter, state.outdoor_c) * (room_c - state.outdoor_c) /
                           (indoor - state.outdoor_c);
                if (const double in_c = inlet_c(house, emitter, state.circuits[i].flow_c);
                    in_c > room_c)
                    balance -= emitter_heat(emitter.emission, house.house.fluid, in_c, room_c,
                                            emitter.most_kg_s)
                                   .to_room_w;
            }
        return balance;
    };
    return bracketed_root(short_w, state.outdoor_c, warmest - slack_k, 1e-6);
}

} // namespace headroom::solver
