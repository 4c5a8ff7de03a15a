#include "solver/questions/heating_circuits.hpp"

#include "solver/heat/emission.hpp"
#include "solver/questions/as_found.hpp"
#include "solver/questions/mixed.hpp"
#include "solver/questions/size.hpp"

#include <algorithm>

namespace headroom::solver {
namespace {

using networks::Emitter;
using networks::Habit;
using networks::House;

std::optional<double> floor_limit(const House &house, const Emitter &emitter) {
    if (emitter.kind != Emitter::Kind::FloorLoop)
        return std::nullopt;
    return floor_limit_c(house, emitter);
}

// The flow temperature on the design day of an emitter that is not described.
double stated_inlet_c(const House &house, const Emitter &emitter, std::size_t index, MixerRun mixer,
                      const AsFound &found) {
    double inlet_c = house.source->flow_temperature_c;
    if (mixer && house.runs[*mixer].mixer->set_c)
        inlet_c = *house.runs[*mixer].mixer->set_c;
    else if (mixer && found.solved)
        inlet_c = found.inlet_c[index];
    if (const auto limit = floor_limit(house, emitter))
        inlet_c = std::min(inlet_c, *limit);
    constexpr double least_excess_k = 1.0; // of the return over the room
    return std::max(inlet_c, emitter.indoor_c + emitter.drop_k + least_excess_k);
}

models::Radiator emission_by_exponent(const House &house, const Emitter &emitter, double inlet_c) {
    models::Radiator emission{};
    emission.rated_w = emitter.room_heat_w;
    emission.exponent =
        house.habits[emitter.kind == Emitter::Kind::FloorLoop ? Habit::FloorExponent
                                                              : Habit::RadiatorExponent];
    emission.rated_flow_c = inlet_c;
    emission.rated_return_c = inlet_c - emitter.drop_k;
    emission.rated_room_c = emitter.indoor_c;
    return emission;
}

// What it needs at its own drop, at the source and where the water reaches it.
struct OwnNeed {
    double flow_c = 0.0;
    double inlet_c = 0.0;
};

CurveEmitter curve_emitter(const House &given, std::size_t index, const OwnNeed &own,
                           MixerRun mixer, const AsFound &found) {
    const Emitter &emitter = given.emitters[index]; // with the drop of the file, not the sized one
    CurveEmitter out{index, emitter.emission, emitter.room_heat_w, own.flow_c, 0.0, 1.0, true};
    double inlet_c = own.inlet_c;
    if (std::holds_alternative<std::monostate>(emitter.emission)) {
        out.described = false;
        out.design_flow_c = stated_inlet_c(given, emitter, index, mixer, found);
        out.emission = emission_by_exponent(given, emitter, out.design_flow_c);
        inlet_c = out.design_flow_c;
    }
    out.inlet_share = (inlet_c - emitter.indoor_c) / (out.design_flow_c - emitter.indoor_c);
    out.most_kg_s = flow_at_drop(out.emission, given.fluid, inlet_c, emitter.indoor_c, out.design_w,
                                 emitter.drop_k);
    return out;
}

// A source that the file does not describe: a share of Carnot or a condensing boiler, large enough
// and modulating down to nothing, so that nothing is made up about its size.
void describe_source(HeatingHouse &out) {
    networks::Source &source = *out.house.source;
    if (!std::holds_alternative<std::monostate>(source.heat))
        return;
    out.source_assumed = true;
    constexpr double large_enough = 3.0;
    const double output_w = large_enough * out.design_w;
    if (source.kind == networks::Source::Kind::HeatPump) {
        models::HeatPump pump;
        pump.rating = models::CarnotRating{output_w, out.house.habits[Habit::CarnotShare]};
        source.heat = pump;
    } else {
        models::Boiler boiler{};
        boiler.greatest_w = output_w;
        source.heat = boiler;
    }
}

void add_limit(HeatingCircuit &circuit, const House &house, const Emitter &emitter) {
    const auto limit = floor_limit(house, emitter);
    if (!limit || (circuit.highest_c && *circuit.highest_c <= *limit))
        return;
    circuit.highest_c = limit;
    circuit.floor_limit_assumed = !emitter.flow_limit_c;
}

HeatingCircuit &circuit_of(HeatingHouse &out, MixerRun mixer) {
    const auto known =
        std::find_if(out.circuits.begin(), out.circuits.end(),
                     [&](const HeatingCircuit &circuit) { return circuit.mixer_run == mixer; });
    if (known != out.circuits.end())
        return *known;
    out.circuits.emplace_back();
    out.circuits.back().mixer_run = mixer;
    out.circuits.back().name = mixer ? out.house.runs[*mixer].to : "unmixed";
    return out.circuits.back();
}

void set_design_temperatures(HeatingHouse &out) {
    for (HeatingCircuit &circuit : out.circuits) {
        for (const CurveEmitter &emitter : circuit.emitters)
            circuit.design_c = std::max(circuit.design_c, emitter.design_flow_c);
        out.needed_c = std::max(out.needed_c, circuit.design_c);
        if (circuit.mixer_run)
            if (const auto set_c = out.house.runs[*circuit.mixer_run].mixer->set_c)
                circuit.design_c = *set_c;
    }
    out.design_source_c = out.house.source->flow_temperature_given
                              ? out.house.source->flow_temperature_c
                              : out.needed_c;
    for (HeatingCircuit &circuit : out.circuits)
        circuit.design_c = circuit.mixer_run ? std::min(circuit.design_c, out.design_source_c)
                                             : out.design_source_c;
    if (out.circuits.size() == 1 && !out.circuits.front().mixer_run)
        out.circuits.front().name = "whole house";
}

} // namespace

HeatingHouse heating_house(const House &given) {
    const Sizing sizing = size(given);
    HeatingHouse out;
    out.house = sizing.house;
    if (!sizing.settled)
        out.unsettled = unsettled_inlets(sizing);
    House with_files_drops = sizing.house;
    for (std::size_t i = 0; i < given.emitters.size(); ++i)
        with_files_drops.emitters[i].drop_k = given.emitters[i].drop_k;
    const AsFound found = as_found(size_as_found(given, sizing).house);
    const std::vector<MixerRun> mixers = mixers_before_emitters(given);
    std::vector<OwnNeed> own(given.emitters.size());
    for (const SizedEmitter &row : sizing.emitters)
        own[row.emitter] = {row.own_flow_c, row.own_inlet_c};
    for (std::size_t i = 0; i < given.emitters.size(); ++i) {
        if (!(given.emitters[i].room_heat_w > 0.0))
            continue;
        const MixerRun mixer = mixers[i];
        HeatingCircuit &circuit = circuit_of(out, mixer);
        circuit.emitters.push_back(curve_emitter(with_files_drops, i, own[i], mixer, found));
        out.design_w += circuit.emitters.back().design_w;
        add_limit(circuit, given, given.emitters[i]);
        if (mixer && !given.runs[*mixer].mixer->set_c && found.solved)
            circuit.found_c = found.inlet_c[i];
    }
    set_design_temperatures(out);
    describe_source(out);
    if (found.solved) {
        out.pump_electric_w = found.electric_w;
        out.pump_efficiency_assumed = found.efficiency_assumed;
        if (given.separator)
            out.primary_kg_s = found.source_kg_s;
    }
    return out;
}

} // namespace headroom::solver
